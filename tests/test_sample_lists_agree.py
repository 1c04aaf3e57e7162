"""On the full-size sample every list says the same of the same part, airframe and order."""

from collections import defaultdict
from typing import Any

import polars as pl
import pytest
from openpyxl import load_workbook

from bomkit.runs.week.plan import Run

Row = dict[str, Any]
SPARES = ("grounded", "routine")


@pytest.fixture(scope="module")
def pegs(full_run: Run) -> list[Row]:
    """Who gets what."""
    return full_run.report["pegs"].to_dicts()


def test_what_is_packed_is_what_the_pegs_give(full_run: Run, pegs: list[Row]) -> None:
    pegged: dict[tuple[str, str, str], float] = defaultdict(float)
    for row in pegs:
        packed = row["from_order"] == "" or row["from_order"].startswith("pack-")
        if row["demand_kind"] in SPARES and packed and row["supply_kind"] == "stock":
            pegged[row["demand"], row["item"], row["supply"]] += row["quantity"]
    taken: dict[tuple[str, str, str], float] = defaultdict(float)
    for row in full_run.report["packing"].to_dicts():
        if row["state"] == "take":
            taken[row["order"], row["part"], row["lot"]] += row["quantity"]
    assert taken
    for place, quantity in taken.items():
        assert abs(pegged[place] - quantity) < 1  # whole pieces alone are packed


def test_what_waits_comes_with_an_order_that_is_pegged_to_it(
    full_run: Run, pegs: list[Row]
) -> None:
    comes: dict[tuple[str, str, str], set[Any]] = defaultdict(set)
    for row in pegs:
        if row["demand_kind"] in SPARES:
            comes[row["demand"], row["item"], row["supply"]].add(row["comes"])
    waiting = full_run.report["packing"].filter(pl.col("state") == "wait").to_dicts()
    assert waiting
    for row in waiting:
        assert row["can_take"] in comes[row["order"], row["part"], row["supply"]]


def test_promises_are_late_by_as_much_as_the_forecast_says(full_run: Run) -> None:
    forecast = {
        (row["demand"], row["serial"]): row["late_days"]
        for row in full_run.report["forecast"].to_dicts()
        if row["demand_kind"] in SPARES
    }
    latest: dict[tuple[str, str], int] = {}
    for row in full_run.report["promises"].to_dicts():
        whose = (row["order"], row["serial"])
        latest[whose] = max(latest.get(whose, 0), row["late_days"])
    assert latest == {whose: forecast[whose] for whose in latest}


def test_airframes_and_promises_of_the_workbook_are_those_of_the_tables(full_run: Run) -> None:
    book = load_workbook(full_run.out / "shortages.xlsx", read_only=True)
    late = {
        row["demand"]: row["late_days"]
        for row in full_run.report["forecast"].to_dicts()
        if row["demand_kind"] == "airframe" and row["late_days"]
    }
    shown = {}
    for row in book["Airframes"].iter_rows(values_only=True):
        if row[0] in late:
            shown[row[0]] = [value for value in row if value == late[row[0]]]
    assert late.keys() == shown.keys()
    assert all(shown.values())


def test_a_part_that_a_pick_list_waits_for_is_missing_in_the_shortages(
    full_run: Run, pegs: list[Row]
) -> None:
    late = {(row["item"], row["demand"]) for row in pegs if row["late_days"] > 0}
    book = load_workbook(full_run.out / "shortages.xlsx", read_only=True)
    words = {
        str(value)
        for sheet in book.worksheets
        for row in sheet.iter_rows(values_only=True)
        for value in row
        if value is not None
    }
    assert late
    assert {item for item, _ in late} <= words
