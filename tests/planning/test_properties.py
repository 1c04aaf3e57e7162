"""What holds for every plan, on random tables: balances, lots, order of rows, pegs."""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from polars.testing import assert_frame_equal
from scipy.linalg import solve  # type: ignore[import-untyped]  # ships no types

from tests.naive_planner import (
    Axis,
    converted,
    date_in,
    line_is_active,
    names_in,
    number_in,
    text_in,
    working_days,
)
from tests.planning.driver import Netted, Plan, netted
from tests.planning.random_plans import each, random_netted, random_plan, seeds, some
from tests.random_tables import Row, Tables, random_tables, serial_specific_items

LOT_COLUMNS = ("minimum", "multiple", "cover_days", "longest_cover_days")
UNCOUNTED = {"pc": "m2"}  # pieces become something that need not be whole
Key = tuple[str, str]  # item, serial


# ---------------------------------------------------------------- what a plan did


@dataclass(frozen=True)
class Record:
    """One planning row by day: what came in, what was asked and what was planned.

    supply: as it counts for planning: what is on order and comes within the lead time from day 0.
    """

    place: Key
    rule: dict[str, float]  # minimum, multiple, whole, cover, longest, lead, safety, ...
    gross: list[float]
    supply: list[float]
    started: list[float]

    def scale(self) -> float:
        """The greatest sum in the record, to which sums and differences are as exact."""
        return sum(self.gross) + sum(map(abs, self.supply)) + self.rule["safety_stock"]

    def lacking(self) -> list[float]:
        """D(t) = C(t) + safety stock - S(t)."""
        needed, supplied = accumulate(self.gross), accumulate(self.supply)
        return [c + self.rule["safety_stock"] - s for c, s in zip(needed, supplied, strict=True)]

    def covered(self, usable: int) -> int:
        """The working days that an order covers which is usable on a day."""
        in_time = int(self.rule["lead"] + self.rule["safety"])
        return int(min(self.rule["longest"], max(self.rule["cover"], in_time - usable)))

    def planned(self) -> list[float]:
        """P(t)."""
        return [total * self.rule["good"] for total in accumulate(self.started)]


def records(plan: Netted) -> Iterator[Record]:
    """Every planning row of a plan."""
    days = [str(number) for number in range(plan.network.axis.count)]
    columns = ("minimum", "multiple", "whole", "cover", "safety_stock", "good")
    columns += ("longest", "lead", "safety")
    rules = {row["item"]: row for row in plan.network.items.iter_rows(named=True)}
    flows = plan.flows
    named = plan.network.named(flows.gross).select("item", "serial").rows()
    frames = (flows.gross, flows.supply, flows.starts, flows.receipts)
    wide = [frame.select(days).rows() for frame in frames]
    for (item, serial), gross, supply, started, received in zip(named, *wide, strict=True):
        rule = {column: float(rules[item][column]) for column in columns}
        counted = list(supply)
        for number in range(1, min(int(rule["lead"]) + 1, len(counted))):
            counted[number] -= received[number]
            counted[0] += received[number]
        yield Record((item, serial), rule, list(gross), counted, list(started))


def sums(frame: pl.DataFrame, column: str) -> dict[Key, float]:
    """A column added up for each item and serial."""
    grouped = frame.group_by("item", "serial").agg(pl.col(column).sum())
    return {(item, serial): total for item, serial, total in grouped.rows()}


# ---------------------------------------------------------------- what the tables say


def place_of(row: Row, specific: set[str]) -> Key:
    """The planning row that a row of a table belongs to."""
    item = text_in(row, "item")
    return item, text_in(row, "serial") if item in specific else ""


def can_be_used(row: Row, axis: Axis) -> bool:
    """Whether a row of stock is usable and has not expired before day 0."""
    expires = date_in(row, "expires")
    in_time = expires is None or axis.last_usable_day(expires) is not None
    return in_time and text_in(row, "status", "usable") == "usable"


