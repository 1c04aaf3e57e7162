"""Orders of two plans are told apart: new, gone, begun, moved, larger, smaller."""

import datetime as dt

import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bomkit.planning.comparing.changed_orders import changed_orders, nervousness
from bomkit.tables.results.plan import ORDERS

MONDAY = dt.date(2026, 11, 30)


def orders(*rows: tuple[str, str, int, int, float]) -> pl.DataFrame:
    """Orders from (name, item, start, due, quantity), days counted from MONDAY."""
    return pl.DataFrame(
        {
            "order": [row[0] for row in rows],
            "item": [row[1] for row in rows],
            "serial": [""] * len(rows),
            "source": ["make"] * len(rows),
            "process": [""] * len(rows),
            "start_date": [MONDAY + dt.timedelta(row[2]) for row in rows],
            "due_date": [MONDAY + dt.timedelta(row[3]) for row in rows],
            "quantity": [row[4] for row in rows],
            "expected_good": [row[4] for row in rows],
            "unit": ["pc"] * len(rows),
            "late_days": [0] * len(rows),
            "lots": [""] * len(rows),
        },
        schema=ORDERS.schema,
    )


def change_of(before: pl.DataFrame, after: pl.DataFrame) -> list[str]:
    return changed_orders(before, after, MONDAY)["change"].to_list()


def test_an_order_found_again_with_its_day_and_quantity_is_the_same() -> None:
    assert change_of(orders(("1", "rib", 1, 3, 5)), orders(("7", "rib", 1, 3, 5))) == ["same"]


def test_orders_of_different_items_are_never_the_same_order() -> None:
    found = changed_orders(orders(("1", "rib", 1, 3, 5)), orders(("1", "spar", 1, 3, 5)), MONDAY)
    assert dict(zip(found["item"], found["change"], strict=True)) == {"rib": "gone", "spar": "new"}


@pytest.mark.parametrize(
    ("quantity", "due", "change"),
    [
        (6, 3, "larger"),
        (4, 3, "smaller"),
        (5, 4, "moved"),
        (6, 4, "moved, larger"),
        (4, 2, "moved, smaller"),
    ],
)
def test_another_day_or_quantity_is_told(quantity: float, due: int, change: str) -> None:
    assert change_of(orders(("1", "rib", 1, 3, 5)), orders(("1", "rib", 1, due, quantity))) == [
        change
    ]


def test_an_order_that_is_missing_and_was_to_begin_before_the_new_plan_has_begun() -> None:
    nothing = orders()
    assert change_of(orders(("1", "rib", -1, 3, 5)), nothing) == ["begun"]
    assert change_of(orders(("1", "rib", 0, 3, 5)), nothing) == ["gone"]


def test_the_order_of_the_same_day_and_quantity_is_found_among_others_of_the_item() -> None:
    before = orders(("1", "rib", 1, 3, 5), ("2", "rib", 2, 4, 7))
    after = orders(("1", "rib", 2, 4, 7))
    found = changed_orders(before, after, MONDAY)
    assert found.select("order_before", "change").rows() == [("1", "gone"), ("2", "same")]


def test_nervousness_is_the_share_of_orders_of_four_weeks_that_changed() -> None:
    before = orders(("1", "a", 1, 3, 5), ("2", "b", 1, 3, 5), ("3", "c", 27, 40, 1))
    after = orders(("1", "a", 1, 3, 5), ("2", "b", 1, 3, 6), ("3", "c", 27, 40, 1))
    assert nervousness(changed_orders(before, after, MONDAY), MONDAY) == pytest.approx(1 / 3)


def test_orders_beyond_four_weeks_and_those_begun_make_no_unrest() -> None:
    before = orders(("1", "a", -1, 3, 5), ("2", "b", 28, 30, 5), ("3", "c", 27, 30, 5))
    after = orders(("3", "c", 27, 30, 5))
    assert nervousness(changed_orders(before, after, MONDAY), MONDAY) == 0.0


def test_two_plans_without_orders_are_calm() -> None:
    assert nervousness(changed_orders(orders(), orders(), MONDAY), MONDAY) == 0.0


drawn = st.lists(
    st.tuples(
        st.sampled_from(["rib", "spar"]), st.integers(0, 4), st.integers(5, 7), st.integers(1, 3)
    ),
    max_size=6,
).map(lambda rows: orders(*((str(n), *row[:3], float(row[3])) for n, row in enumerate(rows))))


@given(drawn, drawn)
def test_every_order_of_either_plan_stands_in_just_one_row(
    before: pl.DataFrame, after: pl.DataFrame
) -> None:
    found = changed_orders(before, after, MONDAY)
    assert sorted(found["order_before"].drop_nulls()) == sorted(before["order"])
    assert sorted(found["order"].drop_nulls()) == sorted(after["order"])


@given(drawn, drawn)
def test_what_is_new_seen_from_the_other_side_is_gone(
    before: pl.DataFrame, after: pl.DataFrame
) -> None:
    there = changed_orders(before, after, MONDAY)["change"].value_counts()
    back = changed_orders(after, before, MONDAY)["change"].value_counts()
    swapped = {"new": "gone", "gone": "new", "larger": "smaller", "smaller": "larger"}
    turned = {
        ", ".join(swapped.get(word, word) for word in change.split(", ")): count
        for change, count in there.iter_rows()
    }
    assert turned == dict(back.iter_rows())


def test_on_one_day_orders_found_again_come_first_then_those_gone_and_new_ones_last() -> None:
    before = orders(("1", "rib", 1, 3, 5), ("2", "rib", 1, 3, 7))
    bought = orders(("8", "rib", 1, 3, 2)).with_columns(source=pl.lit("buy"))
    after = pl.concat([orders(("9", "rib", 1, 3, 5)), bought])
    found = changed_orders(before, after, MONDAY)
    assert found.select("order_before", "order").rows() == [("1", "9"), ("2", None), (None, "8")]
