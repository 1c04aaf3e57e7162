"""How a week is closed: what people filled in is booked, and every piece accounted for."""
