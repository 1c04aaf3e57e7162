"""Words of the workbooks of a week, a module a book."""
