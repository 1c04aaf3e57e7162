"""The buyer's desk: open orders that should move, whom to order from, and what is paid when."""
