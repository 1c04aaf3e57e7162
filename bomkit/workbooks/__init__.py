"""Workbooks: the frames of a finished plan to sheets, and sheets to files."""
