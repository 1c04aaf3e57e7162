"""Tables out of a workbook, a sheet a table."""
