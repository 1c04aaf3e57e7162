"""Text to values of a column's kind: dates, numbers, choices, names."""
