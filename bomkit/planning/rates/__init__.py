"""The build plan at other rates."""
