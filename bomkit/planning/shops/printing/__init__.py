"""Printers: what is printed where, plate by plate."""
