"""Moulds: pulls run down, the replacement is asked for in time, and gaps are named."""

from datetime import date
from functools import cached_property

import polars as pl
import pytest

from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.planning.forecast.peg_tables import pegs_table
from bomkit.planning.pegging.peg import peg
from bomkit.planning.shop_plan import ShopPlan
from bomkit.planning.shops.moulds.replacement_moulds import mould_findings, mould_report
from bomkit.planning.shops.moulds.worn_not_yet_replaced import gaps_of, without_mould
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.problems import Finding
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, day, item, line, need, plan_shops
from tests.random_tables import Row


class Shop:
    """The plan of some tables over eight weeks, and what it says of the moulds."""

    def __init__(self, items: list[Row], moulds: list[Row], pull: int = 0, **tables: list[Row]):
        """Plan the tables."""
        plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 8}]
        self.tables = typed_tables({"plan": plan, "items": items, "moulds": moulds, **tables})
        network = build_network(self.tables)
        self.plan: ShopPlan = plan_shops(network, self.tables, pull)

    def starts(self, name: str) -> list[tuple[int, float]]:
        own = self.plan.orders.filter(pl.col("item") == name).sort("start")
        return own.select("start", "quantity").rows()

    @cached_property
    def report(self) -> pl.DataFrame:
        """The moulds with when they are worn."""
        plan = self.plan
        pegged = peg(plan.network, plan.flows, plan.orders)
        pegs = pegs_table(plan.network, pegged, pegged.pegs, plan.orders, None)
        return mould_report(plan.network, plan.worn, pegs, plan.orders)

    @property
    def findings(self) -> list[Finding]:
        return mould_findings(self.report)

    def of(self, mould: str) -> tuple[object, ...]:
        """Pulls, the day it runs out, when to start the replacement, days without."""
        own = self.report.filter(pl.col("mould") == mould)
        return own.select("pulls", "runs_out", "start_by", "late_days").row(0)


SKIN = item("skin", source="make", unit="pc", lead_days=1)
TOOLS = [
    item("tool", source="make", unit="pc", lead_days=5),
    item("first-mould", source="make", unit="pc", lead_days=4),
    item("master", source="print", unit="pc", material="PLA", lead_days=2),
]
CHAIN = [line("tool", "first-mould"), line("first-mould", "master")]
WEEKLY = [need("skin", 4, 5 * week + 3) for week in range(8)]  # starts on days 2, 7, 12, ...


def mould(name: str = "M1", **columns: object) -> Row:
    return {"mould": name, "item": "skin", "pulls_per_week": 4} | columns


def test_a_mould_that_lasts_asks_for_nothing() -> None:
    shop = Shop([SKIN, *TOOLS], [mould(replacement="tool")], spares_orders=WEEKLY, structure=CHAIN)
    assert shop.of("M1") == (32, None, None, 0)
    assert shop.starts("tool") == []


def test_the_replacement_is_wanted_on_the_day_of_the_first_pull_that_is_not_left() -> None:
    worn = [mould(replacement="tool", pulls_left=16)]
    shop = Shop([SKIN, *TOOLS], worn, spares_orders=WEEKLY, structure=CHAIN)
    # 16 pulls are those of the starts on days 2, 7, 12 and 17
    assert shop.of("M1") == (16, day(22), day(11), 0)
    assert shop.starts("tool") == [(17, 1)]
    assert shop.starts("first-mould") == [(13, 1)]
    assert shop.starts("master") == [(11, 1)]
    assert shop.findings == []
    asked = shop.plan.network.demands.filter(kind="mould").select("day", "overdue", "past")
    assert asked.rows() == [(22, False, False)]


def test_an_order_that_the_pulls_left_do_not_cover_wears_the_mould_on_its_day() -> None:
    worn = [mould(replacement="tool", pulls_left=15)]
    shop = Shop([SKIN, *TOOLS], worn, spares_orders=WEEKLY, structure=CHAIN)
    assert shop.of("M1")[:2] == (15, day(17))


