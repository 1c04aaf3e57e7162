"""Spares orders, spares to keep, and what aircraft carry."""
