"""Times bomkit's planning core beside SciPy's sparse triangular solve on a large random structure.

bomkit nets every level against stock and open orders, with scrap, minimum and multiple, lead times
and lots, and explodes its orders. SciPy solves (I - N) g = d, the gross requirement alone: nothing
netted, nothing rounded, no lead times. Both run in this one process, by turns; the least processor
time counts. What each makes ready beforehand, the compiled structure and the matrix, is told apart.
First both work out the same gross requirement, and the figures must agree.

Then the full-size sample: one plan of it, and two hundred with drawn scrap and late deliveries.
Then a plan for some thousand airframes of the large structure is timed beside what stores want to
know of it: pegs and the late forecast.
"""

import argparse
import datetime as dt
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import polars as pl
from scipy.sparse import coo_array, eye_array  # type: ignore[import-untyped] # no types
from scipy.sparse.linalg import spsolve_triangular  # type: ignore[import-untyped] # no types

from bomkit.planning.forecast.forecast import forecast, foreseen
from bomkit.planning.forecast.peg_graph import peg_graph
from bomkit.planning.netting.compiled_structure import compile_structure
from bomkit.planning.netting.level_by_level import planned_quantities
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders, projection
from bomkit.planning.netting.plans_by_chance import Draw, drawn_plans
from bomkit.planning.netting.supply_by_day import supplied
from bomkit.planning.pegging.peg import peg
from bomkit.planning.tables_as_numbers.item_rules import UNLIMITED
from bomkit.planning.tables_as_numbers.network import NOTHING_LEAST, Network, build_network
from bomkit.planning.workdays import Workdays, working_days
from bomkit.runs.checked_tables import checked_inputs

SEED = 20261130
BUCKETS = 52
START = dt.date(2026, 11, 30)
# Share of the items on each level: few airframes on top, many bought-in parts below.
LEVEL_SHARES = (0.005, 0.025, 0.06, 0.11, 0.16, 0.20, 0.22, 0.22)
AGREES = 1e-9  # relative
SAMPLE = Path(__file__).parents[1] / "sample_boms" / "fenlark"
DRAWS = 200


@dataclass(frozen=True)
class Structure:
    """A random layered structure: items are numbered by level, so parents come before children."""

    level: np.ndarray  # one an item
    parent: np.ndarray  # one a line, as are child and factor
    child: np.ndarray
    factor: np.ndarray
    demand: np.ndarray  # items x buckets, outside demand


def random_structure(items: int, lines: int) -> Structure:
    """Items in layers; each has a parent on the level above, other lines skip levels freely."""
    rng = np.random.default_rng(SEED)
    bounds = np.rint(np.cumsum((0.0, *LEVEL_SHARES)) * items).astype(np.int64)
    level = np.repeat(np.arange(len(LEVEL_SHARES)), np.diff(bounds))
    first_child = bounds[1]
    kept = np.arange(first_child, items)
    above = level[kept] - 1
    keeping = rng.integers(bounds[above], bounds[above + 1])
    child = rng.integers(first_child, items, lines - len(kept))
    parent = rng.integers(0, bounds[level[child]])
    pairs = np.unique(
        np.stack([np.append(keeping, parent), np.append(kept, child)], axis=1), axis=0
    )
    factor = rng.choice([1.0, 1.0, 1.0, 2.0, 0.3], len(pairs))
    demand = np.zeros((items, BUCKETS))
    demand[:first_child] = rng.poisson(0.5, (first_child, BUCKETS))
    return Structure(level, pairs[:, 0], pairs[:, 1], factor, demand)


def as_network(structure: Structure, plain: bool) -> Network:
    """The structure as the planning core takes it; plain: no stock, lots, scrap or lead times."""
    rng = np.random.default_rng(SEED + 1)
    count = len(structure.level)
    axis = _axis()
    return Network(
        axis=axis,
        items=_items(structure.level, rng, plain),
        serials=pl.DataFrame({"serial_id": [0], "serial": [""], "options": [""]}),
        lines=pl.DataFrame(
            {"parent_id": structure.parent, "child_id": structure.child, "factor": structure.factor}
        ).with_columns(
            per_order=pl.lit(False),
            offset=pl.lit(0, pl.Int64),
            first_start=pl.lit(0, pl.Int64),
            last_start=pl.lit(len(axis.dates) - 1, pl.Int64),
            condition=pl.lit(0, pl.Int64),
        ),
        active=pl.DataFrame(schema={"condition": pl.Int64, "serial_id": pl.Int64}),
        demands=_demands(structure.demand, axis),
        receipts=_receipts(count, rng, plain, axis),
        stock=_stock(count, rng, plain),
        least=NOTHING_LEAST,
    )


