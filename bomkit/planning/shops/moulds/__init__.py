"""Moulds: how they wear, what they give, and the days without them."""
