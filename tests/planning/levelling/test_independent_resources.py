"""Resources in groups: which belong together, and that each is levelled as if alone."""

import pytest

from bomkit.planning.levelling.independent_resources import parted
from bomkit.planning.levelling.resources import Resource, Resources
from bomkit.planning.levelling.room import Use
from tests.planning.driver import item, need
from tests.planning.levelling.test_levelled_plan import SKIN, levelled
from tests.random_tables import Row


def resources(uses: dict[int, tuple[Use, ...]], count: int = 5) -> Resources:
    """Some processes, of each one hour more a week than of the one before."""
    names = [Resource("process", f"P{number}") for number in range(count)]
    return Resources(names, [[float(number)] for number in range(count)], [0], uses)


def test_resources_that_some_order_uses_together_are_one_group() -> None:
    one, two, three = Use(0, 1.0), Use(3, 2.0, 5.0), Use(4, 3.0, spread=True)
    found = parted(resources({7: (one, two), 8: (three, Use(3, 2.0)), 9: (Use(1, 4.0),)}))
    assert [list(part.uses) for part in found] == [[7, 8], [9]]
    assert [part.capacity for part in found] == [[[0.0], [3.0], [4.0]], [[1.0]]]
    uses = [(use.resource, use.each, use.once, use.spread) for use in found[0].uses[8]]
    assert uses == [(2, 3.0, 0.0, True), (1, 2.0, 0.0, False)]
    assert found[0].uses[7][1].once == 5.0


def test_items_that_use_the_same_are_alike() -> None:
    (part,) = parted(resources({7: (Use(2, 1.5),), 8: (Use(2, 1.5),), 9: (Use(2, 1.0),)}))
    assert part.uses[7] is part.uses[8]
    assert part.uses[9] is not part.uses[8]


@pytest.mark.parametrize("other", [0, 4], ids=["alone", "beside others"])
def test_work_of_one_shop_is_pulled_the_same_whatever_the_others_have_to_do(other: int) -> None:
    shops: list[Row] = [{"process": name, "hours_per_week": 10} for name in ("lay-up", "paint")]
    wanted = [need("skin", 3, 16), *(need("door", other, 16) for _ in range(min(other, 1)))]
    door = SKIN | {"item": "door", "process": "paint"}
    plan = levelled([SKIN, door, item("cloth")], processes=shops, spares_orders=wanted)
    assert plan.starts("skin") == [(14, 1), (15, 2)]
    assert plan.starts("door") == ([(14, 2), (15, 2)] if other else [])