def usable_stock(tables: Tables) -> dict[Key, float]:
    """Stock that can be used on day 0, by planning row."""
    axis, specific = working_days(tables), serial_specific_items(tables)
    found: dict[Key, float] = {}
    for row in tables["stock"]:
        if can_be_used(row, axis):
            place = place_of(row, specific)
            found[place] = found.get(place, 0.0) + number_in(row, "quantity")
    return found


def expected_receipts(tables: Tables) -> dict[Key, float]:
    """What open orders within the horizon should bring, by planning row."""
    axis, specific = working_days(tables), serial_specific_items(tables)
    of_process = {str(row["process"]): number_in(row, "scrap_rate") for row in tables["processes"]}
    scrap = {
        str(row["item"]): number_in(row, "scrap_rate", of_process.get(text_in(row, "process"), 0.0))
        for row in tables["items"]
    }
    found: dict[Key, float] = {}
    for row in tables["open_orders"]:
        due = date_in(row, "due_date")
        if due is not None and axis.receipt_day(due) is not None:
            place = place_of(row, specific)
            good = number_in(row, "quantity") * (1 - scrap[place[0]])
            found[place] = found.get(place, 0.0) + good
    return found


def without(rows: list[Row], *columns: str) -> list[Row]:
    """Rows with some columns left empty."""
    return [{name: row[name] for name in row if name not in columns} for row in rows]


def uncounted(rows: list[Row]) -> list[Row]:
    """Rows in which nothing is counted in pieces."""
    return [
        row | {"unit": UNCOUNTED.get(str(row["unit"]), row["unit"])} if "unit" in row else row
        for row in rows
    ]


def lot_for_lot(tables: Tables) -> Tables:
    """The tables without lot rules and whole pieces."""
    items = uncounted(without(tables["items"], *LOT_COLUMNS))
    return tables | {"items": items, "structure": uncounted(tables["structure"])}


def shuffled(tables: Tables, chance: random.Random) -> Tables:
    """The tables with their rows in another order."""
    return {name: chance.sample(rows, len(rows)) for name, rows in tables.items()}


# ---------------------------------------------------------------- balances


@each
@given(seed=seeds)
def test_what_comes_in_is_used_left_over_or_expired(seed: int) -> None:
    tables, plan = random_tables(seed), random_netted(seed)
    stock, receipts = usable_stock(tables), expected_receipts(tables)
    lots = plan.network.named(plan.flows.lots.drop("serial"))
    last_day = plan.network.axis.count - 1
    lost = lots.filter(~pl.col("beyond") & (pl.col("day") < last_day))
    expired = sums(lost.with_columns(lost=pl.col("quantity") - pl.col("used")), "lost")
    gross, planned = sums(plan.projection, "gross"), sums(plan.projection, "planned")
    last_week = plan.projection["week"].max()
    left = sums(plan.projection.filter(pl.col("week") == last_week), "projected")
    assert stock.keys() | receipts.keys() <= gross.keys()
    for place, asked in gross.items():
        came = stock.get(place, 0) + receipts.get(place, 0) + planned[place]
        went = asked + left[place] + expired.get(place, 0)
        assert came == pytest.approx(went, rel=1e-9, abs=1e-12), f"{place}"


@each
@given(seed=seeds)
def test_no_need_is_left_open_and_no_safety_stock_is_broken(seed: int) -> None:
    for record in records(random_netted(seed)):
        for lacking, planned in zip(record.lacking(), record.planned(), strict=True):
            assert lacking - planned <= 1e-9 * record.scale(), f"{record.place}"


@each
@given(seed=seeds)
def test_a_lot_gives_no_more_than_it_has_and_is_not_used_beyond_the_needs_of_its_days(
    seed: int,
) -> None:
    plan = random_netted(seed)
    lots = plan.flows.lots
    assert (
        lots.filter((pl.col("used") < -1e-9) | (pl.col("used") > pl.col("quantity") + 1e-9))[
            "lot"
        ].to_list()
        == []
    )
    together = lots.sort("key", "day").with_columns(served=pl.col("used").cum_sum().over("key"))
    excess = together["served"] - together["gross"]
    assert (excess.max() or 0) <= 1e-9 * (1 + (together["served"].max() or 0))  # type: ignore[operator]


