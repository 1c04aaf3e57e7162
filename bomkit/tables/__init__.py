"""Every table, declared once."""
