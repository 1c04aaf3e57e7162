"""How many pieces a fleet uses in a year, where rates, hours or records are few."""

from datetime import date
from itertools import pairwise

import pytest

from tests.planning.driver import line
from tests.planning.fleet.spares_stock.test_holdings import KELTO, aircraft, pc, use_of, yearly
from tests.random_tables import Row

RATE: Row = {"item": "tyre", "per_1000_hours": 4.0}
ISSUED: Row = {"item": "tyre", "date": date(2026, 11, 20), "quantity": 6.0}
UNFLOWN: list[Row] = [aircraft(f"K-{number}", hours=None) for number in (1, 2, 3)]


def test_rates_by_hours_and_by_the_year_are_added_up() -> None:
    # 500 hours at 4 in a thousand, and 0.3 of each of the two with tyres
    assert yearly(use_of(KELTO, usage=[RATE | {"per_year": 0.3}])) == {"tyre": 2.6}


def test_a_part_of_one_aircraft_alone_counts() -> None:
    use = use_of(KELTO, ("K-1",), usage=[RATE])
    assert use.parts.rows() == [("tyre", 1, 0.8, "usage")]


def test_where_no_hours_are_stated_at_all_nothing_is_used_by_hours() -> None:
    use = use_of(KELTO, fleet=UNFLOWN, usage=[RATE])
    assert yearly(use) == {"tyre": 0.0} and use.assumed == ["K-1", "K-2", "K-3"]


def test_only_aircraft_asked_for_are_told_as_without_hours() -> None:
    use = use_of(KELTO, ("K-2",), fleet=UNFLOWN, usage=[RATE])
    assert use.assumed == ["K-2"]


def test_where_no_hours_are_stated_what_was_issued_is_shared_by_aircraft() -> None:
    assert yearly(use_of(KELTO, ("K-1", "K-2"), fleet=UNFLOWN, issues=[ISSUED])) == {"tyre": 4.0}
    few = [aircraft("K-1", hours=0.5), aircraft("K-3", hours=0.25)]
    assert yearly(use_of(KELTO, ("K-1",), fleet=few, issues=[ISSUED])) == {"tyre": 4.0}


def test_an_issue_of_the_first_day_of_the_plan_is_not_past_and_makes_no_record_long() -> None:
    first = ISSUED | {"date": date(2026, 11, 30)}
    assert yearly(use_of(KELTO, issues=[first])) == {}
    assert yearly(use_of(KELTO, issues=[ISSUED, first])) == {"tyre": 6.0}


@pytest.mark.parametrize("count", [1, 2, 3])
def test_what_was_replaced_again_and_again_counts_for_the_last(count: int) -> None:
    names = ["tyre", *(f"tyre {number}" for number in range(2, count + 2))]
    items = [*KELTO, *(pc(name) for name in names[1:])]
    chain: list[Row] = [{"old": old, "new": new} for old, new in pairwise(names)]
    use = use_of(items, replacements=chain, usage=[{"item": "tyre", "per_year": 1.0}])
    assert yearly(use) == {names[-1]: 2.0}


def test_a_part_that_only_the_line_has_is_used_by_nobody_and_one_beside_all_by_everybody() -> None:
    # the build plan's own item has the ski, no aircraft of the fleet has
    items = [*KELTO, pc("duck"), pc("ski"), pc("oil kit")]
    items[-3] |= {"source": "make"}
    use = use_of(
        items,
        structure=[line("kelto", "tyre"), line("duck", "ski")],
        build_plan=[{"serial": "D-1", "item": "duck", "ready_date": date(2026, 12, 7)}],
        usage=[{"item": name, "per_year": 1.0} for name in ("ski", "oil kit", "tyre")],
    )
    assert yearly(use) == {"oil kit": 3.0, "tyre": 3.0}
    assert use.left_out.rows() == [("ski", "nobody")]
