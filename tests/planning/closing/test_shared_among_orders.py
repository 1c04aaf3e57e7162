"""Rows filled in for several orders or plates at once are shared out as the sheets say."""

import datetime as dt
import json
from typing import Any

import polars as pl
import pytest

from bomkit.planning.closing.shared_among_orders import served_in_spite, unfolded, unread_picks
from bomkit.tables.results.by_name import RESULTS
from tests.planning.closing.filled import filled_in

MONDAY = dt.date(2026, 11, 30)
PLATES = [
    {"plate": "W49-01", "order": "print-0001", "parts": 4},
    {"plate": "W49-02", "order": "print-0001", "parts": 3},
]
RESULT = {
    "plates": pl.DataFrame(PLATES),
    "orders": RESULTS["orders"].empty().with_columns(start_date=pl.lit(MONDAY)),
}


def brought(picked: float | None, **more: Any) -> dict[str, Any]:
    """A lot on a round, of which 4 go to A, 2 to B and 3 to C."""
    goes = [["A", 4.0, "2026-11-30"], ["B", 2.0, "2026-12-01"], ["C", 3.0, "2026-11-30"]]
    row = {"item": "bolt", "location": "rack 1", "listed_lot": "L1", "goes_to": json.dumps(goes)}
    return {**row, "picked": picked, **more}


def shares(*lots: dict[str, Any], waits: str = "") -> dict[str, float]:
    """What each order got."""
    left_out = [{"order": order, "day": MONDAY, "waits": "yes"} for order in waits]
    entries = filled_in(brought_out=list(lots), left_out=left_out)
    rows = unfolded(entries, RESULT)["picked"]
    assert rows.columns[-1] == "where"
    return dict(rows.select("order", "picked").iter_rows())


@pytest.mark.parametrize(
    ("picked", "expected"),
    [
        (9.0, {"A": 4, "B": 2, "C": 3}),
        (5.0, {"A": 4, "B": 1}),
        (4.0, {"A": 4}),
        (11.0, {"A": 4, "B": 2, "C": 5}),
        (0.0, {"A": 0}),
        (None, {"A": None}),
    ],
)
def test_the_orders_named_first_get_theirs_first_and_the_last_one_the_rest(
    picked: float | None, expected: dict[str, float]
) -> None:
    assert shares(brought(picked)) == expected


def in_spite(picked: float | None, waits: str) -> dict[str, list[str]]:
    """The orders that are said to wait although the bolts were picked for them too."""
    left_out = [{"order": order, "day": MONDAY, "waits": "yes"} for order in waits]
    entries = filled_in(brought_out=[brought(picked)], left_out=left_out)
    return {row["order"]: items for row, items in served_in_spite(entries)}


def test_an_order_that_waits_beside_picks_that_are_filled_in_for_it_too_is_named() -> None:
    # A and C ask for 7 together: 9 were picked, as if B had got its 2
    assert in_spite(9.0, "B") == {"B": ["bolt"]}
    assert in_spite(7.0, "B") == {}
    assert in_spite(5.0, "ABC") == {"A": ["bolt"], "B": ["bolt"], "C": ["bolt"]}
    assert in_spite(None, "B") == {} and in_spite(9.0, "") == {}


def test_picks_that_could_not_be_read_are_known_by_order_and_item() -> None:
    unread = filled_in(
        brought_out=[brought(None)], further_picks=[{"line": 1, "order": "D", "item": "nut"}]
    )
    assert unread_picks(unread) == {("A", "bolt"), ("B", "bolt"), ("C", "bolt"), ("D", "nut")}
    assert unread_picks({}) == set()


def test_orders_that_wait_get_nothing_unless_no_other_is_named() -> None:
    assert shares(brought(5.0), waits="A") == {"B": 2, "C": 3}
    assert shares(brought(4.0), waits="AC") == {"B": 4}
    assert shares(brought(5.0), waits="ABC") == {"A": 4, "B": 1}


def test_each_share_keeps_its_lot_its_day_and_the_row_it_stands_on() -> None:
    entries = filled_in(brought_out=[brought(9.0, lot="L2", serial="X-1")])
    rows = unfolded(entries, RESULT)["picked"].rows(named=True)
    for row, day in zip(rows, (MONDAY, dt.date(2026, 12, 1), MONDAY), strict=True):
        told = {name: row[name] for name in ("item", "serial", "location", "listed_lot", "lot")}
        assert told == {
            "item": "bolt", "serial": "X-1", "location": "rack 1", "listed_lot": "L1", "lot": "L2",
        }  # fmt: skip
        assert row["need_date"] == day and row["where"] == "book.xlsx › brought_out › row 5"


def printed(plate: str, **done: Any) -> dict[str, Any]:
    row = {"order": "print-0001", "item": "clip", "serial": "", "due_date": MONDAY}
    return {**row, "plate": plate, **done}


def worked(*rows: dict[str, Any]) -> tuple[Any, ...]:
    """Begun, good and scrapped of the one order."""
    frame = unfolded(filled_in(printed=list(rows)), RESULT)["worked"]
    assert len(frame) == 1
    return tuple(frame.row(0, named=True)[name] for name in ("begun", "good", "scrapped"))


def test_plates_of_one_order_add_up() -> None:
    both = printed("W49-01", begun=4, good=3, scrapped=1), printed("W49-02", begun=2, good=2)
    assert worked(*both) == (6, 5, 1)


def test_of_a_plate_with_good_or_failed_alone_all_parts_were_begun() -> None:
    assert worked(printed("W49-01", scrapped=4)) == (4, None, 4)
    assert worked(printed("W49-01", good=1), printed("W49-02", begun=1)) == (5, 1, None)
    assert worked(printed("W49-02", begun=2)) == (2, None, None)


def test_a_pick_besides_the_lists_is_a_pick() -> None:
    line = {"line": 3, "order": "A", "item": "bolt", "location": "rack 7", "lot": "L9", "picked": 2}
    row = unfolded(filled_in(further_picks=[line]), RESULT)["picked"].row(0, named=True)
    assert (row["order"], row["item"], row["listed_lot"], row["lot"]) == ("A", "bolt", "", "L9")
    assert (row["location"], row["picked"]) == ("rack 7", 2)


def test_a_last_bit_of_very_many_is_not_picked_for_who_waits() -> None:
    goes = json.dumps([["A", 4e6, "2026-11-30"], ["C", 3.0, "2026-11-30"]])
    for beyond, told in ((4e6 * 1e-10, False), (1.0, True)):
        lot = {**brought(4e6 + beyond), "goes_to": goes}
        left_out = [{"order": "C", "day": MONDAY, "waits": "yes"}]
        found = list(served_in_spite(filled_in(brought_out=[lot], left_out=left_out)))
        assert bool(found) == told


def test_shares_keep_nine_decimals_as_stock_does() -> None:
    goes = json.dumps([["A", 1 / 3, "2026-11-30"], ["B", 1.0, "2026-11-30"]])
    assert shares({**brought(1.0), "goes_to": goes}) == {"A": 0.333333333, "B": 0.666666667}


def test_a_pick_besides_the_lists_is_for_the_day_on_which_its_order_starts() -> None:
    orders = pl.DataFrame([{"order": "make-1", "start_date": MONDAY}])
    rows = [{"order": order, "item": "bolt", "picked": 2.0} for order in ("make-1", "W-7")]
    found = unfolded(filled_in(further_picks=rows), {**RESULT, "orders": orders})["picked"]
    assert found.select("order", "need_date").rows() == [("make-1", MONDAY), ("W-7", None)]
