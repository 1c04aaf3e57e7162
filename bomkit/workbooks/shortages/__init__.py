"""The shortages workbook."""
