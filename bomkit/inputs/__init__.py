"""Files to typed frames: text with true line numbers, then values."""
