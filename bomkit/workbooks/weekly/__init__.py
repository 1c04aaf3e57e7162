"""The workbooks of a week."""
