"""bomkit spares as a person types it."""

from math import exp
from pathlib import Path

import openpyxl
import pytest
from click.testing import Result

from tests.commands import bomkit, written
from tests.inputs.builders import GOOD_FILES

FILES = {
    **GOOD_FILES,
    "items.csv": (
        "item,source,unit,lead_days,cost,mass_g\n"
        "KELTO,make,pc,10,,\nWING,make,pc,5,400,9000\n00123,buy,kg,20,3,\n"
        "TYRE,buy,pc,15,90,2400\nPLUG,buy,pc,8,4.5,35\nFORK,buy,pc,20,,\n"
    ),
    "structure.csv": (
        "parent,child,quantity\nKELTO,WING,2\nWING,00123,1.5\nKELTO,TYRE,2\nKELTO,PLUG,4\nKELTO,FORK,1\n"
    ),
    "fleet.csv": (
        "serial,item,options,hours_per_year\nKL-001,KELTO,,200\nKL-002,KELTO,,\nKL-003,KELTO,,100\n"
    ),
    "usage.csv": "item,per_1000_hours,per_year\nTYRE,4,\nPLUG,40,\nFORK,,0.1\n00123,1,\n",
    "stock.csv": "item,quantity\nPLUG,1\n",
}


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return written(tmp_path / "data", FILES)


def spares(data: Path, out: Path, *words: str) -> Result:
    """The result of a command line."""
    return bomkit("spares", data, "--out", out, *words)


def column_of(out: Path, heading: str, sheet: str = "Keep") -> dict[str, object]:
    """A column of a sheet by part, its heading row found by its first words."""
    rows = list(openpyxl.load_workbook(out)[sheet].iter_rows(values_only=True))
    top = next(number for number, row in enumerate(rows) if heading in row)
    place, parts = rows[top].index(heading), rows[top].index("Part")
    return {str(row[parts]): row[place] for row in rows[top + 1 :]}