# ---------------------------------------------------------------- lots


@each
@given(seed=seeds)
def test_without_a_lot_rule_planned_good_is_the_running_maximum_of_what_is_lacking(
    seed: int,
) -> None:
    for record in records(random_netted(seed)):
        rule = record.rule
        if rule["minimum"] or rule["multiple"] or rule["whole"] or rule["cover"] > 1:
            continue
        in_time = int(rule["lead"] + rule["safety"])
        if rule["longest"] < in_time:
            continue
        expected = list(accumulate(record.lacking(), max, initial=0.0))[1:]
        # what is late is ordered at once
        late = expected[:in_time]
        expected[:in_time] = [late[-1] if lacking > 0 else 0.0 for lacking in late]
        assert record.planned() == pytest.approx(expected, rel=0, abs=1e-9 * record.scale())


@each
@given(seed=seeds)
def test_an_order_exceeds_its_needs_by_no_more_than_its_lot_rule_explains(seed: int) -> None:
    for record in records(random_netted(seed)):
        rule, lacking = record.rule, record.lacking()
        before = 0.0
        for number, started in enumerate(record.started):
            if started:
                assert lacking[number] > before, f"{record.place}"
                wanted = max(lacking[number : number + record.covered(number)]) - before
                largest = max(wanted / rule["good"], rule["minimum"])
                rounding = rule["multiple"] + rule["whole"]
                assert started >= largest - 1e-9 * (record.scale() + started), f"{record.place}"
                excess = started - largest - rounding
                assert excess <= 1e-9 * (record.scale() + started), f"{record.place}"
            before += started * rule["good"]


@each
@given(seed=seeds)
def test_orders_are_whole_pieces_and_multiples(seed: int) -> None:
    for record in records(random_netted(seed)):
        step = record.rule["multiple"]
        for started in filter(None, record.started):
            if record.rule["whole"]:
                assert started == int(started)
            elif step:
                assert started / step == pytest.approx(round(started / step), rel=1e-12)


@each
@given(seed=seeds, chooser=st.randoms(use_true_random=False))
def test_with_lot_for_lot_more_stock_of_an_item_never_means_more_planned_of_it(
    seed: int, chooser: random.Random
) -> None:
    tables = lot_for_lot(random_tables(seed))
    less = netted(tables)
    chosen = chooser.choice(list(records(less)))
    item, serial = chosen.place
    more: Row = {"item": item, "serial": serial, "lot": "found", "quantity": chooser.randint(1, 9)}
    if chooser.random() < 0.5:
        more["expires"] = chooser.choice(working_days(tables).days)
    fuller = {
        each.place: each for each in records(netted(tables | {"stock": [*tables["stock"], more]}))
    }
    pairs = zip(chosen.planned(), fuller[chosen.place].planned(), strict=True)
    for before, after in pairs:
        assert after <= before + 1e-9 * chosen.scale()


# ---------------------------------------------------------------- order of rows


