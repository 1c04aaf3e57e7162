"""When each order can be there, and what holds it up."""
