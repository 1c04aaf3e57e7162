"""How pulls run down along orders, and the gaps that worn moulds leave, from tables by hand."""

import polars as pl
import pytest

from bomkit.planning.shops.moulds.pulls_left import run_down, wear
from bomkit.planning.shops.moulds.replacement_moulds import mould_report, with_mould_demands
from bomkit.planning.shops.moulds.worn_not_yet_replaced import (
    days_without_any,
    gaps_of,
    soonest_late,
    without_mould,
)
from bomkit.planning.tables_as_numbers.network import Network, build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, day, item, line
from tests.random_tables import Row

Order = tuple[str, int, float]  # name, start day, quantity


def moulds(*rows: Row) -> pl.DataFrame:
    """Moulds of the skin, 4 pulls a week each, unless a row says otherwise."""
    named = [{"item": "skin", "pulls_per_week": 4} | row for row in rows]
    return typed_tables({"moulds": named})["moulds"]


def orders(*rows: Order, of: str = "skin") -> pl.DataFrame:
    """Planned orders of one item."""
    frame = pl.DataFrame(rows, schema=["order", "start", "quantity"], orient="row")
    return frame.with_columns(pl.col("quantity").cast(pl.Float64), item=pl.lit(of))


def network() -> Network:
    """Four weeks in which a tool takes 3 days, 2 of safety, and its master 4 below it."""
    return build_network(
        typed_tables(
            {
                "plan": [{"start": MONDAY, "horizon_weeks": 4}],
                "items": [
                    item("skin", source="make", unit="pc"),
                    item("tool", source="make", unit="pc", lead_days=3, safety_days=2),
                    item("master", unit="pc", lead_days=4),
                ],
                "structure": [line("tool", "master")],
            }
        )
    )


def worn_days(asked: pl.DataFrame, own: pl.DataFrame) -> dict[str, tuple[float, int | None]]:
    """By mould its pulls and the day on which it is worn."""
    rows = wear(network(), asked, own).select("mould", "pulls", "day").rows()
    return {mould: (pulls, worn) for mould, pulls, worn in rows}


def test_a_mould_is_worn_by_the_first_pull_that_is_not_left_and_not_by_the_last_that_is() -> None:
    asked = orders(("P2", 7, 2), ("P1", 3, 2))
    assert worn_days(asked, moulds({"mould": "M", "pulls_left": 4})) == {"M": (4, None)}
    assert worn_days(asked, moulds({"mould": "M", "pulls_left": 3})) == {"M": (3, 7)}
    assert worn_days(asked, moulds({"mould": "M", "pulls_left": 2})) == {"M": (2, 7)}
    assert worn_days(asked, moulds({"mould": "M", "pulls_left": 1})) == {"M": (1, 3)}
    assert worn_days(asked, moulds({"mould": "M"})) == {"M": (4, None)}


def test_what_gives_nothing_a_week_is_asked_for_nothing_and_so_not_worn() -> None:
    idle = {"mould": "idle", "pulls_per_week": 0, "pulls_left": 3}
    asked = orders(("P1", 3, 2))
    assert worn_days(asked, moulds(idle, {"mould": "M"})) == {"idle": (0, None), "M": (2, None)}
    # alone it does not give way either: no other can be told from it
    assert worn_days(asked, moulds(idle)) == {"idle": (0, None)}
    assert run_down(asked, moulds(idle))[1] == []


def test_moulds_share_by_all_that_their_copies_give_and_those_left_take_over() -> None:
    own = moulds(
        {"mould": "A", "count": 2, "pulls_per_week": 1, "pulls_left": 1.5},
        {"mould": "B", "pulls_per_week": 4},
    )
    # a third and two thirds of six; A has no more than 1.5
    assert worn_days(orders(("P1", 3, 6)), own) == {"A": (1.5, 3), "B": (4.5, None)}
    slow = moulds({"mould": "A", "pulls_per_week": 0.5}, {"mould": "B", "pulls_per_week": 0.25})
    assert worn_days(orders(("P1", 3, 6)), slow) == {"A": (4, None), "B": (2, None)}


def test_orders_for_which_no_pull_is_left_are_told_by_item() -> None:
    own = moulds(
        {"mould": "M", "pulls_left": 3},
        {"mould": "F", "item": "fin", "pulls_left": 1},
        {"mould": "L", "item": "lug"},
    )
    asked = pl.concat(
        [
            orders(("P1", 1, 2), ("P2", 5, 1), ("P3", 6, 1), ("P0", 6, 1)),
            orders(("F1", 2, 2), of="fin"),
            orders(("L1", 2, 99), of="lug"),
            orders(("R1", 2, 99), of="rib"),
        ]
    )
    assert sorted(run_down(asked, own)[1]) == [
        ("F1", "fin", 2),
        ("P0", "skin", 6),
        ("P3", "skin", 6),
    ]


def test_an_item_is_without_a_mould_only_while_all_of_its_moulds_are_gone() -> None:
    own = moulds({"mould": "A"}, {"mould": "B"}, {"mould": "F", "item": "fin"})
    assert days_without_any(own, {"A": range(3, 9), "B": range(5, 12)}) == {"skin": range(5, 9)}
    assert days_without_any(own, {"A": range(3, 9)}) == {}
    assert days_without_any(own, {"A": range(3, 5), "B": range(5, 12)}) == {}
    assert days_without_any(own, {"F": range(2, 4)}) == {"fin": range(2, 4)}


