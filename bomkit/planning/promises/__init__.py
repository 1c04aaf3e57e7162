"""What is packed for spares orders, read off the pegs, and when they can leave."""
