"""Which supply serves which need."""
