"""A year mistyped makes an order vanish from the plan, so it is asked after and named."""

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

import pytest

from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.problems import Finding
from tests.builders import Rows, typed_tables
from tests.commands import bomkit, written

START = date(2026, 11, 30)
WEEKS = 4
ITEMS = [{"item": "fin", "source": "make", "unit": "pc"}]


def asked_after(start: date = START, weeks: int = WEEKS, **tables: Rows) -> list[Finding]:
    """What is found about dates."""
    rows: Mapping[str, Rows] = {
        "plan": [{"start": start, "horizon_weeks": weeks}],
        "items": ITEMS,
        **tables,
    }
    findings = structure_findings(typed_tables(rows))
    return [finding for finding in findings if finding.message.endswith("is the year right?")]


def order(day: date) -> dict[str, object]:
    return {"order": "S-1", "item": "fin", "quantity": 1, "need_date": day}


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2029, 11, 29), False),
        (date(2029, 11, 30), True),
        (date(2023, 12, 1), False),
        (date(2023, 11, 30), True),
    ],
)
def test_a_day_three_years_away_is_asked_after(day: date, said: bool) -> None:
    found = asked_after(spares_orders=[order(START), order(day)])
    assert [(each.row, each.column, each.severity) for each in found] == (
        [(3, "need_date", "warning")] if said else []
    )


def test_so_are_open_orders_airframes_and_what_open_orders_lack() -> None:
    day = date(2062, 12, 8)
    found = asked_after(
        spares_orders=[order(START)],
        build_plan=[{"serial": "K-1", "item": "fin", "ready_date": day}],
        open_orders=[{"order": "B-1", "item": "fin", "quantity": 1, "due_date": day}],
        allocations=[{"order": "B-1", "item": "fin", "quantity": 1, "need_date": day}],
    )
    assert sorted((each.table, each.value) for each in found) == [
        ("allocations", "2062-12-08"),
        ("build_plan", "2062-12-08"),
        ("open_orders", "2062-12-08"),
    ]


def test_no_day_within_the_horizon_is_far() -> None:
    weeks = 200
    last = START + timedelta(weeks=weeks)
    assert asked_after(weeks=weeks, spares_orders=[order(last - timedelta(days=1))]) == []
    assert len(asked_after(weeks=weeks, spares_orders=[order(START), order(last)])) == 1


@pytest.mark.parametrize(
    ("start", "said"),
    [
        (START - timedelta(weeks=WEEKS), True),
        (START - timedelta(weeks=WEEKS) + timedelta(days=1), False),
        (START, False),
        (START + timedelta(days=1), True),
    ],
)
def test_a_horizon_in_which_nothing_is_wanted_is_asked_after(start: date, said: bool) -> None:
    found = asked_after(start, spares_orders=[order(START)])
    assert all(each.row == 0 for each in found)
    assert [(each.table, each.column, each.value) for each in found] == (
        [("plan", "start", str(start))] if said else []
    )
    assert all("wanted between 2026-11-30 and 2026-11-30" in each.message for each in found)


def test_from_when_to_when_something_is_wanted_is_said() -> None:
    wanted = [order(START - timedelta(days=30)), order(START - timedelta(days=9))]
    (found,) = (each for each in asked_after(spares_orders=wanted) if each.column == "start")
    first, last = (each["need_date"] for each in wanted)
    assert f"wanted between {first} and {last};" in found.message


def test_nothing_is_asked_where_nothing_is_wanted() -> None:
    assert asked_after() == []


def test_what_is_left_out_of_a_plan_is_named_and_not_called_in_time(tmp_path: Path) -> None:
    files = {
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\n",
        "items.csv": "item,source,unit\nfin,make,pc\nfoam,buy,m2\n",
        "structure.csv": "parent,child,quantity\nfin,foam,1\n",
        "build_plan.csv": "serial,item,ready_date\n",
        "spares_orders.csv": "order,item,quantity,need_date\nS-1,fin,1,2026-12-07\n"
        "S-2,fin,1,2062-12-07\n",
    }
    told = bomkit("plan", written(tmp_path / "data", files), "--out", tmp_path / "out").output
    assert "spares_orders.csv line 3, column need_date: '2062-12-07' is years away" in told
    assert "Past the horizon, left out of the plan: needs 1 (S-2), open orders 0." in told
    assert "grounded aircraft of the horizon is in time; left out, as wanted past it: S-2." in told
