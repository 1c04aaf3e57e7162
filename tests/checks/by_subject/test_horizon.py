"""A horizon in which nobody works, or that is shorter than the longest chain of lead times."""

from datetime import timedelta

import pytest

from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.problems import Finding
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, airframe, item, line
from tests.random_tables import Row

CHAIN = [line("kelto", "wing"), line("wing", "cloth")]


def findings(weeks: int, wing: Row, **tables: list[Row]) -> list[Finding]:
    """What is found of the horizon."""
    items = [
        item("kelto", source="make", unit="pc", lead_days=3),
        item("wing", **{"source": "make", "unit": "pc", **wing}),
        item("cloth", lead_days=4),
    ]
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": weeks}]
    built = [airframe("KL-1", "kelto", 4)]
    every = {"plan": plan, "items": items, "structure": CHAIN, "build_plan": built, **tables}
    return [found for found in structure_findings(typed_tables(every)) if found.table == "plan"]


@pytest.mark.parametrize(("days", "told"), [(3, False), (4, True)])
def test_lead_and_safety_days_of_the_longest_chain_may_take_all_working_days_and_no_more(
    days: int, told: bool
) -> None:
    found = findings(2, {"lead_days": days - 1, "safety_days": 1})  # of ten working days
    assert bool(found) == told
    if told:
        (finding,) = found
        assert (finding.row, finding.column, finding.value) == (0, "horizon_weeks", "2")
        assert finding.severity == "warning"
        assert "10 working days" in finding.message and "takes 11:" in finding.message
        assert "kelto -> wing -> cloth" in finding.message


def test_a_phantom_takes_no_time() -> None:
    assert findings(2, {"source": "phantom", "lead_days": 9}) == []
    # three days, none and seven: just the ten working days that there are
    sealed = [item("kelto", source="make", unit="pc", lead_days=3), item("cloth", lead_days=7)]
    wing = item("wing", source="phantom", unit="pc", lead_days=9)
    assert findings(2, {}, items=[*sealed, wing]) == []


def test_where_every_day_is_closed_the_horizon_is_no_plan() -> None:
    closed = [{"date": MONDAY + timedelta(days=day)} for day in range(7)]
    (finding,) = findings(1, {"lead_days": 1}, calendar=closed)
    assert (finding.column, finding.severity) == ("horizon_weeks", "error")
    assert (finding.row, finding.value) == (0, "1")
    assert finding.message.startswith("every day of the horizon is closed")
