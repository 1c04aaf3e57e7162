"""The build plan stretched to a rate, and what that asks of the shops once it runs steadily."""

import datetime as dt
import math
from collections.abc import Iterator
from dataclasses import dataclass

import polars as pl

from bomkit import units
from bomkit.planning.lead_chains import days_below
from bomkit.planning.levelling.resources import NO_GAPS
from bomkit.planning.netting.planned_orders import projection
from bomkit.planning.shop_plan import Turn, last_turn
from bomkit.planning.shops.in_work import by_week, work_in_progress
from bomkit.planning.shops.moulds.pulls_by_week import mould_loads
from bomkit.planning.shops.printing.print_room import printer_loads
from bomkit.planning.shops.process_hours import process_loads
from bomkit.planning.shops.stock_value import unit_costs, weekly_value
from bomkit.planning.structure.options_and_serials import serial_number
from bomkit.planning.tables_as_numbers.network import Network, build_network
from bomkit.planning.workdays import DAYS_IN_YEAR, WORKING_DAYS_IN_WEEK
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import iso_weeks
from bomkit.units import TOLERANCE
from bomkit.words.progress import Tell

DAYS_IN_MONTH = DAYS_IN_YEAR / 12
WEEKS_IN_MONTH = DAYS_IN_MONTH / 7
STEADY_WEEKS = 32  # over which averages are taken
_EASED_WEEKS = 10  # of these at either end, which count for less and less
_PAST = dt.timedelta(days=366)
_ONCE = ("stock", "open_orders", "allocations", "spares_orders")


@dataclass(frozen=True)
class Window:
    """The weeks that are looked at: late enough for all chains of lead times to have begun, early
    enough for everything that airframes ready later need to be in the plan."""

    first_week: int
    horizon_weeks: int

    @property
    def weeks(self) -> slice:
        """The numbers of these weeks among those of the horizon."""
        return slice(self.first_week, self.first_week + STEADY_WEEKS)

    @property
    def weights(self) -> list[float]:
        """By week of the horizon what it counts for in an average; they add up to 1.

        Orders come in lots: whether one more falls just inside a window with sharp ends would
        decide about a few percent.
        """
        inside = range(1, STEADY_WEEKS + 1)
        eased = [min(n, STEADY_WEEKS + 1 - n, _EASED_WEEKS) for n in inside]
        # a plan that does not start on a Monday touches one more ISO week
        after = self.horizon_weeks + 1 - self.first_week - STEADY_WEEKS
        whole = [0.0] * self.first_week + [float(each) for each in eased] + [0.0] * after
        return [each / sum(eased) for each in whole]


@dataclass(frozen=True)
class RatePoint:
    """What one rate asks of the shops.

    loads: kind (process, printer, mould), name, average, peak and capacity (a week), weeks_over.
    money: average value in the stores; spools, area: filament spools and m2 of bought material that
    parts are laid up in, a month; airframes: how many are ready in the weeks looked at; reslicing:
    as in PrintRoom; level_settled: whether levelling came to an end.
    """

    per_month: float
    loads: pl.DataFrame
    money: float
    spools: float
    area: float
    airframes: int
    reslicing: pl.DataFrame
    level_settled: bool


def study_window(tables: Tables) -> Window:
    """The window of weeks, by the longest chain of lead times below any airframe."""
    network = build_network(tables)
    chains = days_below(network)
    rows = network.items.select("item_id", "item", "lead", "safety").iter_rows()
    ahead = {item: chains[number] + lead + safety for number, item, lead, safety in rows}
    longest = max((ahead[item] for item in tables["build_plan"]["item"]), default=0)
    weeks = math.ceil(longest / WORKING_DAYS_IN_WEEK) + 1
    return Window(weeks, weeks + STEADY_WEEKS + weeks)


def stretched(tables: Tables, per_month: float, window: Window) -> dict[str, pl.DataFrame]:
    """The tables with airframes ready at a steady rate, from the first one's ready date on.

    The window does not know how far ahead that is, so the first is ready at its beginning at the
    latest. Items and options repeat in the build plan's order, serial numbers go on from its last
    one. Serials of the build plan that are not reached are ready past the horizon, and so left out.
    What is there once and does not come again every month is left out: stock, open orders,
    allocations, spares orders, and how far today's moulds are worn.
    """
    plan = tables["plan"].with_columns(horizon_weeks=pl.lit(window.horizon_weeks, pl.Int64))
    own = tables["build_plan"].sort("ready_date", "serial")
    end = plan["start"][0] + dt.timedelta(weeks=window.horizon_weeks)
    first = min(own["ready_date"][0], plan["start"][0] + dt.timedelta(weeks=window.first_week))
    count = max(0, math.ceil((end - first).days / DAYS_IN_MONTH * per_month))
    days = [math.floor(number * DAYS_IN_MONTH / per_month) for number in range(count)]
    ready = [first + dt.timedelta(days=each) for each in days]
    ready += [end + _PAST] * (len(own) - count)
    serials = [*own["serial"], *_further_serials(tables, len(ready) - len(own))]
    repeated = own.select("item", "options", "row")[[n % len(own) for n in range(len(ready))]]
    built = repeated.with_columns(
        serial=pl.Series(serials, dtype=pl.String), ready_date=pl.Series(ready, dtype=pl.Date)
    )
    once = {name: tables[name].clear() for name in _ONCE}
    moulds = tables["moulds"].with_columns(pulls_left=pl.lit(None, pl.Float64))
    built = built.select(tables["build_plan"].columns)
    return {**tables, **once, "plan": plan, "build_plan": built, "moulds": moulds}


