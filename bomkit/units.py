"""Units of measure, their dimensions and the factors between them; how near is the same.

Units are named as the trade writes them; the common codes of UN/ECE Recommendation 20 are given
beside each. Factors are exact by the definition of the metric prefixes.
"""

import polars as pl

# unit: (dimension, factor to the first unit of the dimension, UN/ECE Recommendation 20 code)
UNITS: dict[str, tuple[str, float, str]] = {
    "pc": ("pieces", 1.0, "H87"),
    "m": ("length", 1.0, "MTR"),
    "cm": ("length", 0.01, "CMT"),
    "mm": ("length", 0.001, "MMT"),
    "m2": ("area", 1.0, "MTK"),
    "kg": ("mass", 1.0, "KGM"),
    "g": ("mass", 0.001, "GRM"),
    "l": ("volume", 1.0, "LTR"),
    "ml": ("volume", 0.001, "MLT"),
}

TOLERANCE = 1e-9  # relative; quantities closer than this count as equal

# What is counted in these is always whole.
WHOLE_UNITS = ("pc",)

_DECIMALS = {"pieces": 0, "mass": 3, "volume": 3}  # by dimension; two of all others


def decimals(unit: str) -> int:
    """How many decimals lists show of a quantity in a unit."""
    return _DECIMALS.get(UNITS[unit][0], 2)


def dimension(unit: pl.Expr) -> pl.Expr:
    """The dimension of each unit; null for an unknown unit."""
    return unit.replace_strict({name: kind for name, (kind, _, _) in UNITS.items()}, default=None)


def size(unit: pl.Expr) -> pl.Expr:
    """The size of each unit in the first unit of its dimension; null for an unknown unit."""
    return unit.replace_strict(
        {name: factor for name, (_, factor, _) in UNITS.items()},
        default=None,
        return_dtype=pl.Float64,
    )