def _axis() -> Workdays:
    """An axis of exactly as many working days as there are buckets."""
    weeks = -(-BUCKETS // 5)
    days = working_days(START, weeks, [])
    return working_days(START, weeks, days.dates[BUCKETS : weeks * 5].to_list())


def _items(level: np.ndarray, rng: np.random.Generator, plain: bool) -> pl.DataFrame:
    """The items; unless plain, with scrap, minimum, multiple, whole pieces and lead times."""
    count = len(level)
    scrap = rng.choice([0.0, 0.0, 0.02, 0.05, 0.08], count) * (not plain)
    return pl.DataFrame(
        {
            "item_id": np.arange(count),
            "item": [f"item {number:06}" for number in range(count)],
            "level": level,
            "lead": rng.choice([0, 1, 2, 3, 5], count) * (not plain),
            "good": 1 - scrap,
            "receipt_good": 1 - scrap,
            "minimum": rng.choice([0.0, 0.0, 5.0, 20.0], count) * (not plain),
            "multiple": rng.choice([0.0, 0.0, 4.0, 10.0], count) * (not plain),
            "whole": (rng.random(count) < 0.8) & (not plain),
        }
    ).with_columns(
        source=pl.lit("make"),
        process=pl.lit(""),
        unit=pl.lit("pc"),
        safety=pl.lit(0, pl.Int64),
        cover=pl.lit(1, pl.Int64),
        longest=pl.lit(UNLIMITED, pl.Int64),
        safety_stock=pl.lit(0.0),
        least_cost=pl.lit(False),
        order_cost=pl.lit(0.0),
        holding=pl.lit(0.0),
        specific=pl.lit(False),
        passes=pl.lit(False),
        replaced=pl.lit(False),
    )


def _demands(demand: np.ndarray, axis: Workdays) -> pl.DataFrame:
    """The outside demand by item and day."""
    item, day = np.nonzero(demand)
    return pl.DataFrame({"key": item, "day": day, "quantity": demand[item, day]}).with_columns(
        demand=pl.lit("all"),
        kind=pl.lit("routine"),
        serial=pl.lit(""),
        date=axis.dates.gather(day),
        overdue=pl.lit(False),
        past=pl.lit(False),
    )


def _receipts(count: int, rng: np.random.Generator, plain: bool, axis: Workdays) -> pl.DataFrame:
    """An open order for every tenth item; none if plain."""
    item = np.arange(0, 0 if plain else count, 10)
    day = rng.integers(0, BUCKETS, len(item))
    return pl.DataFrame({"key": item, "day": day, "quantity": 20.0 + item % 7}).with_columns(
        ordered="quantity",
        order=pl.lit("open"),
        date=axis.dates.gather(day),
        serial=pl.lit(""),
        overdue=pl.lit(False),
        past=pl.lit(False),
    )


def _stock(count: int, rng: np.random.Generator, plain: bool) -> pl.DataFrame:
    """Stock of every third item; none if plain."""
    item = np.arange(0, 0 if plain else count, 3)
    return pl.DataFrame(
        {"key": item, "quantity": rng.integers(1, 50, len(item)).astype(float)}
    ).with_columns(
        location=pl.lit(""),
        lot=pl.lit(""),
        expires=pl.lit(None, pl.Date),
        serial=pl.lit(""),
        day=pl.lit(None, pl.Int64),
        beyond=pl.lit(True),
    )


def gross_by_scipy(structure: Structure) -> Callable[[], np.ndarray]:
    """A function that solves (I - N) g = d, the matrix and the demand made ready beforehand."""
    count = len(structure.level)
    shape = (count, count)
    asks = coo_array((structure.factor, (structure.child, structure.parent)), shape)
    matrix = (eye_array(count) - asks).tocsc()
    return lambda: spsolve_triangular(matrix, structure.demand, lower=True, unit_diagonal=True)


def greatest_difference(ours: pl.DataFrame, theirs: np.ndarray) -> float:
    """The greatest relative difference of two gross requirements; ours lacks rows of zeros."""
    mine = np.zeros_like(theirs)
    mine[ours["key"].to_numpy()] = ours.drop("key").to_numpy()
    return float((np.abs(mine - theirs) / np.maximum(1.0, np.abs(theirs))).max())


def best_seconds(*works: Callable[[], object], times: int = 5) -> list[float]:
    """The shortest processor time of each of some works, done by turns."""
    found = [[_seconds(work) for work in works] for _ in range(times)]
    return [min(each) for each in zip(*found, strict=True)]


def _seconds(work: Callable[[], object]) -> float:
    """The processor time of one run."""
    began = time.process_time()
    work()
    return time.process_time() - began


def main() -> int:
    """Check, time and print; 1 if the two disagree."""
    arguments = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    arguments.add_argument("--quick", action="store_true", help="a hundredth of the size")
    quick = arguments.parse_args().quick
    size = 100 if quick else 1
    structure = random_structure(100_000 // size, 366_000 // size)
    print(
        f"{len(structure.parent):,} structure lines, {len(structure.level):,} items, "
        f"{len(LEVEL_SHARES)} levels, {BUCKETS} buckets"
    )
    solve = gross_by_scipy(structure)
    difference = greatest_difference(plan_flows(as_network(structure, plain=True)).gross, solve())
    print(f"gross requirements agree within {difference:.1e} (relative)")
    print_beside(as_network(structure, plain=False), solve)
    print_sample(10 if quick else DRAWS)
    print_stores(for_airframes(structure))
    return 0 if difference <= AGREES else 1


def print_beside(network: Network, solve: Callable[[], object]) -> None:
    """Times netting and exploding beside the solution of the gross requirement alone."""
    compiled = compile_structure(network)
    beside = supplied(network, compiled)
    once, ours, theirs = best_seconds(
        lambda: compile_structure(network), lambda: planned_quantities(compiled, beside), solve
    )
    print(f"the structure compiled, once        {once:7.3f} s")
    print(f"bomkit, netting and exploding      {ours:7.3f} s")
    print(f"SciPy, gross requirement alone     {theirs:7.3f} s")
    print(f"ratio                              {ours / theirs:7.2f}")


def print_sample(count: int) -> None:
    """Times a plan of the full-size sample, and many with drawn scrap and late deliveries."""
    network = build_network(checked_inputs(SAMPLE)[0].tables)
    compiled = compile_structure(network)
    beside = supplied(network, compiled)
    draws = drawn_scrap_and_lateness(network, count)
    once, one, many = best_seconds(
        lambda: compile_structure(network),
        lambda: planned_quantities(compiled, beside),
        lambda: [plan.starts.sum() for plan in drawn_plans(network, draws, compiled)],
    )
    print(f"the sample: {len(compiled.keys):,} rows, {network.axis.count} days")
    print(f"its structure compiled, once       {once * 1000:7.1f} ms")
    print(f"one plan                           {one * 1000:7.1f} ms")
    print(f"{count:3} plans as drawn                 {many:7.3f} s")
    print(f"ratio of one as drawn to one alone {many / count / one:7.2f}")


def drawn_scrap_and_lateness(network: Network, count: int) -> list[Draw]:
    """Scrap around each rate, at most nine tenths, and open orders up to ten days late."""
    rng = np.random.default_rng(SEED + 3)
    scrap = 1 - network.items["receipt_good"].to_numpy()
    late = rng.integers(0, 11, (count, len(network.receipts)))
    swings = rng.gamma(4, 1 / 4, (count, len(scrap)))
    return [
        Draw(1 - np.minimum(0.9, scrap * swing), days)
        for swing, days in zip(swings, late, strict=True)
    ]


def for_airframes(structure: Structure) -> Network:
    """The network with two airframes of each top item, each a demand by itself, and lots of ten
    days; demands on every item every day, as above, are nobody's fleet."""
    rng = np.random.default_rng(SEED + 2)
    tops = int((structure.level == 0).sum())
    demand = np.zeros_like(structure.demand)
    demand[:tops] = rng.poisson(2 / BUCKETS, (tops, BUCKETS))
    network = as_network(replace(structure, demand=demand), plain=False)
    serials = pl.format("airframe {}", pl.int_range(pl.len()))
    return replace(
        network,
        items=network.items.with_columns(cover=pl.lit(10, pl.Int64)),
        demands=network.demands.with_columns(demand=serials, kind=pl.lit("airframe")),
    )


def print_stores(network: Network) -> None:
    """Times the plan of a network, and its pegs and forecast, once each."""
    began = time.perf_counter()
    flows = plan_flows(network)
    orders = planned_orders(network, flows)
    projection(network, flows)
    planned = time.perf_counter()
    pegged = peg(network, flows, orders)
    pegs = time.perf_counter()
    forecast(foreseen(peg_graph(network, orders, pegged)))
    ended = time.perf_counter()
    print(f"{len(network.demands):,} airframes, {len(orders):,} planned orders")
    print(f"plan, orders and planning record   {planned - began:7.3f} s")
    print(f"pegs, {len(pegged.pegs):>10,}             {pegs - planned:7.3f} s")
    print(f"late forecast                      {ended - pegs:7.3f} s")
    print(f"ratio                              {(ended - planned) / (planned - began):7.2f}")


if __name__ == "__main__":
    sys.exit(main())
