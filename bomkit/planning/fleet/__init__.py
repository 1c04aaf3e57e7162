"""What the fleet has fitted and falls due for, and in `spares_stock/` what to hold for it."""
