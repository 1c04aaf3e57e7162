"""How long what serves a need must last: of orders that begin later than planned, and of others."""

import numpy as np

from bomkit.planning.pegging.must_last import Foreseen
from tests.planning.driver import Plan, line, lot, need, piece, plan_of
from tests.random_tables import Row


def glued(*more: Row) -> Plan:
    """An arm that begins six days late for its lamp, and a zip that needs glue on day 6."""
    glue: list[Row] = [lot("glue", 1, 7, lot="old"), lot("glue", 1, lot="new")]
    return plan_of(
        [
            piece("arm", "make", 2),
            piece("lamp", "buy", 12),
            piece("zip", "make", 2),
            piece("glue", "buy", 1),
        ],
        structure=[line("arm", "lamp"), line("zip", "glue"), *more],
        spares_orders=[need("arm", 1, 8, order="S1"), need("zip", 1, 8, order="S2")],
        stock=glue,
    )


def lots_of(plan: Plan, demand: str) -> list[str]:
    """The lots of glue that serve a demand."""
    return [row[4] for row in plan.pegs_of("glue") if row[0] == demand]


def test_what_begins_on_its_day_takes_what_lasts_until_then_whoever_else_is_late() -> None:
    assert lots_of(glued(), "S2") == ["old"]


def test_what_begins_later_takes_what_still_lasts_then() -> None:
    plan = glued(line("arm", "glue"))
    assert lots_of(plan, "S1") == ["new"] and lots_of(plan, "S2") == ["old"]


def test_of_two_forecasts_the_later_days_count_whichever_knows_of_them() -> None:
    one = Foreseen(np.array([3, 5]), {1: 2, 4: 6}, {0: 7})
    other = Foreseen(np.array([4, 2]), {1: 3, 2: 1}, {5: 9})
    latest = one.not_before(other)
    assert latest.comes.tolist() == [4, 5]
    assert latest.delays == {1: 3, 2: 1, 4: 6} and latest.leaves == {0: 7, 5: 9}
