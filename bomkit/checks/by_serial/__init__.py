"""What must hold of serial numbers: their ranges, what fits them, what goes to them."""
