"""Whom to ring first: how much less late airframes are if a supplier brings all sooner as asked."""

from pathlib import Path

import pytest

from bomkit.runs.week.plan import weekly_run
from bomkit.words.progress import silent
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.asking import ask_suppliers_sheet
from tests.commands import written

# X-1 is ready on 18 December, so its five days of work begin on the 11th
FILES = {
    "items.csv": "item,description,source,unit,lead_days,supplier\ncraft,Craft,make,pc,5,\n"
    "engine,Engine,buy,pc,90,ACME\nseat,Seat,buy,pc,90,ACME\nprop,Propeller,buy,pc,90,BOLT\n",
    "structure.csv": "parent,child,quantity\ncraft,engine,1\ncraft,prop,1\ncraft,seat,1\n",
    "suppliers.csv": "supplier,name\nACME,Acme Motors\nBOLT,Bolt Airscrews\n",
    "build_plan.csv": "serial,item,ready_date\nX-1,craft,2026-12-18\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 8\nlist_weeks = 1\n",
}


def report_of(folder: Path, engine: str, prop: str, seat: str = "2026-12-11") -> Report:
    orders = f"E-1,engine,1,{engine}\nP-1,prop,1,{prop}\nS-1,seat,1,{seat}\n"
    written(folder, {**FILES, "open_orders.csv": f"order,item,quantity,due_date\n{orders}"})
    return weekly_run(folder, folder / "out", False, silent).report


@pytest.mark.parametrize(
    ("engine", "prop", "seat", "expected"),
    [
        ("2026-12-21", "2026-12-16", "2026-12-11", [("ACME", 3)]),  # the propeller is 3 days late
        ("2026-12-21", "2026-12-11", "2026-12-11", [("ACME", 6)]),
        ("2026-12-21", "2026-12-21", "2026-12-11", []),  # neither alone
        ("2026-12-21", "2026-12-11", "2026-12-22", [("ACME", 7)]),  # both of one supplier
        ("2026-12-16", "2026-12-21", "2026-12-22", [("ACME", 1)]),
    ],
)
def test_a_supplier_saves_the_days_until_the_next_one_is_waited_for(
    tmp_path: Path, engine: str, prop: str, seat: str, expected: list[tuple[str, int]]
) -> None:
    relief = report_of(tmp_path, engine, prop, seat).plan.relief
    assert relief.select("supplier", "saved").rows() == expected
    assert set(relief["demand"]) <= {"X-1"}


def test_the_list_begins_with_the_supplier_that_saves_the_most_and_says_so(tmp_path: Path) -> None:
    report = report_of(tmp_path, "2026-12-21", "2026-12-16")
    [sheet] = ask_suppliers_sheet(report, "2026-W49")
    parties = [cell[0] for line in sheet.lines if (cell := line.cells[0]) and cell[1] == "section"]
    assert parties == ["Acme Motors", "Bolt Airscrews"]
    assert sheet.notes[0] == (
        "Ring first: Acme Motors. If all that is asked sooner comes so, airframes are ready 3 "
        "working days earlier in all: X-1 3 d."
    )


def test_without_anybody_late_no_supplier_is_named(tmp_path: Path) -> None:
    report = report_of(tmp_path, "2026-12-10", "2026-12-11")
    assert report.plan.relief.is_empty()


def test_suppliers_stand_by_name_and_with_each_who_gains_the_most_in_front(tmp_path: Path) -> None:
    files = {
        "items.csv": "item,source,unit,lead_days,supplier\nland,make,pc,5,\nsea,make,pc,5,\n"
        "engine,buy,pc,90,ACME\nfloat,buy,pc,90,BOLT\n",
        "structure.csv": "parent,child,quantity\nland,engine,1\nsea,float,1\n",
        "build_plan.csv": "serial,item,ready_date\nX-1,land,2026-12-18\nX-2,land,2026-12-18\n"
        "X-3,land,2026-12-16\nX-4,sea,2026-12-18\nX-5,sea,2026-12-18\n",
        "open_orders.csv": "order,item,quantity,due_date\n"
        "E-1,engine,3,2026-12-21\nF-1,float,2,2026-12-17\n",
    }
    written(tmp_path, {**FILES, **files})
    relief = weekly_run(tmp_path, tmp_path / "out", False, silent).report.plan.relief
    assert relief.select("supplier", "demand").rows() == [
        *(("ACME", "X-3"), ("ACME", "X-1"), ("ACME", "X-2")),
        *(("BOLT", "X-4"), ("BOLT", "X-5")),
    ]
