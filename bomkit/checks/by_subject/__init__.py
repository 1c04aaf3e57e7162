"""Checks of one subject each; `between_tables.py` or `tables_as_a_whole.py` above calls them."""
