"""What a plan does otherwise than the one before it."""