def test_orders_without_a_mould_begin_when_its_replacement_is_there_if_not_later_anyway() -> None:
    own = moulds({"mould": "M", "pulls_left": 1})
    asked = orders(("P1", 2, 1), ("P2", 4, 1), ("P3", 8, 1), ("P4", 9, 1))
    assert without_mould(asked, own, {"M": range(4, 9)}) == {"P2": 9, "P3": 9}
    assert without_mould(asked, own, {}) == {}


@pytest.mark.parametrize(
    ("replacement", "late", "gap"),
    [
        ("tool", 0, range(7, 7)),
        ("tool", 3, range(7, 10)),
        ("tool", 99, range(7, 20)),  # to the end of the plan
        ("", 3, range(7, 20)),
    ],
)
def test_a_gap_lasts_until_the_replacement_is_there(
    replacement: str, late: int, gap: range
) -> None:
    own = moulds(
        {"mould": "M", "pulls_left": 1, "replacement": replacement},
        {"mould": "N", "item": "fin", "replacement": "tool"},
    )
    worn = wear(network(), orders(("P1", 7, 2)), own)
    assert gaps_of(network(), worn, {"M": late}) == {"M": gap}
    assert gaps_of(network(), worn, {"N": 5}) == {"M": gap if not replacement else range(7, 7)}


def test_a_replacement_of_which_nothing_is_there_takes_its_whole_chain() -> None:
    own = moulds(
        {"mould": "M", "pulls_left": 1, "replacement": "tool"},
        {"mould": "N", "item": "fin", "pulls_left": 1, "replacement": "tool"},
        {"mould": "O", "item": "lug", "pulls_left": 1},
        {"mould": "P", "item": "rib", "pulls_left": 9, "replacement": "tool"},
    )
    asked = pl.concat(
        [
            orders((f"P-{name}", start, 2), of=name)
            for name, start in (("skin", 7), ("fin", 12), ("lug", 3), ("rib", 3))
        ]
    )
    # 3 days, 2 of safety and 4 for the master: there on day 9
    assert soonest_late(network(), wear(network(), asked, own)) == {"M": 2, "N": 0}


def test_only_what_is_worn_and_names_a_replacement_asks_for_one() -> None:
    own = moulds(
        {"mould": "M", "count": 2, "pulls_left": 1, "replacement": "tool"},
        {"mould": "O", "item": "lug", "pulls_left": 1},
        {"mould": "P", "item": "rib", "pulls_left": 9, "replacement": "tool"},
    )
    asked = pl.concat([orders((f"P-{name}", 3, 3), of=name) for name in ("skin", "lug", "rib")])
    plain = network()
    wanting = with_mould_demands(plain, wear(plain, asked, own)).demands
    assert wanting.select("key", "day", "quantity", "demand", "kind").rows() == [
        (plain.items.filter(item="tool")["item_id"].item() * plain.serial_count, 3, 2, "M", "mould")
    ]
    assert with_mould_demands(plain, wear(plain, asked, own.slice(1))) is plain


def pegged(need: str, supply: str, wanted: int, comes: int | None, **columns: object) -> Row:
    """A peg of the demand that the mould M makes."""
    row: Row = {
        "demand_kind": "mould",
        "demand": "M",
        "from_order": need,
        "supply": supply,
        "need_date": day(wanted),
        "comes": None if comes is None else day(comes),
    }
    return row | columns


def report(*pegs: Row) -> tuple[object, ...]:
    """When the replacement of M is begun, and by how many days it comes too late."""
    own = moulds({"mould": "M", "pulls_left": 1, "replacement": "tool"})
    worn = wear(network(), orders(("P1", 7, 2)), own)
    planned = pl.DataFrame(
        [
            {"order": "make-1", "start_date": day(4)},
            {"order": "make-2", "start_date": day(2)},
            {"order": "buy-1", "start_date": day(3)},
        ]
    )
    rows = pl.DataFrame(pegs, schema_overrides={"comes": pl.Date})
    found = mould_report(network(), worn, rows, planned)
    return found.select("runs_out", "start_by", "late_days").row(0)


def test_a_replacement_begins_with_the_first_order_for_it() -> None:
    asked = [pegged("", "make-1", 7, 7), pegged("make-1", "buy-1", 4, 4)]
    assert report(*asked) == (day(7), day(3), 0)
    assert report(*asked, pegged("", "make-2", 7, 7, demand="other")) == (day(7), day(3), 0)
    assert report(*asked, pegged("", "make-2", 7, 7, demand_kind="routine")) == (
        *(day(7), day(3), 0),
    )


def test_what_a_replacement_lacks_puts_it_off_with_the_latest_of_each_level_added_up() -> None:
    late = [
        pegged("", "make-1", 7, 8),
        pegged("", "make-2", 7, 7),
        pegged("make-1", "buy-1", 4, 6),
        pegged("make-1", "buy-2", 4, 5),
        pegged("make-2", "buy-3", 4, 9),
    ]
    assert report(*late[:1])[2] == 1
    assert report(*late[:4])[2] == 1 + 2
    assert report(*late)[2] == 5  # the second of them by its own component
    # early is not in time for somebody else, and what nothing brings is not counted
    assert report(pegged("", "make-1", 7, 3), pegged("make-1", "buy-1", 4, 6))[2] == 0
    assert report(pegged("", "", 7, None))[2] == 0
