"""What the fleet uses, falls due for and should hold."""
