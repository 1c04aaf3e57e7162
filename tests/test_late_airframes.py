"""The pacing chains of the full-size sample, walked link by link through the tables.

What a person with the result tables and the items at hand would do: look up each order, add its
lead time, find the peg that ties it to the next one. Then the first link is mended and the plan
made again.
"""

import csv
import datetime as dt
from dataclasses import replace
from itertools import pairwise

import polars as pl
import pytest

from bomkit.checks.everything import Inputs
from bomkit.runs.checked_tables import checked_inputs
from bomkit.runs.week import plan as batch
from bomkit.tables.results.finished_plan import Choices
from bomkit.words.progress import silent
from tests.once import once
from tests.samples import FENLARK as SAMPLE

Tables = dict[str, pl.DataFrame]


def rows_of(name: str) -> list[dict[str, str]]:
    """The rows of one of the sample's tables."""
    with (SAMPLE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def planned(inputs: Inputs) -> Tables:
    """The result tables of a plan."""
    report = batch.planned(inputs, Choices(level=False), silent)
    return {name: report[name] for name in ("forecast", "pacing", "pegs")}


@pytest.fixture(scope="module")
def inputs() -> Inputs:
    """The sample's tables."""
    return checked_inputs(SAMPLE)[0]


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory, inputs: Inputs) -> Tables:
    """The result tables of the sample."""
    return once(tmp_path_factory, "unlevelled-tables", lambda folder: planned(inputs))


def later(start: dt.date, days: int) -> dt.date:
    """The working day some working days after another one."""
    closed = {dt.date.fromisoformat(row["date"]) for row in rows_of("calendar")}
    day, step = start, 1 if days >= 0 else -1
    while days:
        day += dt.timedelta(days=step)
        if day.weekday() < 5 and day not in closed:
            days -= step
    return day


def late_airframes(tables: Tables) -> list[str]:
    """The airframes that the forecast calls late, the latest first."""
    late = tables["forecast"].filter(
        (pl.col("demand_kind") == "airframe") & (pl.col("late_days") > 0)
    )
    return late.sort("late_days", "demand", descending=[True, False])["demand"].to_list()


def chain_of(tables: Tables, serial: str) -> list[dict[str, object]]:
    """The links of an airframe's chain, what comes first in front."""
    return tables["pacing"].filter(pl.col("demand") == serial).sort("step").to_dicts()


def test_every_link_of_every_late_airframe_holds(tables: Tables) -> None:
    lead = {row["item"]: int(row["lead_days"] or 0) for row in rows_of("items")}
    due = {(row["order"], row["item"]): row["due_date"] for row in rows_of("open_orders")}
    serials = late_airframes(tables)
    assert len(serials) >= 3
    for serial in serials:
        chain = chain_of(tables, serial)
        assert chain[-1]["item"] == "FENLARK"
        for link in chain:
            if link["supply_kind"] == "open order" and not link["days"]:
                assert str(link["finish_date"]) == due[link["supply"], link["item"]]
            if link["supply_kind"] == "planned order":
                assert link["days"] == lead[str(link["item"])]
                assert isinstance(link["start_date"], dt.date)
                assert later(link["start_date"], lead[str(link["item"])]) == link["finish_date"]
        for first, second in pairwise(chain):
            tied = tables["pegs"].filter(
                (pl.col("item") == first["item"])
                & (pl.col("supply") == first["supply"])
                & (pl.col("need") == second["supply"])
            )
            assert len(tied), f"{serial}: {first['supply']} does not serve {second['supply']}"
            assert isinstance(first["finish_date"], dt.date)
            assert (
                later(first["finish_date"], -int(str(first["needed_after"])))
                == (second["start_date"])
            )
        forecast = tables["forecast"].filter(pl.col("demand") == serial).row(0, named=True)
        assert chain[-1]["finish_date"] == forecast["earliest_date"]
        assert later(forecast["ready_date"], forecast["late_days"]) == forecast["earliest_date"]


def mended(inputs: Inputs, item: str, serial: str, quantity: float) -> Inputs:
    """The tables with so much more of an item in stock.

    Its moulds last: where its order comes first in a chain, and it has one that wears, the mould
    may be what it waits for.
    """
    stock, moulds = inputs.tables["stock"], inputs.tables["moulds"]
    usual = stock.filter(pl.col("expires").is_null(), status="usable", lot="", reason="").head(1)
    row = usual.with_columns(
        item=pl.lit(item), serial=pl.lit(serial), quantity=pl.lit(quantity), location=pl.lit("")
    )
    worn = (pl.col("item") == item) & pl.col("pulls_left").is_not_null()
    changed = {
        "stock": pl.concat([stock, row]),
        "moulds": moulds.with_columns(pulls_left=pl.when(worn).then(500.0).otherwise("pulls_left")),
    }
    return replace(inputs, tables={**inputs.tables, **changed})


def test_mending_the_first_link_improves_the_date_or_names_the_next_one(
    inputs: Inputs, tables: Tables
) -> None:
    for serial in late_airframes(tables)[:3]:
        first = chain_of(tables, serial)[0]
        before = tables["forecast"].filter(pl.col("demand") == serial).row(0, named=True)
        needed = (
            tables["pegs"]
            .filter((pl.col("supply") == first["supply"]) & (pl.col("item") == first["item"]))[
                "quantity"
            ]
            .sum()
        )
        again = planned(mended(inputs, str(first["item"]), str(first["serial"]), needed))
        after = again["forecast"].filter(pl.col("demand") == serial).row(0, named=True)
        improved = after["earliest_date"] < before["earliest_date"]
        assert after["earliest_date"] <= before["earliest_date"]
        assert improved or chain_of(again, serial)[0]["item"] != first["item"]