def test_scrap_wears_the_mould_as_well() -> None:
    scrapped = SKIN | {"scrap_rate": 0.5}
    worn = [mould(replacement="tool", pulls_left=16)]
    shop = Shop([scrapped, *TOOLS], worn, spares_orders=WEEKLY, structure=CHAIN)
    assert shop.of("M1")[:2] == (16, day(12))


def test_a_gap_before_the_replacement_can_be_ready_is_named() -> None:
    worn = [mould(replacement="tool", pulls_left=4)]
    shop = Shop([SKIN, *TOOLS], worn, spares_orders=WEEKLY, structure=CHAIN)
    # worn on day 7, but master, first mould and mould take 11 days from day 0
    assert shop.of("M1") == (4, day(7), day(0), 4)
    (found,) = shop.findings
    assert (found.table, found.row, found.column, found.severity) == (
        *("moulds", 2, "pulls_left", "warning"),
    )
    assert "4 working days before tool can be ready" in found.message


def test_a_worn_mould_without_a_replacement_is_named() -> None:
    shop = Shop([SKIN], [mould(pulls_left=4)], spares_orders=WEEKLY)
    (found,) = shop.findings
    assert "names no replacement" in found.message


def test_moulds_of_one_item_share_its_pulls_by_what_they_give() -> None:
    moulds = [mould("M1", pulls_per_week=3), mould("M2", pulls_per_week=1)]
    shop = Shop([SKIN], moulds, spares_orders=WEEKLY)
    assert (shop.of("M1")[0], shop.of("M2")[0]) == (24, 8)


def test_what_a_worn_mould_leaves_the_others_pull() -> None:
    moulds = [mould("M1", pulls_per_week=2, pulls_left=3), mould("M2", pulls_per_week=2)]
    shop = Shop([SKIN], moulds, spares_orders=WEEKLY)
    assert (shop.of("M1")[:2], shop.of("M2")[0]) == ((3, day(7)), 29)


def test_more_pulls_than_the_moulds_give_are_pulled_forward() -> None:
    needs = [need("skin", 10, 12)]
    shop = Shop([SKIN], [mould(count=2, pulls_per_week=4)], spares_orders=needs)
    assert shop.starts("skin") == [(11, 10)]
    assert shop.plan.pulls.filter(pl.col("pulls") > 0).rows() == [("skin", "2026-W51", 10, 8, 0)]
    shop = Shop([SKIN], [mould(count=2, pulls_per_week=4)], pull=1, spares_orders=needs)
    assert shop.starts("skin") == [(9, 2), (11, 8)]


def test_worn_moulds_give_no_pulls_until_their_replacement_is_there() -> None:
    def there(shop: Shop) -> list[float]:
        return shop.plan.pulls["capacity"].to_list()

    several = [mould("M1", pulls_per_week=2, pulls_left=3), mould("M2", pulls_per_week=2)]
    # M1 has one pull left when the second week begins, in which it is worn for good
    assert there(Shop([SKIN], several, spares_orders=WEEKLY)) == pytest.approx([4, 3, *6 * [2]])
    alone = [mould(pulls_left=4)]
    assert there(Shop([SKIN], alone, spares_orders=WEEKLY)) == pytest.approx([4, *7 * [0]])
    # nothing is left for the second week; the replacement is there on day 11
    replaced = [mould(pulls_left=4, replacement="tool")]
    shop = Shop([SKIN, *TOOLS], replaced, spares_orders=WEEKLY, structure=CHAIN)
    assert there(shop) == pytest.approx([4, 0, 3.2, *5 * [4]])
    in_time = [mould(pulls_left=16, replacement="tool")]
    shop = Shop([SKIN, *TOOLS], in_time, spares_orders=WEEKLY, structure=CHAIN)
    assert there(shop) == [4.0] * 8


