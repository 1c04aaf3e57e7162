"""What to ask suppliers and shops for: open orders that should move."""