def _further_serials(tables: Tables, count: int) -> Iterator[str]:
    """Serial numbers that go on from the last one of the build plan."""
    last = tables["build_plan"].sort("ready_date", "serial")["serial"][-1]
    prefix, number = serial_number(last)
    width = len(last) - len(prefix)
    known = {*tables["build_plan"]["serial"], *tables["fleet"]["serial"]}
    given, number = 0, number or 0
    while given < count:
        number += 1
        serial = f"{prefix}{number:0{width}d}"
        if serial not in known:
            given += 1
            yield serial


def rate_point(tables: Tables, per_month: float, window: Window, tell: Tell) -> RatePoint:
    """The plan at a rate, levelled as the settings say, looked at over the window's weeks."""
    at_rate = stretched(tables, per_month, window)
    network = build_network(at_rate)
    turn = last_turn(network, at_rate, at_rate["plan"]["pull_ahead_weeks"][0], tell)
    record = projection(turn.network, turn.flows)
    prints = printer_loads(network, turn.orders, at_rate, work_in_progress(at_rate, network.axis))
    weeks = network.axis.weeks().unique(maintain_order=True)[window.weeks]
    inside = record.filter(pl.col("week").is_in(weeks.implode()))
    needed = inside.group_by("item").agg(gross=pl.col("gross").sort().sum())
    value = weekly_value(inside, unit_costs(at_rate, inside["serial"].unique()))
    months = len(weeks) / WEEKS_IN_MONTH
    ready = iso_weeks(at_rate["build_plan"]["ready_date"])
    return RatePoint(
        per_month,
        _loads(turn, at_rate, prints.loads, window),
        float(value["value"].mean() or 0.0),  # type: ignore[arg-type]
        _spools(needed, at_rate) / months,
        _area(needed, network) / months,
        int(ready.is_in(weeks.implode()).sum()),
        prints.reslicing,
        turn.level_settled,
    )


def _loads(turn: Turn, tables: Tables, printing: pl.DataFrame, window: Window) -> pl.DataFrame:
    """Average, peak and capacity of each process, kind of printer and item with moulds.

    printing: the loads of the printers.
    """
    names = turn.network.axis.weeks().unique(maintain_order=True)
    weights = pl.DataFrame({"week": names, "weight": window.weights[: len(names)]})
    over = pl.col("load") > pl.col("capacity") * (1 + TOLERANCE)
    return (
        _loads_by_week(turn, tables, printing)
        .join(weights.filter(pl.col("weight") > 0), on="week", maintain_order="left")
        .group_by("kind", "name", maintain_order=True)
        .agg(
            average=(pl.col("load") * pl.col("weight")).sum().round(6),
            peak=pl.col("load").max(),
            capacity=pl.when(pl.col("capacity").is_not_null().all())
            .then((pl.col("capacity") * pl.col("weight")).sum())
            .round(6),
            weeks_over=over.fill_null(False).sum(),
        )
    )


def _loads_by_week(turn: Turn, tables: Tables, printing: pl.DataFrame) -> pl.DataFrame:
    """The load of each process, kind of printer and item with moulds: kind, name, week, load,
    capacity. Nothing is in work, and no mould wears; printing: as in _loads."""
    network = turn.network
    none = work_in_progress(tables, network.axis)
    spoken_for = by_week(none, "process", "hours", network.axis)
    items, processes = tables["items"], tables["processes"]
    hours = process_loads(turn.orders, items, processes, network.axis, spoken_for)
    pulls = mould_loads(network, turn.orders, tables["moulds"], NO_GAPS, none)
    columns = ("kind", "name", "week", "load", "capacity")
    parts = [
        hours.select("week", "capacity", kind=pl.lit("process"), name="process", load="hours"),
        printing.select("week", "capacity", kind=pl.lit("printer"), name="kind", load="hours"),
        pulls.select("week", "capacity", kind=pl.lit("mould"), name="item", load="pulls"),
    ]
    return pl.concat([part.select(columns) for part in parts])


def _spools(needed: pl.DataFrame, tables: Tables) -> float:
    """Spools of filament that are used, of materials that say what a spool holds.

    needed: the gross requirement of each item: item, gross.
    """
    kg = pl.col("gross") * units.size(pl.col("unit"))
    spools = (
        tables["materials"]
        .join(needed, on="item")
        .join(tables["items"].select("item", "unit"), on="item")
        .select(kg / pl.col("spool_kg"))
    )
    return float(spools.to_series().sort().sum())


def _area(needed: pl.DataFrame, network: Network) -> float:
    """Square metres of bought material that are used; needed: as for _spools."""
    bought = network.items.filter(
        (pl.col("source") == "buy") & (units.dimension(pl.col("unit")) == "area")
    )
    used = bought.join(needed, on="item").select(pl.col("gross") * units.size(pl.col("unit")))
    return float(used.to_series().sort().sum())
