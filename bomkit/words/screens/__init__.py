"""Words that commands print."""
