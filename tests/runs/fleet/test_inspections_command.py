"""Coming inspections as the commands show them."""

import json
from pathlib import Path

import openpyxl
import polars as pl
import pytest

from tests.commands import bomkit, written
from tests.inputs.builders import GOOD_FILES

FILES = {
    **GOOD_FILES,
    "items.csv": GOOD_FILES["items.csv"] + "KIT,buy,pc,5\n",
    "fleet.csv": (
        "serial,item,options,delivered,base,hours,hours_per_year\n"
        "KL-001,KELTO,FLOATS,2025-01-15,Eskaholm,90,365.25\nKL-002,KELTO,,2025-02-10,Rovensk,10,100\n"
    ),
    # KL-001: 100 h after ten days; KL-002: two years on 10 February 2027
    "inspection_rules.csv": (
        "item,every_hours,every_months,with_option,note\n"
        "KIT,100,,FLOATS,100-hour inspection\nKIT,,24,,two-year inspection\n"
    ),
}
DUE = [
    ("KL-001", "KIT", "2026-12-10", "hours"),
    ("KL-001", "KIT", "2027-01-15", "months"),
    ("KL-002", "KIT", "2027-02-10", "months"),
]


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return written(tmp_path / "data", FILES)


def run_file(out: Path) -> dict[str, object]:
    return dict(json.loads((out / "run.json").read_text()))


def test_the_overview_and_a_table_tell_what_falls_due(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert bomkit("plan", data, "--out", out).exit_code == 0
    found = pl.read_parquet(out / "tables" / "inspections.parquet")
    assert found["last_done"].null_count() == len(found)
    assert found.drop("last_done").with_columns(pl.col("due_date").cast(pl.String)).rows() == DUE
    book = openpyxl.load_workbook(out / "overview.xlsx")
    rows = [[str(cell) for cell in row] for row in book["Inspections"].iter_rows(values_only=True)]
    assert any("authority's documents" in row[0] for row in rows)
    [first] = [row for row in rows if row[2] == "KL-001" and row[9] == "by hours"]
    assert first[0].startswith("2026-12-10") and first[4] == "100-hour inspection"
    assert first[10] == "no record"
    assert any("--with-inspections" in row[0] for row in rows)


def test_without_the_flag_nothing_is_planned_for_them(data: Path, tmp_path: Path) -> None:
    bomkit("plan", data, "--out", tmp_path / "with")
    (data / "inspection_rules.csv").unlink()
    bomkit("plan", data, "--out", tmp_path / "without")
    for name in ("orders", "needs", "projection"):
        one, two = (tmp_path / run / "tables" / f"{name}.parquet" for run in ("with", "without"))
        assert pl.read_parquet(one).equals(pl.read_parquet(two))
    assert (
        "Inspections" not in openpyxl.load_workbook(tmp_path / "without/overview.xlsx").sheetnames
    )


def test_with_the_flag_they_are_planned_as_forecast(data: Path, tmp_path: Path) -> None:
    plain, more = tmp_path / "plain", tmp_path / "more"
    bomkit("plan", data, "--out", plain)
    assert bomkit("plan", data, "--out", more, "--with-inspections").exit_code == 0
    told, told_more = run_file(plain), run_file(more)
    assert (told["chosen"]["inspections"], told_more["chosen"]["inspections"]) == (False, True)
    assert told["run_id"] != told_more["run_id"]
    needs = pl.read_parquet(more / "tables" / "needs.parquet").filter(pl.col("item") == "KIT")
    assert needs["demand"].to_list() == [f"inspection {serial} {day}" for serial, _, day, _ in DUE]
    forecast = pl.read_parquet(more / "tables" / "forecast.parquet")
    asked = forecast.filter(pl.col("demand_kind") == "inspection")["demand"].to_list()
    assert "inspection KL-001 2026-12-10" in asked


def test_the_flag_needs_a_table(data: Path, tmp_path: Path) -> None:
    (data / "inspection_rules.csv").unlink()
    result = bomkit("plan", data, "--out", tmp_path / "out", "--with-inspections")
    assert result.exit_code == 1
    assert "has no table inspection_rules to plan with" in result.output
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("KIT,,,,,,,", "line 2, column every_hours: say how often"),
        ("KIT,0,,,,,,", "column every_hours: '0'"),
        ("KIT,,12,25,,,,", "column first_hours: '25' goes with every_hours"),
        ("KIT,25,,,3,,,", "column first_months: '3' goes with every_months"),
        ("KIT,25,,,,WHEELS,,", "column with_option: 'WHEELS' is fitted to no aircraft"),
        ("KIT,25,,,,,KL-009,KL-001", "column to_serial: 'KL-001' must not lie before"),
        ("KIT,25,,,,,,last", "column to_serial: 'last' must end in a number"),
    ],
)
def test_what_cannot_be_meant_is_said(data: Path, rows: str, said: str) -> None:
    head = (
        "item,every_hours,every_months,first_hours,first_months,with_option,from_serial,to_serial"
    )
    (data / "inspection_rules.csv").write_text(f"{head}\n{rows}\n")
    assert said in bomkit("check", data).output


def test_an_aircraft_that_does_not_say_is_named(data: Path) -> None:
    (data / "fleet.csv").write_text("serial,item,options,hours\nKL-001,KELTO,FLOATS,\n")
    said = bomkit("check", data).output
    for column in ("hours", "hours_per_year", "delivered"):
        assert f"warning: fleet.csv line 2, column {column}: KL-001 does not say" in said
