"""How large an order is: minimum, multiple, whole pieces, or what costs the least."""
