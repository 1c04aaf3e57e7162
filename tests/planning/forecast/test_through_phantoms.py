"""What phantoms and replaced items hand down is there with the last of what is in it."""

from bomkit.planning.allocation_by_forecast import settled
from tests.planning.driver import Plan, airframe, line, lot, piece, plan_of, receipt
from tests.planning.random_plans import FOLDERS, random_plan
from tests.random_tables import Row


def passed_on(plan: Plan, name: str) -> list[int]:
    """The days on which what an item hands down can be there, in the order of its needs."""
    turn = settled(plan.stores.made, plan.stores.by_plan)
    supplies = plan.network.named(turn.pegged.supplies).to_dicts()
    known = turn.foreseen.comes.tolist()
    return [
        known[row["supply_id"]]
        for row in supplies
        if row["item"] == name and row["kind"] == "passed on"
    ]


def test_each_aircraft_waits_for_what_its_own_set_and_its_own_replacement_hand_down() -> None:
    plan = plan_of(
        [
            piece("glider", "make", 3),
            piece("set", "phantom"),
            piece("old", "buy", 2),
            piece("new", "buy", 7),
            piece("bolt", "buy", 9),
        ],
        structure=[line("glider", "set"), line("set", "old"), line("set", "bolt")],
        build_plan=[
            airframe("KL-1", "glider", 5),
            airframe("KL-2", "glider", 6),
            airframe("KL-3", "glider", 12),
        ],
        stock=[lot("bolt", 1), lot("old", 1)],
        open_orders=[receipt("bolt", 1, 4)],
        replacements=[{"old": "old", "new": "new"}],
    )
    # by the plan on days 2, 3 and 9; the second one's new part, asked for on day 3, comes on day 7
    assert passed_on(plan, "set") == [2, 7, 9]
    assert passed_on(plan, "old") == [7, 9]


def test_nobody_waits_for_what_another_ones_set_lacks() -> None:
    # the slow one begins on day 0 and has the bolt that lies there; all others wait for day 15
    plan = plan_of(
        [
            piece("fast", "make", 1),
            piece("slow", "make", 9),
            piece("set", "phantom"),
            piece("bolt", "buy", 15),
        ],
        structure=[line("fast", "set"), line("slow", "set"), line("set", "bolt")],
        build_plan=[
            airframe("KL-1", "fast", 6),
            airframe("KL-2", "fast", 7),
            airframe("KL-3", "fast", 8),
            airframe("KL-4", "slow", 9),
        ],
        stock=[lot("bolt", 1)],
    )
    assert passed_on(plan, "set") == [0, 15, 15, 15]


def test_what_is_in_a_set_and_needed_again_some_days_later_holds_it_up_by_less() -> None:
    items = [piece("glider", "make", 6), piece("set", "phantom"), piece("bolt", "buy", 12)]
    tables: dict[str, list[Row]] = {
        "structure": [
            line("glider", "set"),
            line("set", "bolt"),
            line("glider", "bolt", offset_days=3),
        ],
        "build_plan": [airframe("KL-1", "glider", 8)],
    }
    # the bolt of day 5 comes on day 12: the glider begins seven days later, and so needs the set
    assert passed_on(plan_of(items, **tables, stock=[lot("bolt", 1)]), "set") == [9]
    assert passed_on(plan_of(items, **tables, stock=[lot("bolt", 2)]), "set") == [2]


def test_what_is_passed_on_counts_with_the_last_of_what_is_in_it() -> None:
    seen = 0
    for seed in FOLDERS:
        plan = random_plan(seed)
        seen += _checked(plan)
    assert seen > len(FOLDERS) / 3


def _checked(plan: Plan) -> int:
    """How many passed-on supplies of a plan were held against what is in them."""
    supplies = plan.pegged.supplies.to_dicts()
    stores = plan.stores
    turn = settled(stores.made, stores.by_plan)
    known = turn.foreseen.comes.tolist()
    first = turn.pegged.pegs.to_dicts()
    inside: dict[int, set[int]] = {}
    for parent, child in plan.network.lines.select("parent_id", "child_id").iter_rows():
        inside.setdefault(parent, set()).add(child)
    count = plan.network.serial_count
    expected = {row["supply_id"]: row["usable"] for row in supplies if row["kind"] == "passed on"}
    seen = 0
    for peg in first:
        supply = peg["supply_id"]
        if supply not in expected:
            continue
        for other in first:
            same = all(other[name] == peg[name] for name in ("from_id", "demand_id"))
            part = other["key"] // count in inside.get(peg["key"] // count, ())
            if same and part and other["supply_id"] is not None and other["day"] >= peg["day"]:
                there = known[other["supply_id"]] - (other["day"] - peg["day"])
                expected[supply] = max(expected[supply], there)
                seen += 1
    assert {supply: known[supply] for supply in expected} == expected
    return seen
