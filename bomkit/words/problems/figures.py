"""Figures among words as people write them: no exponents, no last bits, nothing between digits."""

from decimal import Decimal

LEAST_IN_WORDS = 0.0005  # what three decimals still show


def as_typed(value: float) -> str:
    """A figure with all of its digits, as it would be typed into a cell."""
    return f"{Decimal(f'{value:.15g}'):f}"


def amount(value: float) -> str:
    """A quantity with up to three decimals, as lists print it; never nothing where there is some.

    Nothing stands between thousands, so that it can be typed as it is read.
    """
    if 0 < abs(value) < LEAST_IN_WORDS:
        return as_typed(float(f"{value:.1g}"))
    return f"{value:.3f}".rstrip("0").rstrip(".")


def more_or_less(value: float) -> str:
    """By how much there is more or less, with its sign and commas between thousands."""
    if 0 < abs(value) < LEAST_IN_WORDS:
        return f"{'+' if value > 0 else ''}{amount(value)}"
    return f"{value:+,.3f}".rstrip("0").rstrip(".")
