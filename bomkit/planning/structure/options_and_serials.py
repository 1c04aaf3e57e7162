"""Which items are planned by serial number, and which structure lines a serial number has."""

import re
from collections.abc import Iterable

import polars as pl

from bomkit.planning.tables_as_numbers.frame_columns import ACTIVE

CONDITIONS = ("with_option", "without_option", "from_serial", "to_serial")
NO_CONDITION = {name: pl.lit("") for name in CONDITIONS}
CONDITIONAL = pl.any_horizontal(pl.col(name) != "" for name in CONDITIONS)


def option_names(cell: str) -> frozenset[str]:
    """The options named in a cell, separated by spaces, commas or semicolons."""
    return frozenset(filter(None, re.split(r"[\s,;]+", cell)))


def serial_number(serial: str) -> tuple[str, int | None]:
    """The prefix and the number at the end of a serial; None without a number."""
    digits = re.search(r"[0-9]*$", serial)
    assert digits is not None
    prefix = serial[: digits.start()]
    return prefix, int(digits.group()) if digits.group() else None


def serial_specific_items(structure: pl.DataFrame, build_plan: pl.DataFrame) -> pl.Series:
    """Names of the items planned separately for each serial number, sorted.

    An item is if it stands in the build plan, any line of it is conditional, or any child of it is.
    structure: parent, child and the condition columns; build_plan: item.
    """
    specific = set(build_plan["item"]) | set(structure.filter(CONDITIONAL)["parent"])
    fresh = specific
    while fresh:
        below = pl.Series(list(fresh), dtype=pl.String).implode()
        fresh = set(structure.filter(pl.col("child").is_in(below))["parent"]) - specific
        specific = specific | fresh
    return pl.Series("item", sorted(specific), pl.String)


def fits(condition: tuple[str, str, str, str], serial: str, options: frozenset[str]) -> bool:
    """Whether a line's condition (its four condition columns) holds for a serial number."""
    with_option, without_option, from_serial, to_serial = condition
    if not option_names(with_option) <= options or option_names(without_option) & options:
        return False
    prefix, number = serial_number(serial)
    for bound, beyond in ((from_serial, -1), (to_serial, 1)):
        if bound:
            bound_prefix, bound_number = serial_number(bound)
            if prefix != bound_prefix or number is None or bound_number is None:
                return False
            if (number - bound_number) * beyond > 0:
                return False
    return True


def active_conditions(
    conditions: pl.DataFrame, serials: Iterable[tuple[int, str, str]]
) -> pl.DataFrame:
    """The pairs of condition and serial that hold, by their numbers: condition, serial_id.

    conditions: condition (number) and the condition columns; serials: number, name, options.
    """
    named = [(number, name, option_names(options)) for number, name, options in serials if name]
    rows = [
        (condition, number)
        for condition, *texts in conditions.select("condition", *CONDITIONS).iter_rows()
        for number, name, options in named
        if fits((texts[0], texts[1], texts[2], texts[3]), name, options)
    ]
    return pl.DataFrame(rows, schema=ACTIVE, orient="row")
