"""Pick lists: rounds, cart lists, sheets of an order, and what they share."""
