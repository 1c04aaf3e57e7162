"""What the tables must hold beyond one row at a time."""
