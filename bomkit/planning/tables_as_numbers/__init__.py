"""The tables as numbers: how items are planned, what comes from outside, and keys."""
