"""Groups that levelling takes over from the plan before: what comes out is as if none was."""

from dataclasses import replace

import numpy as np
import pytest

from bomkit.planning.levelling.levelled_plan import LevelledPlan
from bomkit.planning.shop_plan import Turn, last_turn
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.words.progress import silent
from tests.builders import typed_tables
from tests.planning.levelling.test_levelled_plan import tight_tables
from tests.random_tables import Tables

# folders with spares orders in which something is pulled forward
SEEDS = [700, 702, 705, 707, 710, 711, 718, 720, 721, 739, 742, 747, 753, 759, 760, 762, 768, 773]
WEEKS = 4


def turn_of(tables: Tables, last: Turn | None) -> Turn:
    """The plan of tables, after another one."""
    typed = typed_tables(tables)
    return last_turn(build_network(typed), typed, WEEKS, silent, last)


def with_more_of_one(tables: Tables) -> Tables:
    """The tables, with more of what one spares order asks for."""
    first, *others = tables["spares_orders"]
    more = {**first, "quantity": 2 * float(str(first["quantity"])) + 1}
    return {**tables, "spares_orders": [more, *others]}


def without_groups(turn: Turn) -> Turn:
    """The same plan, with nothing to go on from but its limits."""
    assert turn.levelled
    return replace(turn, levelled=replace(turn.levelled, groups=()))


def levelled(turn: Turn) -> LevelledPlan:
    """What levelling made of a plan."""
    assert turn.levelled
    return turn.levelled


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_after_another_is_levelled_as_if_nothing_was_known(seed: int) -> None:
    tables = tight_tables(seed, lots=False)
    first = turn_of(tables, None)
    assert len(levelled(first).moves)
    kept = without_groups(first)
    again = turn_of(with_more_of_one(tables), first)
    anew = turn_of(with_more_of_one(tables), kept)
    assert np.array_equal(again.flows.quantities.starts, anew.flows.quantities.starts)
    assert levelled(again).moves.equals(levelled(anew).moves)
    assert levelled(again).held == levelled(anew).held
    assert levelled(again).settled == levelled(anew).settled


def test_a_group_is_taken_over_where_nothing_of_its_shop_changed_and_no_other() -> None:
    found = [_taken_over(seed) for seed in SEEDS]
    kept = sum(own for own, _ in found)
    assert 0 < kept < sum(count for _, count in found)


def _taken_over(seed: int) -> tuple[int, int]:
    """Of how many groups one is another's, where the hours of one shop differ, and of how many."""
    tables = tight_tables(seed, lots=False)
    first = turn_of(tables, None)
    shop, *others = tables["processes"]
    hours = [{**shop, "hours_per_week": 1}, *others]
    other = turn_of({**tables, "processes": hours}, first)
    groups = levelled(other).groups
    return sum(group in levelled(first).groups for group in groups), len(groups)
