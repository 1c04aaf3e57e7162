"""Serial numbers: ranges that can't be meant, and aircraft both still to be built and delivered."""

from collections.abc import Mapping

import polars as pl

from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding
from bomkit.tables.schema import Tables

CONDITIONAL = ("structure", "inspection_rules")  # tables with options and serial ranges
LONGEST_SERIAL_NUMBER = 15  # digits
_SERIAL = f"^(|.*[^0-9])([0-9]{{1,{LONGEST_SERIAL_NUMBER}}})$"  # prefix and number


def find_bad_serial_ranges(frames: Tables) -> list[Finding]:
    """Serial ranges without a number at the end, with two prefixes, or turned round."""
    return [finding for table in CONDITIONAL for finding in _bad_serial_ranges(frames, table)]


def _bad_serial_ranges(frames: Tables, table: str) -> list[Finding]:
    if are_empty(frames[table], "from_serial", "to_serial"):
        return []
    lines = frames[table].select("row", "from_serial", "to_serial")
    fits = {name: pl.col(name).str.contains(_SERIAL) for name in ("from_serial", "to_serial")}
    message = f"must end in a number of at most {LONGEST_SERIAL_NUMBER} digits, as KL-061 does"
    findings = [
        Finding(table, row, name, serial, message)
        for name, fit in fits.items()
        for row, serial in lines.filter((pl.col(name) != "") & ~fit).select("row", name).iter_rows()
    ]
    ranges = lines.filter(pl.all_horizontal(fits.values())).select(
        "row",
        "from_serial",
        "to_serial",
        prefix=pl.col("from_serial").str.extract(_SERIAL, 1),
        same_prefix=pl.col("from_serial").str.extract(_SERIAL, 1)
        == pl.col("to_serial").str.extract(_SERIAL, 1),
        turned_round=pl.col("from_serial").str.extract(_SERIAL, 2).cast(pl.Int64)
        > pl.col("to_serial").str.extract(_SERIAL, 2).cast(pl.Int64),
    )
    for row, first, last, prefix, same_prefix, turned_round in ranges.iter_rows():
        if not same_prefix:
            message = f"must start like from_serial {first}, with '{prefix}'"
            findings.append(Finding(table, row, "to_serial", last, message))
        elif turned_round:
            message = f"must not lie before from_serial {first}; the line would never be used"
            findings.append(Finding(table, row, "to_serial", last, message))
    return findings


def find_built_and_delivered(texts: Mapping[str, TextTable], frames: Tables) -> list[Finding]:
    """Serial numbers that stand in the build plan and in the fleet."""
    if frames["fleet"].is_empty() or frames["build_plan"].is_empty():
        return []
    fleet = frames["fleet"].group_by("serial").agg(fleet_row=pl.col("row").min())
    both = (
        frames["build_plan"]
        .filter(pl.col("serial") != "")
        .select("row", "serial")
        .join(fleet, on="serial")
        .sort("row")
    )
    word = "row" if texts["fleet"].source.sheet else "line"
    return [
        Finding(
            "build_plan",
            row,
            "serial",
            serial,
            f"is in the fleet as well ({word} {fleet_row}); "
            "an aircraft is either still to be built or delivered",
        )
        for row, serial, fleet_row in both.iter_rows()
    ]


def are_empty(frame: pl.DataFrame, *columns: str) -> bool:
    """Whether no cell of these columns says anything, as in nearly every table it is about."""
    return all((frame[name] == "").all() for name in columns)