@some
@given(seed=seeds, chance=st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing(seed: int, chance: random.Random) -> None:
    tables = random_tables(seed)
    plan, other = random_plan(seed), Plan(shuffled(tables, chance))
    assert_frame_equal(plan.orders, other.orders, check_exact=True)
    assert_frame_equal(plan.projection, other.projection, check_exact=True)
    for name in ("told_needs", "told_pegs"):
        one, two = (getattr(each, name).drop("asked_id") for each in (plan, other))
        assert_frame_equal(one, two, check_exact=True)


# ---------------------------------------------------------------- total requirements


def plain(tables: Tables) -> Tables:
    """The tables without stock, open orders, lots, scrap, dates and lines for each order."""
    simple = lot_for_lot(tables)
    return simple | {
        "items": without(simple["items"], "scrap_rate", "safety_stock"),
        "processes": without(tables["processes"], "scrap_rate"),
        "structure": without(simple["structure"], "per", "from_date", "to_date"),
        "stock": [],
        "open_orders": [],
    }


def links_of(tables: Tables, serials: dict[str, set[str]]) -> Iterator[tuple[Key, Key, float]]:
    """Parent, child and how much of the child goes into one of the parent, by planning row."""
    units = {str(row["item"]): str(row["unit"]) for row in tables["items"]}
    specific = serial_specific_items(tables)
    replaced = {str(row["old"]): str(row["new"]) for row in tables["replacements"]}
    start = working_days(tables).days[0]
    for serial, options in serials.items():
        lines = [
            (str(line["parent"]), str(line["child"]), number_in(line, "quantity"), line)
            for line in tables["structure"]
            if line["parent"] not in replaced and line_is_active(line, serial, options, start)
        ]
        for parent, child, quantity, line in lines:
            if (parent in specific) == bool(serial):
                drawn = quantity / (1 - number_in(line, "waste"))
                unit = text_in(line, "unit", units[child])
                child_serial = serial if child in specific else ""
                amount = converted(drawn, unit, units[child])
                yield (parent, serial), (child, child_serial), amount
        for old, new in replaced.items():
            if (old in specific) == bool(serial):
                new_serial = serial if new in specific else ""
                yield (old, serial), (new, new_serial), converted(1, units[old], units[new])


def outside_needs(tables: Tables) -> Iterator[tuple[Key, float]]:
    """What is asked from outside within the horizon, by planning row."""
    axis, specific = working_days(tables), serial_specific_items(tables)
    asked = [(row, "ready_date", 1.0) for row in tables["build_plan"]]
    for name in ("spares_orders", "allocations"):
        asked += [(row, "need_date", number_in(row, "quantity")) for row in tables[name]]
    for row, column, quantity in asked:
        needed = date_in(row, column)
        if needed is not None and axis.need_day(needed) is not None:
            yield place_of(row, specific), quantity


@each
@given(seed=seeds)
def test_gross_requirements_without_stock_lots_and_scrap_solve_the_structure(seed: int) -> None:
    """T = (I - N)^-1: Vazsonyi, Management Science 1(1), 1954."""
    tables = plain(random_tables(seed))
    fitted = [*tables["build_plan"], *tables["fleet"]]
    serials = {"": set[str](), **{text_in(r, "serial"): names_in(r, "options") for r in fitted}}
    links, demands = list(links_of(tables, serials)), list(outside_needs(tables))
    places = sorted(
        {place for parent, child, _ in links for place in (parent, child)}
        | {place for place, _ in demands}
    )
    number = {place: row for row, place in enumerate(places)}
    direct = np.zeros((len(places), len(places)))
    for parent, child, quantity in links:
        direct[number[child], number[parent]] += quantity
    wanted = np.zeros(len(places))
    for place, quantity in demands:
        wanted[number[place]] += quantity
    total = solve(np.eye(len(places)) - direct, wanted) if places else wanted
    gross = {record.place: sum(record.gross) for record in records(netted(tables))}
    assert gross.keys() <= number.keys() | {(str(row["item"]), "") for row in tables["items"]}
    found = [gross.get(place, 0.0) for place in places]
    assert found == pytest.approx(total.tolist(), rel=1e-9, abs=1e-9 * (1 + abs(total).max()))


# ---------------------------------------------------------------- pegs

NEED = ["key", "day", "from_order", "demand_id"]


def slack_of_rows(plan: Plan) -> pl.DataFrame:
    """For each key the largest error of a peg's sum: slivers of a billionth are not pegged."""
    marks = plan.told_pegs.group_by("key").agg(count=pl.len() + 2)
    totals = plan.told_needs.group_by("key").agg(total=pl.col("quantity").sum())
    joined = totals.join(marks, "key", "left").with_columns(pl.col("count").fill_null(2))
    return joined.select("key", slack=pl.col("total") * pl.col("count") * 1e-9)


@each
@given(seed=seeds)
def test_every_need_is_found_again_in_its_pegs(seed: int) -> None:
    plan = random_plan(seed)
    pegs = plan.told_pegs.group_by(NEED).agg(pegged=pl.col("quantity").sum())
    beside = (
        plan.told_needs.join(pegs, on=NEED, how="full", coalesce=True)
        .with_columns(pl.col("quantity", "pegged").fill_null(0.0))
        .join(slack_of_rows(plan), on="key")
    )
    astray = beside.filter((pl.col("quantity") - pl.col("pegged")).abs() > pl.col("slack"))
    assert astray.rows() == []
    assert plan.told_pegs.filter(pl.col("kind") == "none").rows() == []


@each
@given(seed=seeds)
def test_the_needs_of_a_day_are_its_gross_requirement(seed: int) -> None:
    plan = random_plan(seed)
    needs = plan.told_needs.group_by("key", "day").agg(pl.col("quantity").sum())
    by_day = {(key, number): quantity for key, number, quantity in needs.rows()}
    for key, *gross in plan.flows.gross.rows():
        asked = [by_day.pop((key, number), 0.0) for number in range(len(gross))]
        # shares are cut from running sums, so they are as exact as the sum of the row
        assert asked == pytest.approx(gross, rel=1e-9, abs=1e-9 * sum(gross))
    assert by_day == {}


@each
@given(seed=seeds)
def test_no_supply_gives_more_than_it_has(seed: int) -> None:
    plan = random_plan(seed)
    slack = dict(slack_of_rows(plan).rows())
    has: dict[tuple[object, ...], float] = {}
    network, flows = plan.network, plan.flows
    for kind, frame in (
        ("stock", network.stock.select("key", "lot", "quantity")),
        ("open order", network.receipts.select("key", "order", "quantity")),
        ("planned order", plan.orders.select("key", "order", "expected_good")),
    ):
        for key, name, quantity in frame.rows():
            has[key, kind, name] = has.get((key, kind, name), 0.0) + quantity
    for key, *quantities in flows.starts.rows():
        has[key, "passed on", ""] = sum(quantities)
    given_away = plan.told_pegs.group_by("key", "kind", "supply").agg(pl.col("quantity").sum())
    for key, kind, name, quantity in given_away.rows():
        assert quantity <= has[key, kind, name] + slack[key], f"{kind} {name}"


@each
@given(seed=seeds)
def test_a_need_waits_only_where_nothing_ordered_today_would_come_sooner(seed: int) -> None:
    """What comes by the lead time counts as if it came in time; nothing else may be waited for."""
    plan = random_plan(seed)
    # of what is kept for a serial, or does not last for ever, others may have to wait
    choosy = (pl.col("serial") != "") | pl.col("expires").is_not_null()
    named = plan.network.stock.filter(choosy)["key"]
    by_plan = plan.stores.by_plan
    pegs = by_plan.told(by_plan.pegs, "kind", "comes").filter(~pl.col("key").is_in(named.implode()))
    lead = plan.network.items["lead"].gather(pegs["key"] // plan.network.serial_count)
    waiting = pegs.with_columns(lead=lead).filter(pl.col("comes") > pl.col("day"))
    assert waiting.filter(~pl.col("kind").is_in(["open order", "planned order"])).rows() == []
    assert waiting.filter(pl.col("comes") > pl.col("lead")).rows() == []


@each
@given(seed=seeds)
def test_no_stock_serves_a_need_after_it_expires(seed: int) -> None:
    plan = random_plan(seed)
    pegs = plan.told_pegs
    lots = plan.flows.lots.filter(~pl.col("beyond")).select("key", supply="lot", last="day")
    of_lots = pegs.filter(pl.col("kind") == "stock").join(lots, on=["key", "supply"])
    assert of_lots.filter(pl.col("day") > pl.col("last")).rows() == []
