"""Questions that leave everything as it is."""
