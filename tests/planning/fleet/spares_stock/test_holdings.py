"""Spares to hold: use, resupply, stock, and the best set within a limit."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise, product
from random import Random

import polars as pl
import pytest
from scipy import stats

from bomkit.planning.fleet.spares_stock.best_next_piece import (
    assurance_path,
    best_purchases,
    purchases_in_order,
)
from bomkit.planning.fleet.spares_stock.holdings import Holdings, Question, holdings
from bomkit.planning.fleet.spares_stock.stock_for_target import (
    at_stock,
    smallest_stocks,
    stock_levels,
)
from bomkit.planning.fleet.spares_stock.yearly_use import Use, yearly_use
from bomkit.planning.structure.fitted_items import all_links, contained_items, mentioned_items
from tests.builders import Rows, typed_tables
from tests.planning.driver import MONDAY, item, line
from tests.random_tables import Row

MEANS = (0.0, 1e-9, 0.003, 0.4, 1.0, 4.32, 17.0, 123.4, 700.0, 2999.5)
TARGETS = (1e-6, 0.3, 0.5, 0.9, 0.95, 0.999, 1 - 1e-9)


def levels_of(means: Sequence[float]) -> pl.DataFrame:
    names = [f"part {number:02}" for number in range(len(means))]
    return stock_levels(pl.DataFrame({"item": names, "mean": list(means)}))


def pc(name: str, **columns: object) -> Row:
    return item(name, unit="pc", **columns)


def aircraft(serial: str, options: str = "", hours: float | None = 200) -> Row:
    return {"serial": serial, "item": "kelto", "options": options, "hours_per_year": hours}


KELTO: list[Row] = [item("kelto", source="make", unit="pc"), pc("tyre", lead_days=10, cost=90.0)]
FLEET: list[Row] = [aircraft("K-1"), aircraft("K-2", "SKIS", 100), aircraft("K-3", hours=300)]


def tables_of(items: Rows, /, **rows: Rows) -> dict[str, pl.DataFrame]:
    settings = [{"start": MONDAY, "horizon_weeks": 4}]
    structure = [line("kelto", "tyre", without_option="SKIS")]
    return typed_tables(
        {"plan": settings, "items": items, "structure": structure, "fleet": FLEET, **rows}
    )


def use_of(items: Rows, serials: tuple[str, ...] = (), /, **rows: Rows) -> Use:
    return yearly_use(tables_of(items, **rows), serials)


def yearly(use: Use) -> dict[str, float]:
    return {name: round(value, 9) for name, value in use.parts.select("item", "yearly").rows()}


def answer(question: Question, items: Rows = KELTO, /, **rows: Rows) -> Holdings:
    return holdings(tables_of(items, **rows), question)


def only_part(held: Holdings) -> dict[str, object]:
    [part] = held.parts.rows(named=True)
    return part


def test_the_chances_are_those_of_scipy() -> None:
    levels = levels_of(MEANS)
    expected = stats.poisson(levels["mean"].to_numpy())
    held = levels["held"].to_numpy()
    assert levels["chance"].to_numpy() == pytest.approx(expected.cdf(held), rel=1e-10, abs=1e-14)
    assert levels["over"].to_numpy() == pytest.approx(expected.sf(held), rel=1e-9, abs=1e-14)


@pytest.mark.parametrize("target", TARGETS)
def test_the_smallest_stock_is_that_of_scipy(target: float) -> None:
    levels = levels_of(MEANS)
    found = smallest_stocks(levels, target, fill_rate=False)["hold"].to_list()
    assert found == [int(stats.poisson(mean).ppf(target)) if mean else 0 for mean in MEANS]
    more = smallest_stocks(levels, target, fill_rate=True)["hold"].to_list()
    assert more == [stock + (mean > 0) for stock, mean in zip(found, MEANS, strict=True)]


def test_backorders_and_fill_rates_are_those_of_scipy() -> None:
    for mean in MEANS:
        stocks = sorted({0, 1, 2, 5, int(mean), int(mean * 1.05) + 3, int(mean * 3) + 100})
        held = pl.DataFrame({"item": ["part 00"] * len(stocks), "held": stocks})
        found = at_stock(levels_of([mean]), held)
        variable = stats.poisson(mean)
        shares = variable.pmf(range(int(mean * 2) + 200)).tolist()
        expected = [sum((k - s) * p for k, p in enumerate(shares) if k > s) for s in stocks]
        assert found["backorders"].to_list() == pytest.approx(expected, rel=1e-8, abs=1e-12)
        fill = [1.0 if not mean else float(variable.cdf(s - 1)) for s in stocks]
        assert found["fill_rate"].to_list() == pytest.approx(fill, rel=1e-9, abs=1e-12)


def served_on_a_tour(mean: float, stock: int) -> float:
    """E[min(X, s)] / mean, summed term by term."""
    shares = stats.poisson(mean).pmf(range(int(mean * 2) + 200)).tolist()
    return float(sum(min(asked, stock) * share for asked, share in enumerate(shares)) / mean)


def test_where_nothing_is_replaced_a_stock_serves_what_is_asked_for_up_to_itself() -> None:
    for mean in MEANS[1:]:
        levels = stock_levels(pl.DataFrame({"item": ["a"], "mean": [mean]}), replaced=False)
        stocks = sorted({0, 1, 2, 5, int(mean), int(mean * 1.05) + 3, int(mean * 3) + 100})
        found = at_stock(levels, pl.DataFrame({"item": ["a"] * len(stocks), "held": stocks}))
        expected = [served_on_a_tour(mean, stock) for stock in stocks]
        assert found["fill_rate"].to_list() == pytest.approx(expected, rel=1e-9, abs=1e-12)
        for target in (0.3, 0.9, 0.95, 0.999):
            hold = int(smallest_stocks(levels, target, fill_rate=True)["hold"][0])
            assert served_on_a_tour(mean, hold) >= target - 1e-12
            assert served_on_a_tour(mean, hold - 1) < target


def test_two_pieces_serve_a_tour_that_asks_for_half_a_piece() -> None:
    year = 0.5 / 0.2 / 30 * 365.25  # so that K-1 asks for 0.5 in its 30 days
    usage = [{"item": "tyre", "per_1000_hours": year}]
    tour = answer(Question(0.95, "fill-rate", serials=("K-1",), days=30), usage=usage)
    part = only_part(tour)
    # from the terms: (1 x p(1) + 2 x P(X > 1)) / 0.5
    assert part["hold"] == 2
    assert part["fill_rate"] == pytest.approx(0.967, abs=5e-4)
    assert tour.assurance == pytest.approx(served_on_a_tour(0.5, 2))


def test_the_curve_of_a_tour_ends_at_what_its_pieces_serve() -> None:
    levels = stock_levels(pl.DataFrame({"item": ["a"], "mean": [2.0]}), replaced=False)
    priced = pl.DataFrame({"item": ["a"], "price": [1.0], "base": [0]})
    path = assurance_path(purchases_in_order(levels, priced), levels, priced, fill_rate=True)
    expected = [served_on_a_tour(2.0, stock) for stock in range(len(path))]
    assert path["assurance"].to_list() == pytest.approx(expected, abs=1e-9)


def test_a_higher_target_never_holds_less() -> None:
    levels = levels_of(MEANS)
    for fill_rate in (False, True):
        held = [smallest_stocks(levels, target, fill_rate)["hold"] for target in TARGETS]
        assert all((more >= less).all() for less, more in pairwise(held))


def random_parts(chance: Random) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Levels and prices of three parts with some stock."""
    levels = levels_of([round(chance.uniform(0, 2.5), 2) for _ in range(3)])
    priced = levels.select("item").unique(maintain_order=True)
    return levels, priced.with_columns(
        price=pl.Series([float(chance.randint(1, 6)) for _ in range(3)]),
        base=pl.Series([chance.randint(0, 2) for _ in range(3)]),
    )


