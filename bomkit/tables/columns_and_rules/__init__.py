"""The tables that people type in, a module a subject."""
