"""Spares to hold where coming inspections are counted beside what fails."""

from datetime import date, timedelta
from itertools import product
from random import Random

import numpy as np
import polars as pl
import pytest
from scipy import stats

from bomkit.planning.fleet.spares_stock.best_next_piece import best_purchases, purchases_in_order
from bomkit.planning.fleet.spares_stock.holdings import Holdings, Question, holdings
from bomkit.planning.fleet.spares_stock.inspections_in_stock import (
    foreseen_needs,
    most_at_once,
    with_due,
)
from bomkit.planning.fleet.spares_stock.stock_for_target import (
    at_stock,
    smallest_stocks,
    stock_levels,
)
from tests.builders import Rows, typed_tables
from tests.planning.driver import MONDAY, item, line
from tests.random_tables import Row

ASKED = Question(0.95, inspections=True)


def pc(name: str, **columns: object) -> Row:
    return item(name, unit="pc", **columns)


def aircraft(serial: str, months: int, **columns: object) -> Row:
    """An aircraft without hours that was delivered some months before the plan's first day."""
    row: Row = {"serial": serial, "item": "kelto", "delivered": date(2026, 11 - months, 30)}
    return row | columns


KELTO: list[Row] = [
    item("kelto", source="make", unit="pc"),
    pc("seal", lead_days=15, cost=10.0, mass_g=500.0),
]
# the seals of K-1 fall due on 30 December, of K-2 on 30 January, of K-3 on 28 February
FLEET: list[Row] = [aircraft("K-1", 5), aircraft("K-2", 4), aircraft("K-3", 3)]
EVERY_HALF_YEAR: list[Row] = [{"item": "seal", "quantity": 2.0, "every_months": 6}]


def tables_of(items: Rows = KELTO, /, **rows: Rows) -> dict[str, pl.DataFrame]:
    tables = {
        "plan": [{"start": MONDAY, "horizon_weeks": 16}],
        "items": items,
        "structure": [line("kelto", "seal")],
        "fleet": FLEET,
        "inspection_rules": EVERY_HALF_YEAR,
    }
    return typed_tables({**tables, **rows})


def answer(question: Question = ASKED, items: Rows = KELTO, /, **rows: Rows) -> Holdings:
    return holdings(tables_of(items, **rows), question)


def only_part(held: Holdings) -> dict[str, object]:
    [part] = held.parts.rows(named=True)
    return part


def test_what_inspections_take_within_a_resupply_time_is_kept() -> None:
    # 15 working days reach from no due date to the next, so two seals are enough for all
    part = only_part(answer())
    assert (part["due"], part["hold"], part["gap"], part["yearly"]) == (2, 2, 2, 0.0)
    assert (part["chance"], part["backorders"], part["source"]) == (1.0, 0.0, "inspections")
    assert part["aircraft"] == 3


@pytest.mark.parametrize(("lead", "due"), [(0, 0), (1, 2), (20, 2), (21, 4), (42, 4), (43, 6)])
def test_due_dates_come_together_where_a_piece_takes_longer_to_replace(lead: int, due: int) -> None:
    # 30 December is day 22, 29 January (the working day before the 30th) day 44, 26 February 64
    items = [KELTO[0], KELTO[1] | {"lead_days": lead}]
    needs = foreseen_needs(tables_of(items), (), by_calendar=False)
    assert needs["day"].to_list() == [22, 44, 64]
    found = answer(ASKED, items).parts["due"].to_list()
    assert found == [due]