def backorders(levels: pl.DataFrame, stocks: Sequence[int]) -> float:
    names = levels["item"].unique().sort()
    held = pl.DataFrame({"item": names, "held": list(stocks)})
    return float(at_stock(levels, held)["backorders"].sum())


@pytest.mark.parametrize("seed", range(12))
def test_at_each_sum_it_passes_marginal_analysis_is_as_good_as_trying_everything(seed: int) -> None:
    levels, priced = random_parts(Random(seed))
    queue = purchases_in_order(levels, priced)
    prices, bases = priced["price"].to_list(), priced["base"].to_list()
    table = {
        (place, stock): backorders(levels_of([mean]), [stock])
        for place, mean in enumerate(levels.unique("item", maintain_order=True)["mean"])
        for stock in range(bases[place], bases[place] + 8)
    }
    everything = [
        (
            sum(price * more for price, more in zip(prices, extra, strict=True)),
            sum(table[place, bases[place] + more] for place, more in enumerate(extra)),
        )
        for extra in product(range(8), repeat=3)
    ]
    spent = 0.0
    for price in queue["price"].head(8):
        spent += price
        found = best_purchases(queue, priced, spent).held
        cost = sum(
            price * (stock - base)
            for price, stock, base in zip(prices, found["hold"], bases, strict=True)
        )
        assert cost == pytest.approx(spent)
        best = min(lacking for sum_, lacking in everything if sum_ <= spent + 1e-9)
        assert backorders(levels, found["hold"].to_list()) == pytest.approx(best, abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_a_budget_is_never_exceeded_and_nothing_that_fits_is_left(seed: int) -> None:
    chance = Random(seed)
    levels, priced = random_parts(chance)
    queue = purchases_in_order(levels, priced)
    limit = chance.uniform(0, 30)
    found = priced.join(best_purchases(queue, priced, limit).held, on="item")
    left = limit - float(((found["hold"] - found["base"]) * found["price"]).sum())
    assert left >= -1e-9
    following = queue.join(found.select("item", "hold"), on="item").filter(
        pl.col("held") == pl.col("hold") + 1
    )
    assert (following["price"] > left).all()


@pytest.mark.parametrize("fill_rate", [False, True])
def test_the_curve_is_the_assurance_of_the_whole_after_each_purchase(fill_rate: bool) -> None:
    levels, priced = random_parts(Random(5))
    queue = purchases_in_order(levels, priced)
    path = assurance_path(queue, levels, priced, fill_rate)
    means = levels.unique("item", maintain_order=True)["mean"].to_list()
    stocks = dict(priced.select("item", "base").iter_rows())
    for place, row in enumerate([None, *queue.select("item").iter_rows()]):
        if row:
            stocks[row[0]] += 1
        chances = [
            float(stats.poisson(mean).cdf(stock - fill_rate))
            for mean, stock in zip(means, stocks.values(), strict=True)
        ]
        expected = (
            sum(m * c for m, c in zip(means, chances, strict=True)) / sum(means)
            if fill_rate
            else chances[0] * chances[1] * chances[2]
        )
        assert path["assurance"][place] == pytest.approx(expected, abs=1e-9)
    assert path["spent"].to_list()[-1] == pytest.approx(queue["price"].sum())


def test_a_rate_by_hours_counts_the_aircraft_that_have_the_part() -> None:
    # K-2 flies on skis; 200 and 300 hours at 4 in a thousand
    use = use_of(KELTO, usage=[{"item": "tyre", "per_1000_hours": 4.0}])
    assert use.parts.rows() == [("tyre", 2, 2.0, "usage")]


def test_a_rate_by_the_year_counts_the_aircraft() -> None:
    assert yearly(use_of(KELTO, usage=[{"item": "tyre", "per_year": 0.3}])) == {"tyre": 0.6}


def test_a_part_outside_of_every_structure_counts_for_all_aircraft() -> None:
    use = use_of([*KELTO, pc("oil kit")], usage=[{"item": "oil kit", "per_year": 1.0}])
    assert use.parts.rows() == [("oil kit", 3, 3.0, "usage")]


def test_a_part_that_no_aircraft_of_the_fleet_has_is_left_out_and_named() -> None:
    structure = [line("kelto", "tyre", from_serial="K-7")]
    use = use_of(KELTO, structure=structure, usage=[{"item": "tyre", "per_year": 1.0}])
    assert use.left_out.rows() == [("tyre", "nobody")]
    assert use.parts.is_empty()


def test_what_was_issued_is_divided_by_the_years_since_the_first_issue_of_any_part() -> None:
    issues = [
        {"item": "tyre", "date": date(2025, 11, 30), "quantity": 3.0},
        {"item": "tyre", "date": date(2026, 11, 29), "quantity": 4.0},
        {"item": "tyre", "date": MONDAY, "quantity": 100.0},  # not past yet
        {"item": "oil kit", "date": date(2024, 11, 30), "quantity": 1.0},
    ]
    years = (MONDAY - date(2024, 11, 30)).days / 365.25
    found = use_of([*KELTO, pc("oil kit")], issues=issues)
    assert yearly(found) == {"tyre": round(7 / years, 9), "oil kit": round(1 / years, 9)}


def test_a_short_record_counts_as_a_year() -> None:
    issues = [{"item": "tyre", "date": date(2026, 11, 20), "quantity": 3.0}]
    assert yearly(use_of(KELTO, issues=issues)) == {"tyre": 3.0}


def test_a_rate_goes_before_what_was_issued() -> None:
    issues = [{"item": "tyre", "date": date(2026, 11, 20), "quantity": 3.0}]
    use = use_of(KELTO, usage=[{"item": "tyre", "per_year": 1.0}], issues=issues)
    assert yearly(use) == {"tyre": 2.0}


def test_some_aircraft_take_their_share_of_what_was_issued() -> None:
    issues = [{"item": "tyre", "date": date(2026, 11, 20), "quantity": 5.0}]
    # K-1 flies 200 of the 500 hours of the aircraft with tyres
    assert yearly(use_of(KELTO, ("K-1", "K-2"), issues=issues)) == {"tyre": 2.0}


def test_an_aircraft_without_hours_flies_as_much_as_the_others() -> None:
    fleet = [aircraft("K-1"), aircraft("K-2", hours=None), aircraft("K-3", hours=300)]
    use = use_of(KELTO, fleet=fleet, usage=[{"item": "tyre", "per_1000_hours": 4.0}])
    assert yearly(use) == {"tyre": 3.0}
    assert use.assumed == ["K-2"]


def test_use_and_stock_of_a_replaced_part_count_for_the_one_in_its_place() -> None:
    held = answer(
        Question(0.95),
        [*KELTO, pc("tyre 2", lead_days=10)],
        replacements=[{"old": "tyre", "new": "tyre 2"}],
        usage=[{"item": "tyre", "per_year": 10.0}],
        stock=[{"item": "tyre", "quantity": 1.0}, {"item": "tyre 2", "quantity": 2.0}],
    )
    part = only_part(held)
    assert (part["item"], part["yearly"], part["stock"]) == ("tyre 2", 20.0, 3)


def test_the_rate_of_a_part_goes_before_those_of_the_ones_it_replaced() -> None:
    items = [*KELTO, pc("tyre 2"), pc("tyre 3")]
    replaced: list[Row] = [{"old": "tyre", "new": "tyre 3"}, {"old": "tyre 2", "new": "tyre 3"}]
    old: list[Row] = [{"item": "tyre", "per_year": 1.0}, {"item": "tyre 2", "per_year": 2.0}]
    assert yearly(use_of(items, replacements=replaced, usage=old)) == {"tyre 3": 6.0}
    own: list[Row] = [*old, {"item": "tyre 3", "per_year": 0.5}]
    assert yearly(use_of(items, replacements=replaced, usage=own)) == {"tyre 3": 1.0}


def test_what_cannot_be_kept_as_pieces_for_all_is_left_out_and_named() -> None:
    items = [*KELTO, item("glue"), item("set", source="phantom", unit="pc"), pc("tail")]
    structure = [line("tail", "tyre", with_option="SKIS"), line("kelto", "tail")]
    usage = [{"item": name, "per_year": 1.0} for name in ("glue", "set", "tail")]
    use = use_of(items, structure=structure, usage=usage)
    assert use.left_out.rows() == [("glue", "measure"), ("set", "phantom"), ("tail", "specific")]


def test_resupply_of_a_bought_part_is_its_lead_and_safety_days_in_working_weeks() -> None:
    items = [KELTO[0], pc("tyre", lead_days=10, safety_days=5, cost=90.0)]
    part = only_part(answer(Question(0.95), items, usage=[{"item": "tyre", "per_year": 26.09}]))
    assert part["resupply_days"] == 15
    assert part["mean"] == pytest.approx(2 * 26.09 * 15 / (5 * 52.18))  # 3
    assert part["hold"] == 6  # P(X <= 5) is 0.916 and P(X <= 6) 0.966 at mean 3


def test_resupply_of_a_made_part_is_the_longest_chain_below_it() -> None:
    items = [KELTO[0], pc("tyre", source="make", lead_days=4), pc("rubber", lead_days=20), pc("x")]
    structure = [line("kelto", "tyre"), line("tyre", "rubber"), line("tyre", "x")]
    usage = [{"item": "tyre", "per_year": 1.0}]
    part = only_part(answer(Question(0.95), items, structure=structure, usage=usage))
    assert part["resupply_days"] == 24


def test_only_usable_stock_that_is_kept_for_nobody_counts() -> None:
    stock = [
        {"item": "tyre", "quantity": 1.0},
        {"item": "tyre", "quantity": 2.0, "expires": MONDAY},
        {"item": "tyre", "quantity": 4.0, "expires": date(2026, 11, 29)},
        {"item": "tyre", "quantity": 8.0, "status": "hold"},
        {"item": "tyre", "quantity": 16.0, "serial": "K-1"},
    ]
    usage = [{"item": "tyre", "per_year": 50.0}]
    part = only_part(answer(Question(0.95), usage=usage, stock=stock))
    assert part["stock"] == 3
    assert part["gap"] == part["hold"] - 3  # type: ignore[operator]
    assert part["to_buy"] == part["gap"] * 90  # type: ignore[operator]


def test_a_tour_counts_its_calendar_days_in_the_place_of_the_resupply_time() -> None:
    question = Question(0.95, serials=("K-1",), days=30)
    part = only_part(answer(question, usage=[{"item": "tyre", "per_1000_hours": 100.0}]))
    assert part["mean"] == pytest.approx(100 * 0.2 * 30 / 365.25)


def test_a_mass_is_packed_from_nothing_and_a_budget_spent_on_top_of_stock() -> None:
    items = [KELTO[0], pc("tyre", lead_days=10, cost=90.0, mass_g=2500.0)]
    rows = {
        "usage": [{"item": "tyre", "per_year": 50.0}],
        "stock": [{"item": "tyre", "quantity": 3.0}],
    }
    packed = only_part(answer(Question(0.95, limit=6.0, limited_by="mass"), items, **rows))
    assert (packed["hold"], packed["mass_kg"]) == (2, 5.0)
    bought = only_part(answer(Question(0.95, limit=200.0), items, **rows))
    assert (bought["hold"], bought["gap"], bought["to_buy"]) == (5, 2, 180.0)


def test_parts_without_a_price_are_left_out_of_a_budget_and_named() -> None:
    usage = [{"item": name, "per_year": 1.0} for name in ("tyre", "oil kit")]
    held = answer(Question(0.95, limit=500.0), [*KELTO, pc("oil kit", lead_days=5)], usage=usage)
    assert held.left_out.rows() == [("oil kit", "unpriced")]
    assert only_part(held)["item"] == "tyre"
    assert answer(Question(0.95), [*KELTO, pc("oil kit")], usage=usage).parts.height == 2


def test_parts_used_by_the_ten_thousand_are_left_out_and_named() -> None:
    usage = [{"item": "tyre", "per_year": 1e9}]
    assert answer(Question(0.95), usage=usage).left_out.rows() == [("tyre", "too many")]


def test_stock_beyond_the_holding_stays_and_counts_for_the_whole() -> None:
    rows = {
        "usage": [{"item": "tyre", "per_year": 13.0}],  # 1.0 tyres in ten working days
        "stock": [{"item": "tyre", "quantity": 1e30}],
    }
    held = answer(Question(0.5), **rows)
    part = only_part(held)
    assert (part["hold"], part["gap"], part["stock"]) == (1, 0, 10**12)
    assert held.before == held.assurance == pytest.approx(1.0)
    items = [KELTO[0], pc("tyre", lead_days=10, mass_g=1000.0)]
    packed = answer(Question(0.5, limit=2.0, limited_by="mass"), items, **rows)
    assert packed.assurance == pytest.approx(float(stats.poisson(26 * 10 / 260.9).cdf(2)))
    assert packed.before == pytest.approx(float(stats.poisson(26 * 10 / 260.9).cdf(0)))


def test_no_use_asks_for_no_spares() -> None:
    part = only_part(answer(Question(0.999), usage=[{"item": "tyre", "per_year": 0.0}]))
    assert (part["hold"], part["chance"]) == (0, 1.0)


def naive_contents(links: list[tuple[str, str, bool]], top: str) -> set[str]:
    """What is reached from the top over lines that count, one by one."""
    found, waiting = {top}, [top]
    while waiting:
        name = waiting.pop()
        for parent, child, counts in links:
            if parent == name and counts and child not in found:
                found.add(child)
                waiting.append(child)
    return found


@pytest.mark.parametrize("seed", range(20))
def test_the_contents_of_random_aircraft_are_found_the_naive_way_too(seed: int) -> None:
    chance = Random(seed)
    names = [f"item {number:02}" for number in range(12)]
    conditions: list[Row] = [
        {},
        {"with_option": "A"},
        {"without_option": "A B"},
        {"from_serial": "K-2"},
        {"to_serial": "K-3", "with_option": "B"},
    ]
    rows: list[Row] = []
    for _ in range(24):
        above, below = sorted(chance.sample(range(12), 2))
        rows.append(line(names[above], names[below], **chance.choice(conditions)))
    old, new = sorted(chance.sample(range(1, 12), 2))
    fleet: list[Row] = [
        {"serial": f"K-{number}", "item": names[0], "options": chance.choice(("", "A", "B", "A B"))}
        for number in range(1, 6)
    ]
    tables = typed_tables(
        {
            "items": [pc(name) for name in names],
            "structure": rows,
            "replacements": [{"old": names[old], "new": names[new]}],
            "fleet": fleet,
        }
    )
    links = all_links(tables)
    found = contained_items(links, tables["fleet"].select("serial", "item", "options"))
    for row in fleet:
        number, options = int(str(row["serial"])[2:]), set(str(row["options"]).split())
        counting = [
            (
                str(one["parent"]),
                str(one["child"]),
                set(str(one.get("with_option", "")).split()) <= options
                and not set(str(one.get("without_option", "")).split()) & options
                and ("from_serial" not in one or number >= 2)
                and ("to_serial" not in one or number <= 3),
            )
            for one in rows
        ]
        counting.append((names[old], names[new], True))
        own = found.filter(pl.col("serial") == row["serial"])["item"].to_list()
        assert sorted(own) == sorted(naive_contents(counting, names[0]))
    every = [(str(one["parent"]), str(one["child"]), True) for one in rows]
    every.append((names[old], names[new], True))
    assert set(mentioned_items(links, tables["fleet"]["item"])) == naive_contents(every, names[0])


@pytest.mark.parametrize("replaced", [True, False])
def test_of_what_nobody_asks_for_nothing_is_held_whatever_the_target(replaced: bool) -> None:
    levels = stock_levels(pl.DataFrame({"item": ["a"], "mean": [0.0]}), replaced=replaced)
    for target in (0.5, 0.95, 0.999_999):
        assert smallest_stocks(levels, target, fill_rate=True).rows() == [("a", 0)]
