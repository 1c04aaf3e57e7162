"""Where a run is written, whole or not at all, and read again."""
