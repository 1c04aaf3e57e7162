"""The user's own tables: begun, checked, turned and added to."""
