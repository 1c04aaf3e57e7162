"""The overview workbook."""
