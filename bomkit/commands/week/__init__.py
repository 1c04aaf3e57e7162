"""The round of a week: planned, taken back, compared."""
