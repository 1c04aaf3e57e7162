"""How far orders may be pulled, in what parts, and which days their hours fall on."""

import pytest

from tests.planning.driver import item, line, lot, need, receipt
from tests.planning.levelling.test_levelled_plan import SHOP, SKIN, levelled
from tests.random_tables import Row

# 15 hours in the fourth week, which has 10: a skin has to start in the third, on day 14
WANTED = [need("skin", 3, 16)]
Starts = list[tuple[int, float]]


def starts(skin: Row, weeks: int = 2, **tables: list[Row]) -> Starts:
    """When the skins start that a shop of ten hours a week is to make."""
    given: dict[str, list[Row]] = {"processes": SHOP, "spares_orders": WANTED, **tables}
    return levelled([SKIN | skin, item("cloth", lead_days=2)], weeks, **given).starts("skin")


@pytest.mark.parametrize(
    "rules",
    [
        {"multiple": 3},  # fifteen hours in a week of ten: no better there
        {"multiple": 1.5},
        {"minimum": 2},  # what stayed or went would be too small an order
        {"unit": "kg"},
        {"unit": "kg", "multiple": 1},
    ],
    ids=str,
)
def test_only_pieces_are_split_and_only_into_orders_that_could_be_placed(rules: Row) -> None:
    assert starts({}) == [(14, 1), (15, 2)]
    assert starts(rules) == [(15, 3)]


def test_multiples_of_pieces_are_split_into_multiples() -> None:
    four = {"spares_orders": [need("skin", 4, 16)]}
    assert starts({"multiple": 2, "hours_each": 4}, **four) == [(14, 2), (15, 2)]
    assert starts({"multiple": 1, "hours_each": 4}, **four) == [(14, 2), (15, 2)]
    assert starts({"hours_each": 3}, **four) == [(14, 1), (15, 3)]
    assert starts({"multiple": 2, "hours_each": 3}, **four) == [(14, 2), (15, 2)]


@pytest.mark.parametrize(
    ("longest", "cover", "pulled"),
    [(3, 1, True), (2, 1, True), (1, 1, False), (3, 2, True), (3, 3, False), (2, 4, False)],
)
def test_what_waits_longer_by_being_pulled_still_lasts_for_the_days_it_covers(
    longest: int, cover: int, pulled: bool
) -> None:
    found = starts({"longest_cover_days": longest, "cover_days": cover})
    assert found == ([(14, 1), (15, 2)] if pulled else [(15, 3)])


def test_orders_are_pulled_by_whole_weeks_from_their_own_week() -> None:
    # two skins a week, and eight that start in the fourth
    found = [starts({}, weeks, spares_orders=[need("skin", 8, 17)]) for weeks in range(4)]
    assert found == [
        [(16, 8)],
        [(14, 2), (16, 6)],
        [(9, 2), (14, 2), (16, 4)],
        [(4, 2), (9, 2), (14, 2), (16, 2)],
    ]


def test_days_of_safety_are_no_days_of_work() -> None:
    # from day 12 on all three days of work are in the third week, from day 9 on two of them are
    skin = {"lead_days": 3, "safety_days": 4, "hours_each": 14}
    assert starts(skin, spares_orders=[need("skin", 1, 19)]) == [(9, 1)]
    # on days 13, 14 and 15 there is room enough
    skin = {"lead_days": 3, "safety_days": 3, "hours_each": 14}
    assert starts(skin, spares_orders=[need("skin", 1, 19)]) == [(13, 1)]


def test_work_without_a_lead_time_falls_on_its_own_day() -> None:
    assert starts({"lead_days": 0}) == [(14, 1), (16, 2)]
    assert starts({"lead_days": 0, "safety_days": 2}) == [(9, 1), (14, 2)]


def test_nothing_is_pulled_into_days_without_a_mould_or_out_of_them() -> None:
    moulds = [{"mould": "M", "item": "skin", "pulls_per_week": 99, "pulls_left": 1}]
    asked = [need("skin", quantity, when) for quantity, when in ((1, 3), (3, 9), (5, 16))]

    def planned(**columns: object) -> Starts:
        plan = levelled(
            [SKIN, item("tool", lead_days=12)],
            3,
            processes=SHOP,
            spares_orders=asked,
            moulds=[moulds[0] | columns],
        )
        return plan.starts("skin")

    # two a week: what starts on day 8 could be begun in the first week, and one of the last five
    # in the second
    assert planned(pulls_left=None) == [(2, 1), (4, 1), (8, 2), (14, 2), (15, 3)]
    # worn on day 8, replaced on day 12
    assert planned(replacement="tool") == [(2, 1), (8, 3), (14, 2), (15, 3)]


def test_what_no_longer_starts_on_a_day_leaves_nothing_there_and_what_does_is_kept() -> None:
    # a rib that can't wait takes all but one of 2000 hours of the fourth week
    skin = SKIN | {"hours_each": 1}
    rib = SKIN | {"item": "rib", "hours_each": 1999, "longest_cover_days": 1}
    plan = levelled(
        [skin, rib],
        processes=[{"process": "lay-up", "hours_per_week": 2000}],
        spares_orders=[need("skin", 2001, 16), need("rib", 1, 16)],
    )
    assert plan.starts("rib") == [(15, 1)]
    assert plan.starts("skin") == [(14, 2000), (15, 1)]


def test_hours_count_however_few_each_piece_takes_and_what_an_order_takes_once() -> None:
    thirty = [need("skin", 30, 16)]
    assert starts({"hours_each": 0.4}, spares_orders=thirty) == [(14, 5), (15, 25)]
    six = [need("skin", 6, 16)]
    once = {"hours_each": 1, "hours_per_order": 5}
    assert starts(once, spares_orders=six) == [(14, 1), (15, 5)]
    assert starts({"hours_each": 0, "hours_per_order": 11}, spares_orders=six) == [(15, 6)]


def cloth_of(quantity: float, on_hand: float) -> Starts:
    """When the skins start if so much cloth each comes on the first day of the fourth week."""
    return starts(
        {},
        structure=[line("skin", "cloth", quantity)],
        open_orders=[receipt("cloth", quantity * 3, 15)],
        stock=[lot("cloth", on_hand)],
    )


def test_a_receipt_holds_back_only_what_it_is_to_serve_however_little_it_brings() -> None:
    assert cloth_of(3, 9) == [(14, 1), (15, 2)]
    assert cloth_of(3, 3) == [(14, 1), (15, 2)]
    assert cloth_of(3, 2) == [(15, 3)]
    assert cloth_of(0.1, 0) == [(15, 3)]
    assert cloth_of(0.1, 0.1) == [(14, 1), (15, 2)]
