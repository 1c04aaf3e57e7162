"""On which day a box can leave: with the last of what is pegged to it, once the kit is packed."""

import polars as pl

from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.promises.leaving import leaving_days
from bomkit.tables.shared_columns import NEVER

COLUMNS = ("asked_id", "from_id", "day", "start", "arrival", "order_id", "passes", "lead")
Peg = tuple[int, int, int, int | None, int, int | None, bool, int | None]


def leaving(*pegs: Peg) -> dict[int, int]:
    """By row of spares_orders the day."""
    return leaving_days(pl.DataFrame(pegs, schema=COLUMNS, orient="row"))


def test_a_part_that_a_kit_needs_later_than_its_start_leaves_less_time_to_pack_after_it() -> None:
    # the kit takes three days from its start on day 4; the part is needed on day 5, there on day 6
    kit: Peg = (0, OUTSIDE, 7, None, 7, 2, False, 3)
    assert leaving(kit, (0, 2, 5, 4, 6, None, False, None)) == {0: 8}
    assert leaving(kit, (0, 2, 4, 4, 6, None, False, None)) == {0: 9}
    assert leaving(kit, (0, 2, 9, 4, 6, None, False, None)) == {0: 6}


def test_what_nothing_brings_never_leaves() -> None:
    assert leaving((0, OUTSIDE, 7, None, NEVER, None, False, None)) == {0: NEVER}
    kit: Peg = (0, OUTSIDE, 7, None, 7, 2, False, 3)
    assert leaving(kit, (0, 2, 4, 4, NEVER, None, False, None)) == {0: NEVER}


def test_what_is_handed_on_is_no_part_of_the_box_itself() -> None:
    assert leaving((0, OUTSIDE, 7, None, 30, None, True, None)) == {}
