"""What people filled into the workbooks of a run."""
