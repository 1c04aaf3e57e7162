"""What goes into what: conditions, levels, lines, and what follows from them."""
