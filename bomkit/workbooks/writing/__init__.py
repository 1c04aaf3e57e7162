"""Descriptions of sheets, and their bytes."""
