"""Whose turn it is: by rank, and only within a rank by day."""

import pytest

from bomkit.planning.pegging.ranked_demands import RANKS
from tests.planning.driver import Plan, airframe, day, line, lot, need, piece, plan_over, receipt
from tests.random_tables import Row

# in each case one bolt lies there, the other one can be there on day 60 only
ITEMS = [piece("glider", "make", 2), piece("seat", "make", 2), piece("bolt", lead=60)]
LINES = [line("glider", "bolt")]


def asked(who: str, when: int) -> dict[str, list[Row]]:
    """Tables in which somebody asks for a bolt on a day."""
    if who == "airframe":
        return {"build_plan": [airframe("K-1", "glider", when + 2)]}
    if who == "in work":
        lacks: Row = {"order": "W-1", "item": "bolt", "quantity": 1, "need_date": day(when)}
        return {"open_orders": [receipt("seat", 1, when + 2, order="W-1")], "allocations": [lacks]}
    return {"spares_orders": [need("bolt", 1, when, order=who, urgency=who)]}


def got(plan: Plan) -> str:
    """Who gets the bolt that lies there."""
    (name,) = [row[0] for row in plan.pegs_of("bolt") if row[3] == "stock"]
    return {"K-1": "airframe", "W-1": "in work"}.get(name, name)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("grounded", "airframe"),
        ("grounded", "in work"),
        ("grounded", "routine"),
        ("airframe", "routine"),
        ("in work", "routine"),
    ],
)
def test_who_ranks_first_is_served_first_though_the_other_asks_sooner(
    first: str, second: str
) -> None:
    tables = asked(first, 8) | {"stock": [lot("bolt", 1, lot="L1")], "structure": LINES}
    for name, rows in asked(second, 6).items():
        tables[name] = [*tables.get(name, []), *rows]
    assert got(plan_over(26, ITEMS, **tables)) == first


@pytest.mark.parametrize(("soon", "late"), [("airframe", "in work"), ("in work", "airframe")])
def test_airframes_and_work_in_hand_are_of_one_rank(soon: str, late: str) -> None:
    tables = asked(late, 8) | asked(soon, 6)
    tables |= {"stock": [lot("bolt", 1, lot="L1")], "structure": LINES}
    assert got(plan_over(26, ITEMS, **tables)) == soon


def test_an_order_for_several_takes_its_components_in_the_rank_of_its_first_one() -> None:
    # one order of two seats: it can begin when it has both bolts, so the glider waits for both
    tables = asked("airframe", 6) | {
        "stock": [lot("bolt", 2, lot="L1")],
        "structure": [*LINES, line("seat", "bolt")],
        "spares_orders": [
            need("seat", 1, 10, order="G", urgency="grounded"),
            need("seat", 1, 10, order="R"),
        ],
    }
    pegs = plan_over(26, ITEMS, **tables).pegs_of("bolt")
    assert sorted((who, kind) for who, _, _, kind, _ in pegs) == [
        ("G", "stock"),
        ("K-1", "planned order"),
        ("R", "stock"),
    ]


def test_work_in_hand_ranks_with_airframes_and_upkeep_after_all_who_ask_now() -> None:
    served = ["grounded", "airframe", "routine", "inspection", "stock"]
    assert sorted(served, key=RANKS.__getitem__) == served
    assert len({RANKS[kind] for kind in served}) == len(served)
    for as_airframes in ("in work", "mould", "several"):
        assert RANKS[as_airframes] == RANKS["airframe"]