def test_spares_writes_what_to_keep_and_tells_it(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "spares.xlsx"
    result = spares(data, out)
    assert result.exit_code == 0, result.output
    # 450 hours a year: 18 plugs, of which 0.55 in 8 working days; P(X <= 2) is 0.982;
    # 0.023 forks in 20 days: none is asked for with a chance of 0.977
    assert column_of(out, "Keep") == {"TYRE": 1, "PLUG": 2, "FORK": 0}
    assert column_of(out, "Missing") == {"TYRE": 1, "PLUG": 1, "FORK": 0}
    tyres, forks = (use * days / (5 * 52.18) for use, days in ((1.8, 15), (0.3, 20)))
    backorders = column_of(out, "Expected backorders")
    assert backorders["FORK"] == pytest.approx(forks, abs=1e-6)  # none is held
    assert backorders["TYRE"] == pytest.approx(tyres - 1 + exp(-tyres), abs=1e-6)
    assert column_of(out, "Use a year") == pytest.approx({"TYRE": 1.8, "PLUG": 18, "FORK": 0.3})
    assert "00123: is measured, not counted in pieces" in result.output
    assert "KL-002: taken to fly as much" in result.output
    assert "documents rule" in result.output


def test_the_sheet_carries_the_caution_and_the_curve_a_chart(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "spares.xlsx"
    assert spares(data, out).exit_code == 0
    book = openpyxl.load_workbook(out)
    assert book.sheetnames == ["Keep", "Assurance", "Left out"]
    words = [str(cell.value) for row in book["Keep"].iter_rows(max_row=12) for cell in row]
    assert any("statistical proposal" in cell and "documents rule" in cell for cell in words)
    [chart] = book["Assurance"]._charts  # type: ignore[attr-defined]
    row = str(book["Assurance"].print_title_rows).split("$")[-1]
    assert [series.tx.strRef.f for series in chart.series] == [
        f"'Assurance'!$B${row}",
        f"'Assurance'!$C${row}",
    ]
    assert book["Assurance"][f"B{row}"].value == "Chance that no part is out"


def test_a_budget_leaves_out_what_has_no_cost(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "spares.xlsx"
    result = spares(data, out, "--budget", "100")
    assert result.exit_code == 0, result.output
    assert "left out: FORK: has no cost in items" in result.output
    lacking, costs = column_of(out, "Missing"), column_of(out, "Cost of what is missing")
    assert lacking["TYRE"] == 1 and lacking["PLUG"] == 2
    assert sum(float(str(cost)) for cost in costs.values()) <= 100


def test_a_tour_packs_for_its_aircraft_and_days(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "kit.xlsx"
    words = ("--serials", "KL-001, KL-003", "--days", "30", "--mass-kg", "3")
    result = spares(data, out, *words)
    assert result.exit_code == 0, result.output
    assert "Parts for a tour · KL-001, KL-003 · 30 days" in result.output
    assert column_of(out, "Aircraft that have it")["TYRE"] == 2
    assert sum(float(str(mass)) for mass in column_of(out, "Mass kept, kg").values()) <= 3
    assert "FORK: has no mass_g in items" in result.output


def test_the_same_tables_give_the_same_bytes_and_another_question_another_run(
    data: Path, tmp_path: Path
) -> None:
    first, second, other = (tmp_path / f"{name}.xlsx" for name in ("one", "two", "three"))
    spares(data, first)
    spares(data, second)
    spares(data, other, "--assure", "0.9")
    assert first.read_bytes() == second.read_bytes()
    ids = {path: openpyxl.load_workbook(path).properties.title for path in (first, other)}
    assert ids[first] != ids[other]


@pytest.mark.parametrize(
    "words",
    [
        ("--assure", "1"),
        ("--assure", "0"),
        ("--assure", "much"),
        ("--measure", "hope"),
        ("--budget", "1", "--mass-kg", "1"),
        ("--budget", "-1"),
        ("--days", "30"),
        ("--serials", "KL-001"),
        ("--serials", "KL-001", "--days", "0"),
    ],
)
def test_wrong_usage_ends_with_2(data: Path, tmp_path: Path, words: tuple[str, ...]) -> None:
    assert spares(data, tmp_path / "spares.xlsx", *words).exit_code == 2
    assert spares(data, tmp_path / "spares.csv").exit_code == 2


def test_an_unknown_serial_is_named_with_the_nearest(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "kit.xlsx"
    result = spares(data, out, "--serials", "KL-001,KL-O03", "--days", "30")
    assert result.exit_code == 1
    assert "'KL-O03' is no serial number of fleet; did you mean" in result.output
    assert not out.exists()


@pytest.mark.parametrize(
    ("missing", "said"),
    [
        (("fleet.csv",), "has no fleet; list the aircraft delivered"),
        (("usage.csv",), "says of no part how often it is used"),
    ],
)
def test_what_is_needed_and_missing_is_said(
    data: Path, tmp_path: Path, missing: tuple[str, ...], said: str
) -> None:
    for name in missing:
        (data / name).unlink()
    result = spares(data, tmp_path / "spares.xlsx")
    assert result.exit_code == 1
    assert said in result.output


def test_rates_by_hours_need_hours(data: Path, tmp_path: Path) -> None:
    (data / "fleet.csv").write_text("serial,item\nKL-001,KELTO\n")
    result = spares(data, tmp_path / "spares.xlsx")
    assert result.exit_code == 1
    assert "no aircraft of fleet has hours_per_year" in result.output


INSPECTED = {
    "inspection_rules.csv": "item,quantity,every_months,note\nTYRE,2,6,Tyres\nFORK,1,12,Fork\n",
    "fleet.csv": (
        "serial,item,options,hours_per_year,delivered\n"
        "KL-001,KELTO,,200,2026-06-07\nKL-002,KELTO,,,2026-07-07\nKL-003,KELTO,,100,2025-12-07\n"
    ),
}


def test_coming_inspections_count_beside_what_fails(tmp_path: Path) -> None:
    data, out = written(tmp_path / "data", FILES | INSPECTED), tmp_path / "spares.xlsx"
    result = spares(data, out, "--with-inspections")
    assert result.exit_code == 0, result.output
    # on 7 December KL-001 and KL-003 take two tyres each, and KL-003 a fork
    assert column_of(out, "Inspections till then") == {"TYRE": 4, "FORK": 1, "PLUG": 0}
    assert column_of(out, "Keep") == {"TYRE": 5, "FORK": 1, "PLUG": 2}
    lines = result.output.splitlines()
    assert next(line for line in lines if line.startswith("part")).split()[2] == "inspected"
    assert next(line for line in lines if line.startswith("TYRE")).split()[1:4] == [
        "0.10",
        "4",
        "5",
    ]
    assert "Used and taken by inspections: FORK, TYRE." in result.output
    assert "documents rule" in result.output and "the aircraft's own log rule" in result.output
    words = [str(row[0].value) for row in openpyxl.load_workbook(out)["Keep"].iter_rows(max_row=14)]
    for said in ("statistical proposal", "the aircraft's own log rule", "within one resupply time"):
        assert any(said in cell for cell in words), said


def test_without_the_option_nothing_is_said_of_inspections(tmp_path: Path) -> None:
    data, out = written(tmp_path / "data", FILES | INSPECTED), tmp_path / "spares.xlsx"
    result = spares(data, out)
    assert column_of(out, "Keep") == {"TYRE": 1, "FORK": 0, "PLUG": 2}
    assert "nspect" not in result.output
    rows = openpyxl.load_workbook(out)["Keep"].iter_rows(values_only=True)
    assert not any("nspect" in str(cell) for row in rows for cell in row)


def test_inspections_are_enough_where_nothing_is_said_of_use(tmp_path: Path) -> None:
    data, out = written(tmp_path / "data", FILES | INSPECTED), tmp_path / "spares.xlsx"
    (data / "usage.csv").unlink()
    result = spares(data, out, "--with-inspections")
    assert result.exit_code == 0, result.output
    assert column_of(out, "Keep") == {"TYRE": 4, "FORK": 1}
    assert column_of(out, "Known from") == {"TYRE": "inspections", "FORK": "inspections"}


def test_inspections_are_asked_for_where_there_are_no_rules(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "spares.xlsx"
    result = spares(data, out, "--with-inspections")
    assert result.exit_code == 1 and "has no table inspection_rules" in result.output
    assert not out.exists()


def test_an_earlier_workbook_stays_unless_asked(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "spares.xlsx"
    out.write_text("mine")
    assert spares(data, out).exit_code == 1
    assert out.read_text() == "mine"
    assert spares(data, out, "--replace").exit_code == 0
    assert [path.name for path in tmp_path.iterdir() if path.name != "data"] == ["spares.xlsx"]


def test_a_rate_is_given_one_way_and_issues_are_past(data: Path) -> None:
    (data / "usage.csv").write_text("item,per_1000_hours,per_year\nTYRE,4,1\nPLUG,,\n")
    (data / "issues.csv").write_text("item,date,quantity\nTYRE,2026-12-01,1\n")
    result = bomkit("check", data)
    assert result.exit_code == 1
    assert "usage.csv line 2, column per_1000_hours: '4' give one of" in result.output
    assert "usage.csv line 3, column per_1000_hours: give one of" in result.output
    assert "issues.csv line 2, column date: '2026-12-01' is not past" in result.output