@pytest.mark.parametrize(
    ("asked", "left", "there"),
    [
        # four on Monday of the second week: they are left when it begins, and nothing after it
        ([(4, 6), (1, 12)], 4, [4, 4, *6 * [0]]),
        # worn on that Monday: one of its four is left
        ([(4, 3), (4, 6)], 5, [4, 1, *6 * [0]]),
    ],
)
def test_what_is_pulled_on_the_first_day_of_a_week_is_left_when_it_begins(
    asked: list[tuple[int, int]], left: int, there: list[float]
) -> None:
    needs = [need("skin", quantity, when) for quantity, when in asked]
    shop = Shop([SKIN], [mould(pulls_left=left)], spares_orders=needs)
    assert shop.plan.pulls["capacity"].to_list() == there


def test_a_week_that_ends_before_a_mould_is_replaced_in_time_gives_what_is_left() -> None:
    # two of five on day 2, three on day 7; on day 10 the replacement is there
    needs = [need("skin", 2, 3), need("skin", 3, 8), need("skin", 4, 11)]
    worn = [mould(pulls_left=5, replacement="tool")]
    shop = Shop([SKIN, item("tool", unit="pc", lead_days=5)], worn, spares_orders=needs)
    assert shop.of("M1")[1:] == (day(10), day(5), 0)
    assert shop.plan.pulls["capacity"].to_list() == [4, 3, *6 * [4]]


def test_the_pulls_of_new_year_are_those_of_the_last_week_of_the_old_one() -> None:
    shop = Shop([SKIN], [mould()], spares_orders=[need("skin", 2, date(2027, 1, 4))])
    assert shop.plan.orders["start_date"].to_list() == [date(2027, 1, 1)]
    pulled = shop.plan.pulls.filter(pl.col("pulls") > 0)
    assert pulled.rows() == [("skin", "2026-W53", 2, 4, 0)]


def test_levelling_goes_by_the_moulds_that_are_left() -> None:
    several = [mould("M1", pulls_per_week=2, pulls_left=1), mould("M2", pulls_per_week=2)]
    needs = [need("skin", 2, 3), need("skin", 4, 13)]
    shop = Shop([SKIN], several, pull=1, spares_orders=needs)
    # M1 does one of the first two; M2 alone has two pulls in the third week, and two before
    assert shop.starts("skin") == [(2, 2), (9, 2), (12, 2)]
    pulls = shop.plan.pulls.filter(pl.col("pulls") > pl.col("capacity") + 1e-9)
    assert pulls.is_empty()


def test_nothing_is_pulled_to_where_no_pull_is_left() -> None:
    needs = [need("skin", 5, 12)]
    tables = {"spares_orders": needs, "structure": CHAIN}
    worn = [mould(pulls_left=0, replacement="tool")]
    assert Shop([SKIN, *TOOLS], worn, **tables).of("M1")[1] == day(11)
    assert Shop([SKIN, *TOOLS], worn, pull=1, **tables).of("M1")[1] == day(11)


def test_a_week_gives_no_more_than_the_pulls_left_and_levelling_adds_nothing_to_it() -> None:
    tool = item("tool", unit="pc", lead_days=20)
    needs = [need("skin", 1, when) for when in (3, 9, 13)]  # starts on days 2, 8 and 12
    for pull in (0, 2):
        worn = [mould(pulls_left=1, pulls_per_week=5, replacement="tool")]
        shop = Shop([SKIN, tool], worn, pull, spares_orders=needs)
        assert shop.starts("skin") == [(2, 1), (8, 1), (12, 1)]
        there = shop.plan.pulls["capacity"].to_list()
        assert there[:4] == [1, 0, 0, 0] and there[4] == 5


def test_orders_in_the_days_without_a_mould_are_named_with_the_day_of_its_replacement() -> None:
    tool = item("tool", unit="pc", lead_days=20)
    needs = [need("skin", 1, when) for when in (3, 9, 13, 30)]
    shop = Shop([SKIN, tool], [mould(pulls_left=1, replacement="tool")], spares_orders=needs)
    plan = shop.plan
    gaps = gaps_of(plan.network, plan.worn, dict(shop.report.select("mould", "late_days").rows()))
    found = without_mould(plan.orders, shop.tables["moulds"], gaps)
    named = plan.orders.filter(pl.col("order").is_in(list(found)))
    assert named["start"].to_list() == [8, 12] and set(found.values()) == {20}
    # another mould that lasts does what is left
    both = [mould(pulls_left=1, replacement="tool"), mould("M2")]
    shop = Shop([SKIN, tool], both, spares_orders=needs)
    assert without_mould(shop.plan.orders, shop.tables["moulds"], {"M1": range(8, 20)}) == {}


