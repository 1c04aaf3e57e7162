"""Words on what is wrong or doubtful, and what to do about it."""
