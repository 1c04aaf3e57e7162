"""What spares orders may take, and when they can leave."""
