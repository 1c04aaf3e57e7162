"""How many of each part to hold for what the fleet uses; `holdings.py` is the way in."""
