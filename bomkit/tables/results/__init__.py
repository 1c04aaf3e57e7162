"""The tables that a run works out, a module a subject."""
