"""The parts, stock and orders of the invented sample aircraft, one module an area."""
