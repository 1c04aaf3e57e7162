"""What levelling finds there: hours and pulls less those in work, and what lots leave over."""

import pytest

from tests.planning.driver import item, line, need, receipt
from tests.planning.levelling.test_levelled_plan import SHOP, SKIN, levelled
from tests.random_tables import Row

SEAT = item("seat", source="make", unit="pc", process="lay-up", lead_days=1, hours_each=5)
WANTED = [need("skin", 3, 16)]  # 15 hours in the fourth week, which has 10


@pytest.mark.parametrize(
    ("hours", "starts"), [(5.0, [(14, 1), (15, 2)]), (6.0, [(15, 3)])], ids=str
)
def test_hours_of_work_begun_are_not_there_for_what_is_pulled(
    hours: float, starts: list[tuple[int, float]]
) -> None:
    # what is begun takes so many hours of each of three weeks; a skin takes 5 of 10
    begun = [receipt("seat", 1, 15) | {"hours_left": hours * 3}]
    plan = levelled([SKIN, SEAT], processes=SHOP, spares_orders=WANTED, open_orders=begun)
    assert plan.starts("skin") == starts


def test_pulls_of_work_begun_are_taken_off_the_mould_and_hours_off_the_hours() -> None:
    moulds: list[Row] = [{"mould": "M-1", "item": "skin", "pulls_per_week": 3}]
    alone = levelled([SKIN], processes=SHOP, moulds=moulds, spares_orders=WANTED)
    assert alone.starts("skin") == [(14, 1), (15, 2)]
    # three weeks of two pulls each, of skins that take no hour any more
    begun = [receipt("skin", 9, 15) | {"hours_left": 0.0}]
    beside = levelled(
        [SKIN],
        processes=SHOP,
        moulds=moulds,
        spares_orders=[need("skin", 12, 16)],
        open_orders=begun,
    )
    assert sum(quantity for _, quantity in beside.starts("skin")) == 3


@pytest.mark.parametrize(("multiple", "starts"), [(9.0, [(15, 3)]), (12.0, [(14, 1), (15, 2)])])
def test_one_lot_more_for_what_is_pulled_before_its_receipt_is_bought_again(
    multiple: float, starts: list[tuple[int, float]]
) -> None:
    # of a lot of 12 three are left for the first skin
    plan = levelled(
        [SKIN, item("cloth", multiple=multiple)],
        processes=SHOP,
        structure=[line("skin", "cloth", 3)],
        spares_orders=[*WANTED, need("cloth", 9, 1)],
        open_orders=[receipt("cloth", 9, 15)],
    )
    assert plan.starts("skin") == starts
