"""How near two quantities are the same."""

TOLERANCE = 1e-9  # relative; quantities closer than this count as equal
