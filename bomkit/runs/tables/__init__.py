"""The user's own tables: turned from one form to another, and added to."""