def test_several_alike_are_replaced_together() -> None:
    worn = [mould(count=3, replacement="tool", pulls_left=16)]
    shop = Shop([SKIN, *TOOLS], worn, spares_orders=WEEKLY, structure=CHAIN)
    assert shop.starts("tool") == [(17, 3)]


def test_only_what_is_made_here_can_have_a_mould() -> None:
    def said(source: str) -> list[tuple[object, ...]]:
        items = [SKIN | {"source": source}, item("cloth")]
        lines = [line("skin", "cloth")] if source != "buy" else []
        shop = Shop(items, [mould()], spares_orders=WEEKLY, structure=lines)
        found = [each for each in structure_findings(shop.tables) if each.table == "moulds"]
        return [(each.row, each.column, each.value, each.severity) for each in found]

    assert said("make") == []
    for source in ("buy", "print", "phantom", "kit"):
        assert said(source) == [(2, "item", "skin", "error")]


def test_a_plan_that_comes_to_no_rest_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    worn = [mould(replacement="tool", pulls_left=16)]
    tables = {"spares_orders": WEEKLY, "structure": CHAIN}
    assert Shop([SKIN, *TOOLS], worn, **tables).plan.settled
    monkeypatch.setattr("bomkit.planning.shop_plan._MOST_ROUNDS", 0)
    assert not Shop([SKIN, *TOOLS], worn, **tables).plan.settled


ASKED = [  # quantity and the day on which it must leave
    *((1, date(2027, 1, 22)), (2, date(2027, 1, 15)), (2, date(2026, 12, 6))),
    *((2, date(2026, 12, 18)), (3, date(2027, 2, 11)), (1, date(2027, 1, 13))),
    *((2, date(2026, 12, 6)), (2, date(2027, 2, 2)), (1, date(2027, 1, 22))),
    *((6, date(2027, 2, 6)), (3, date(2027, 1, 30)), (6, date(2026, 12, 12))),
    *((6, date(2027, 2, 16)), (1, date(2026, 12, 21)), (3, date(2027, 1, 9))),
    *((6, date(2027, 1, 3)), (6, date(2027, 2, 5)), (1, date(2027, 1, 19)), (1, date(2027, 2, 1))),
]


def test_two_moulds_of_which_one_wears_come_to_rest_and_the_gap_is_that_of_the_plan() -> None:
    closed = [date(2026, 12, 14), date(2026, 12, 17), date(2027, 1, 8), date(2027, 1, 12)]
    shop = Shop(
        [
            item("skin", source="make", unit="pc", lead_days=3),
            item("new mould", unit="pc", lead_days=24),
        ],
        [
            mould("M", count=2, pulls_per_week=5, pulls_left=15, replacement="new mould"),
            mould("N", count=1, pulls_per_week=1),
        ],
        pull=1,
        spares_orders=[need("skin", quantity, when) for quantity, when in ASKED],
        calendar=[{"date": when} for when in closed],
    )
    assert shop.plan.settled
    [worn] = shop.report.filter(pl.col("mould") == "M").to_dicts()
    # ordered on the first day, its replacement is there 24 working days later
    axis = shop.plan.network.axis
    worn_on = int(axis.working_days_before(pl.Series([worn["runs_out"]]))[0])
    assert worn["late_days"] == 24 - worn_on
    assert f"{24 - worn_on} working days before new mould can be ready" in shop.findings[0].message
    # ten of eleven pulls are its own until then, and no more of them than are left
    pulled = shop.plan.orders.filter((pl.col("item") == "skin") & (pl.col("start") < worn_on))
    assert pulled["quantity"].sum() * 10 / 11 <= 15
