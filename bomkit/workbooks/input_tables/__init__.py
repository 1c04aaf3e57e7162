"""Workbooks that people fill in: the input tables as sheets."""
