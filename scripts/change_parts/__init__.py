"""What scripts/try_changes.py knows of changes that nobody can see."""
