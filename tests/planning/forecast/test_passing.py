"""What phantoms and replaced items hand down is there with the last of what is in it."""

from bomkit.planning.settling import settled
from tests.planning.driver import Plan
from tests.planning.random_plans import FOLDERS, random_plan


def test_nothing_that_is_passed_on_counts_before_what_is_in_it() -> None:
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
    seen = 0
    for peg in first:
        supply = peg["supply_id"]
        if supply is None or supplies[supply]["kind"] != "passed on":
            continue
        for other in first:
            same = all(other[name] == peg[name] for name in ("from_id", "demand_id"))
            part = other["key"] // count in inside.get(peg["key"] // count, ())
            if same and part and other["supply_id"] is not None and other["day"] >= peg["day"]:
                lag = other["day"] - peg["day"]
                assert known[supply] >= known[other["supply_id"]] - lag
                seen += 1
    return seen
