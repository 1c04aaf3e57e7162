"""A mould is worn and nothing takes its place: what waits for it has no date, on no list."""

import datetime as dt
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest

from bomkit.tables.schema import Tables
from bomkit.tables.shared_columns import NEVER
from tests.commands import bomkit, written

FILES = {
    "items.csv": "item,description,source,process,unit,lead_days,hours_each\n"
    "kelto,Kelto,make,assemble,pc,3,4\nskin,Wing skin,make,lay-up,pc,1,7\n"
    "cloth,Cloth,buy,,m2,5,\n",
    "structure.csv": "parent,child,quantity\nkelto,skin,1\nskin,cloth,2\n",
    "build_plan.csv": "serial,item,ready_date\nKL-1,kelto,2026-12-09\nKL-2,kelto,2026-12-16\n",
    "stock.csv": "item,quantity,location\ncloth,9,A1\n",
    "moulds.csv": "mould,item,pulls_per_week,pulls_left\nM1,skin,9,1\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\nlist_weeks = 4\n",
}
SKIN, KELTO = "make-0003", "make-0004"  # of KL-2


@pytest.fixture(scope="module")
def worn(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    """What the command says of two airframes with one pull left, and the folder of the run."""
    place = tmp_path_factory.mktemp("worn")
    out = place / "run"
    done = bomkit("plan", written(place / "tables", FILES), "--out", out, "--pick-sheets")
    assert done.exit_code == 0, done.output
    return done.output, out


def results(out: Path, *names: str) -> Tables:
    return {name: pl.read_parquet(out / "tables" / f"{name}.parquet") for name in names}


def row_of(out: Path, book: str, sheet: str, first: str) -> list[Any]:
    """The row of a sheet in which a value stands, from that value on."""
    for row in openpyxl.load_workbook(out / book)[sheet].iter_rows(values_only=True):
        if first in row:
            return list(row[row.index(first) :])
    raise AssertionError(f"{first} is not on {sheet}")


def test_no_day_stands_in_the_tables_where_nothing_comes(worn: tuple[str, Path]) -> None:
    tables = results(worn[1], "forecast", "pegs", "ready", "pacing")
    forecast = tables["forecast"].select("demand", "earliest_date", "late_days")
    assert forecast.rows() == [("KL-1", dt.date(2026, 12, 4), 0), ("KL-2", None, NEVER)]
    pegs = tables["pegs"].filter(demand="KL-2").select("item", "comes", "late_days")
    assert pegs.filter(pl.col("item") != "cloth").unique().sort("item").rows() == [
        ("kelto", None, NEVER),
        ("skin", None, NEVER),
    ]
    ready = tables["ready"].filter(pl.col("order").is_in([SKIN, KELTO]))
    assert ready.select("item", "can_start", "waits_for").sort("item").rows() == [
        ("kelto", None, "skin"),
        ("skin", None, ""),
    ]
    chain = tables["pacing"].filter(demand="KL-2").select("item", "start_date", "finish_date")
    assert chain.rows() == [("skin", None, None), ("kelto", None, None)]


def test_the_screen_says_that_there_is_no_date(worn: tuple[str, Path]) -> None:
    assert f"    no date  KL-2: skin ({SKIN}, 1 d) > kelto ({KELTO}, 3 d)\n" in worn[0]


def test_the_lists_say_that_there_is_no_date_and_why(worn: tuple[str, Path]) -> None:
    out = worn[1]
    no_mould = "has no mould, and no replacement is planned"
    airframe = row_of(out, "shortages.xlsx", "Airframes", "KL-2")
    assert airframe[2:4] == ["no date", None]
    assert airframe[7] == f"Wing skin: skin ({SKIN}, 1 d), {no_mould}"
    assert row_of(out, "shortages.xlsx", "By shop", SKIN)[2:4] == ["no date", None]
    starts = row_of(out, "shortages.xlsx", "Ready to start", SKIN)
    assert (starts[4], starts[6]) == ("no date", no_mould)
    chain = openpyxl.load_workbook(out / "shortages.xlsx")["KL-2"]
    told = [cell for row in chain.iter_rows(values_only=True) for cell in row]
    assert f"{SKIN}: 1 days, no date, {no_mould}" in told
    assert f"{KELTO}: 3 days, no date" in told
    assert row_of(out, "overview.xlsx", "Board", "KL-2")[2:4] == ["no date", "▲"]
    headline = "First of all: airframes late by the forecast: 1. The latest, KL-2: no date"
    assert row_of(out, "overview.xlsx", "Board", f"{headline}, held up by skin.")


def test_no_list_names_a_day_past_all_days_or_a_million(worn: tuple[str, Path]) -> None:
    last = dt.datetime(2026, 12, 28)
    for path in worn[1].rglob("*.xlsx"):
        for sheet in openpyxl.load_workbook(path):
            for row in sheet.iter_rows(values_only=True):
                for cell in row:
                    assert not (isinstance(cell, dt.datetime) and cell > last), (path, row)
                    assert not (isinstance(cell, float | int) and cell > NEVER / 2), (path, row)
                    assert "999" not in str(cell) or "bomkit" in str(cell), (path, row)
                    assert not (isinstance(cell, str) and "None" in cell), (path, row)


def test_why_says_that_there_is_no_date(worn: tuple[str, Path]) -> None:
    said = bomkit("why", worn[1], "skin").output
    assert f"{SKIN}, skin: 1 pc from 2026-12-10, due 2026-12-11, no date\n" in said
    assert f"└── 2026-12-11  {KELTO}, kelto KL-2  1 pc  ▲ no date\n" in said
    above = bomkit("why", worn[1], "kelto", "--serial", "KL-2").output
    assert f"└── {SKIN}, skin: 1 pc from 2026-12-10, due 2026-12-11  ▲ no date\n" in above