def _naive(needs: list[tuple[int, float]], span: int) -> int:
    """The most within any stretch of days, by trying each day as its first."""
    first_days = range(-1, max((day for day, _ in needs), default=0) + 1)
    sums = [sum(q for day, q in needs if first <= day < first + span) for first in first_days]
    return -int(-round(max(sums, default=0.0), 9) // 1)


def test_the_most_at_once_is_that_of_trying_every_stretch() -> None:
    for seed in range(200):
        chance = Random(seed)
        needs = [
            (chance.randint(0, 40), chance.choice([0.5, 1.0, 2.0]))
            for _ in range(chance.randint(0, 12))
        ]
        span = chance.randint(0, 25)
        frame = pl.DataFrame(
            {
                "item": ["a"] * len(needs),
                "day": [day for day, _ in needs],
                "quantity": [quantity for _, quantity in needs],
            },
            schema={"item": pl.String, "day": pl.Int64, "quantity": pl.Float64},
        )
        found = most_at_once(frame, pl.DataFrame({"item": ["a"], "span": [span]}))
        assert found["due"].to_list() == [_naive(needs, span)], seed


def levels_of(mean: float, due: int, replaced: bool = True) -> pl.DataFrame:
    levels = stock_levels(pl.DataFrame({"item": ["a"], "mean": [mean]}), replaced=replaced)
    return with_due(levels, pl.DataFrame({"item": ["a"], "due": [due]}))


@pytest.mark.parametrize("mean", [0.0, 0.4, 4.32, 1800.0])
@pytest.mark.parametrize("due", [0, 1, 7])
def test_what_is_left_beyond_the_pieces_due_meets_what_fails(mean: float, due: int) -> None:
    levels = levels_of(mean, due)
    assert levels["held"].is_sorted() and levels["held"].is_unique().all()
    failing = stats.poisson(mean)
    first = int(levels["held"][0])
    assert first == 0 or not due
    left = levels["held"].to_numpy() - due
    assert levels["chance"].to_list() == pytest.approx(failing.cdf(left), rel=1e-9, abs=1e-14)
    assert levels["over"].to_list() == pytest.approx(failing.sf(left), rel=1e-9, abs=1e-14)
    served = [sum(failing.cdf(range(max(0, pieces)))) for pieces in left]
    beyond = mean - left + np.array(served)
    assert levels["backorders"].to_list() == pytest.approx(beyond, abs=1e-6)
    hold = smallest_stocks(levels, 0.95, fill_rate=False)["hold"][0]
    assert hold == due + max(0, int(failing.ppf(0.95)))


def test_as_much_is_served_as_is_there_and_never_more_than_is_asked_for() -> None:
    levels = levels_of(2.0, 3)
    [*rows] = at_stock(levels, pl.DataFrame({"item": ["a"] * 4, "held": [0, 2, 3, 40]})).rows(
        named=True
    )
    assert [row["asked"] for row in rows] == [5.0] * 4
    assert [row["served"] for row in rows] == pytest.approx([0, 2, 3, 5], abs=1e-9)
    assert [row["backorders"] for row in rows] == pytest.approx([5, 3, 2, 0], abs=1e-9)


def test_failures_come_on_top() -> None:
    # 2.609 a year, so in 15 working days 0.15 on the average: P(X <= 1) is 0.990
    rates = [{"item": "seal", "per_year": 2 * 0.4348333333}]
    part = only_part(answer(usage=rates))
    assert part["mean"] == pytest.approx(0.15, rel=1e-6)
    assert (part["due"], part["hold"], part["source"]) == (2, 3, "usage")
    assert part["chance"] == pytest.approx(stats.poisson(0.15).cdf(1), rel=1e-6)


def test_without_the_question_inspections_do_not_count() -> None:
    rates = [{"item": "seal", "per_year": 0.5}]
    part = only_part(answer(Question(0.95), usage=rates))
    assert (part["due"], part["hold"]) == (0, 1)
    assert answer(Question(0.95)).parts.is_empty()


def test_what_is_past_the_horizon_does_not_count() -> None:
    short = [{"start": MONDAY, "horizon_weeks": 4}]
    assert answer(ASKED, KELTO, plan=short).parts.is_empty()


def test_on_a_tour_its_own_aircraft_and_calendar_days_count() -> None:
    def due(serials: tuple[str, ...], days: int) -> int:
        held = answer(Question(0.95, serials=serials, days=days, inspections=True))
        return int(held.parts["due"].sum())

    # from 30 January to 28 February it is 29 days, from 30 December 60
    assert [due(("K-1", "K-2", "K-3"), days) for days in (29, 30, 60, 61)] == [2, 4, 4, 6]
    assert [due(("K-1", "K-3"), days) for days in (60, 61)] == [2, 4]


def test_a_budget_buys_what_is_sure_to_be_asked_for_first() -> None:
    items = [*KELTO, pc("tyre", lead_days=15, cost=10.0)]
    rates = [{"item": "tyre", "per_year": 10.0}]
    used = [line("kelto", "seal"), line("kelto", "tyre")]
    held = answer(Question(0.95, limit=20.0, inspections=True), items, usage=rates, structure=used)
    assert dict(held.parts.select("item", "hold").rows()) == {"seal": 2, "tyre": 0}
    assert held.spent == 20.0


def test_within_a_limit_no_other_set_leaves_fewer_backorders() -> None:
    for seed in range(60):
        chance = Random(seed)
        names = ["a", "b", "c"]
        means = pl.DataFrame({"item": names, "mean": [chance.choice([0.0, 0.3, 1.5])] * 3})
        due = pl.DataFrame({"item": names, "due": [chance.randint(0, 2) for _ in names]})
        levels = with_due(stock_levels(means), due)
        prices = [float(chance.randint(1, 6)) for _ in names]
        base = [chance.randint(0, 1) for _ in names]
        priced = pl.DataFrame({"item": names, "price": prices, "base": base})
        limit = float(chance.randint(0, 14))
        held = best_purchases(purchases_in_order(levels, priced), priced, limit).held
        found = at_stock(levels, held.select("item", held="hold"))["backorders"].sum()
        sets = [
            each
            for each in product(range(16), repeat=3)
            if all(s >= b for s, b in zip(each, base, strict=True))
            and sum((s - b) * p for s, b, p in zip(each, base, prices, strict=True)) <= limit
        ]
        stocks = [stock for each in sets for stock in each]
        every = pl.DataFrame({"item": names * len(sets), "held": stocks})
        left = at_stock(levels, every)["backorders"].to_numpy().reshape(-1, 3).sum(axis=1)
        assert found == pytest.approx(left.min(), abs=1e-5), seed


def test_the_share_of_all_demand_counts_what_inspections_take() -> None:
    held = answer(Question(0.95, measure="fill-rate", limit=10.0, inspections=True))
    assert (held.before, held.assurance) == (0.0, 0.5)  # one of two seals
    assert held.needed == 20.0


def test_a_part_that_inspections_take_is_kept_though_no_aircraft_contains_it() -> None:
    items = [*KELTO, pc("kit", lead_days=5)]
    works = [{"item": "kit", "every_months": 6}]
    rates = [{"item": "seal", "per_year": 0.5}, {"item": "kit", "per_year": 0.1}]
    held = answer(ASKED, items, inspection_rules=works, usage=rates)
    assert dict(held.parts.select("item", "due").rows()) == {"seal": 0, "kit": 1}
    assert held.left_out.is_empty()


@pytest.mark.parametrize(("pieces", "left_out"), [(10_000, []), (10_001, ["seal"])])
def test_ten_thousand_pieces_are_still_told_and_one_more_is_not(
    pieces: int, left_out: list[str]
) -> None:
    held = answer(fleet=FLEET[:1], inspection_rules=[EVERY_HALF_YEAR[0] | {"quantity": pieces}])
    assert held.left_out["item"].to_list() == left_out
    assert held.parts["due"].to_list() == [] if left_out else [pieces]


@pytest.mark.parametrize(
    ("kept", "reason"), [({"unit": "kg"}, "measure"), ({"source": "phantom"}, "phantom")]
)
def test_what_can_not_be_kept_is_left_out_with_the_reason(
    kept: dict[str, object], reason: str
) -> None:
    held = answer(ASKED, [KELTO[0], KELTO[1] | kept])
    assert held.parts.is_empty()
    assert held.left_out.rows() == [("seal", reason)]


def test_the_part_in_the_place_of_a_replaced_one_is_kept() -> None:
    items = [*KELTO, pc("seal-2", lead_days=15)]
    held = answer(ASKED, items, replacements=[{"old": "seal", "new": "seal-2"}])
    assert held.parts.select("item", "due", "aircraft").rows() == [("seal-2", 2, 3)]


def test_needs_are_those_of_the_plan_day_for_day() -> None:
    fleet = [aircraft("K-1", 5), aircraft("K-2", 6, delivered=date(2026, 6, 6))]
    needs = foreseen_needs(tables_of(fleet=fleet), (), by_calendar=False)
    # 6 December is a Sunday: the Friday before, day 4
    assert needs.select("serial", "day", "quantity").rows() == [("K-2", 4, 2.0), ("K-1", 22, 2.0)]
    calendar = foreseen_needs(tables_of(fleet=fleet), (), by_calendar=True)["day"].to_list()
    assert calendar == [6, 30] and MONDAY + timedelta(days=6) == date(2026, 12, 6)
