"""Tables of which it is said that they change no order and no day change none."""

import datetime as dt

import polars as pl

from bomkit.planning.comparing.moved_forecasts import forecast_days
from bomkit.planning.comparing.without_effect import without_effect
from bomkit.planning.whole_plan import whole_plan
from bomkit.runs.week.plan import Run
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.results.finished_plan import USUAL, Choices
from bomkit.tables.schema import Tables
from tests.builders import typed_tables

MONDAY = dt.date(2026, 11, 30)
WITH_INSPECTIONS = Choices(inspections=True)

Found = tuple[pl.DataFrame, pl.DataFrame]


def found(tables: Tables, choices: Choices) -> Found:
    """The orders and the days of a plan."""
    results = whole_plan(tables, choices).finished.results
    return results["orders"], forecast_days(results["forecast"], results["promises"])


def emptied(tables: Tables, names: frozenset[str]) -> dict[str, pl.DataFrame]:
    """The tables, some of them without a row."""
    return {name: frame.clear() if name in names else frame for name, frame in tables.items()}


def same(one: Found, other: Found) -> bool:
    return all(left.equals(right) for left, right in zip(one, other, strict=True))


def with_everything() -> dict[str, pl.DataFrame]:
    """Tables of which every one that could be without effect has a row."""
    part = {"item": "wheel", "quantity": 1.0}
    long_ago = dt.date(2025, 1, 7)
    return typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 40}],
            "items": [
                {"item": "glider", "source": "make", "unit": "pc", "lead_days": 5},
                {"item": "wheel", "source": "buy", "unit": "pc", "lead_days": 9, "cover_days": 20},
                {"item": "old wheel", "source": "buy", "unit": "pc", "lead_days": 9},
            ],
            "structure": [{"parent": "glider", "child": "wheel", "quantity": 2.0, "unit": "pc"}],
            "build_plan": [{"serial": "G-2", "item": "glider", "ready_date": dt.date(2027, 1, 12)}],
            "spares_orders": [part | {"order": "S-1", "need_date": dt.date(2026, 12, 2)}],
            "fleet": [{"serial": "G-1", "item": "glider", "hours": 900.0, "hours_per_year": 400.0,
                       "delivered": long_ago}],
            "stock": [{"item": name, "quantity": 4.0} for name in ("wheel", "old wheel")],
            "suppliers": [{"supplier": "ROLL", "order_minimum": 900.0}],
            "prices": [{"item": "wheel", "supplier": "ROLL", "price": 3.0, "lead_days": 30,
                        "from_quantity": 0.0}],
            "alternates": [{"item": "wheel", "alternate": "old wheel"}],
            "usage": [{"item": "wheel", "per_1000_hours": 40.0}],
            "issues": [part | {"date": long_ago, "serial": "G-1"}],
            "inspection_rules": [part | {"every_hours": 100}],
            "inspection_log": [{"serial": "G-1", "work": "wheel", "date": MONDAY - dt.timedelta(9),
                                "hours": 890.0}],
            "fitted": [{"serial": "G-1", "item": "wheel", "lot": "L", "date": long_ago}],
            "scrap_log": [{"date": long_ago, "item": "wheel", "started": 9.0, "scrapped": 8.0}],
            "arrivals_log": [{"order": "P-1", "item": "wheel", "supplier": "ROLL",
                              "promised": long_ago, "arrived": MONDAY}],
        }
    )  # fmt: skip


def test_without_these_tables_the_full_size_sample_has_the_same_orders_and_days(
    full_run: Run,
) -> None:
    plan = full_run.report.plan
    before = plan.results["orders"], forecast_days(plan.results["forecast"],
                                                   plan.results["promises"])  # fmt: skip
    names = without_effect(USUAL)
    assert any(len(plan.tables[name]) for name in names)
    assert same(before, found(emptied(plan.tables, names), USUAL))


def test_each_of_these_tables_may_have_rows_and_none_changes_an_order_or_a_day() -> None:
    tables = with_everything()
    names = without_effect(USUAL)
    assert names <= set(INPUTS)
    assert all(len(tables[name]) for name in names)
    assert same(found(tables, USUAL), found(emptied(tables, names), USUAL))


def test_with_inspections_only_their_own_tables_count_as_well() -> None:
    tables = with_everything()
    names, inspections = without_effect(WITH_INSPECTIONS), {"inspection_rules", "inspection_log"}
    assert without_effect(USUAL) - names == inspections
    before = found(tables, WITH_INSPECTIONS)
    assert same(before, found(emptied(tables, names), WITH_INSPECTIONS))
    for name in inspections:
        assert not same(before, found(emptied(tables, frozenset({name})), WITH_INSPECTIONS)), name
