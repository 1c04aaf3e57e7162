"""The plan as the shops carry it out: levelled if asked for, with loads, plates and its cost."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import polars as pl

from bomkit.planning.levelling.held_for_parts import NO_LIMITS, Limits
from bomkit.planning.levelling.levelled_plan import MOVES, LevelledPlan, level_plan
from bomkit.planning.levelling.resources import NO_GAPS, shop_resources
from bomkit.planning.netting.netted_plan import Flows, plan_flows
from bomkit.planning.netting.planned_orders import planned_orders, projection
from bomkit.planning.shops.in_work import by_week, work_in_progress
from bomkit.planning.shops.moulds.pulls_by_week import mould_loads
from bomkit.planning.shops.moulds.pulls_left import wear
from bomkit.planning.shops.moulds.replacement_moulds import with_mould_demands
from bomkit.planning.shops.moulds.worn_not_yet_replaced import gaps_of, soonest_late
from bomkit.planning.shops.printing.print_room import PrintRoom, plan_prints
from bomkit.planning.shops.printing.too_many_plates import refuse_too_many_plates
from bomkit.planning.shops.process_hours import process_loads
from bomkit.planning.shops.stock_value import unit_costs, weekly_value
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.words.progress import Tell

_MOST_ROUNDS = 5  # worn moulds seldom take parts from other moulds that wear


@dataclass(frozen=True)
class ShopPlan:
    """One plan with what it asks of the shops.

    network: with the demands of worn moulds; orders, projection: as the result tables;
    orders_before: as orders, before levelling; loads: process, week, hours_before (levelling),
    hours, capacity; moves: item, serial, quantity, start_before, start (dates), days (earlier);
    value: week, value (in the stores at its end), added (of it by levelling); worn: as moulds.wear
    gives it; pulls: as mould_loads; in_work: what open orders take, as in_work.work_in_progress;
    held: as in LevelledPlan.
    """

    network: Network
    flows: Flows
    orders: pl.DataFrame
    orders_before: pl.DataFrame
    projection: pl.DataFrame
    loads: pl.DataFrame
    moves: pl.DataFrame
    value: pl.DataFrame
    prints: PrintRoom
    worn: pl.DataFrame
    pulls: pl.DataFrame
    in_work: pl.DataFrame
    held: Limits
    settled: bool = True  # whether the demands for worn moulds are those of the plan's own pulls
    level_settled: bool = True  # whether levelling came to an end


@dataclass(frozen=True)
class Turn:
    """One turn of planning: the flows before levelling and after, the orders and the moulds worn by
    them; gaps: by worn mould the days that were counted as without it; settled: as in ShopPlan."""

    network: Network
    before: Flows
    levelled: LevelledPlan | None
    orders: pl.DataFrame
    worn: pl.DataFrame
    gaps: Mapping[str, range]
    settled: bool = True

    @property
    def flows(self) -> Flows:
        """The flows after levelling."""
        return self.levelled.flows if self.levelled else self.before

    @property
    def held(self) -> Limits:
        """What levelling had to hold."""
        return self.levelled.held if self.levelled else NO_LIMITS

    @property
    def moves(self) -> pl.DataFrame:
        """What levelling pulled forward."""
        return self.levelled.moves if self.levelled else pl.DataFrame(schema=MOVES)

    @property
    def level_settled(self) -> bool:
        """Whether levelling came to an end."""
        return self.levelled.settled if self.levelled else True


def last_turn(
    network: Network,
    tables: Tables,
    pull_weeks: int,
    tell: Tell,
    last: Turn | None = None,
) -> Turn:
    """The plan of a network, its work pulled forward by at most some weeks (0: as netted).

    Planned again until the demands for worn moulds, and what the moulds that are left can give,
    are those of the plan's own pulls. last: that of a network which is nearly the same; it begins
    with the worn moulds found there, else with those of the plan as netted, as they seldom differ.
    """
    if last is None and pull_weeks > 0:
        netted = _planned_once(network, tables, 0, tell)
        last = replace(netted, gaps=_gaps(network, netted.worn))
    gaps = last.gaps if last else NO_GAPS
    first = with_mould_demands(network, last.worn) if last else network
    turn = _planned_once(first, tables, pull_weeks, tell, last, gaps)
    for rounds in range(_MOST_ROUNDS + 1):
        demanded = with_mould_demands(network, turn.worn)
        own_gaps = _gaps(network, turn.worn) if pull_weeks > 0 else {}
        if rounds > 1:
            own_gaps = _wider(gaps, own_gaps)  # else two plans could follow each other for ever
        if demanded.demands.equals(turn.network.demands) and own_gaps == gaps:
            return turn
        if rounds < _MOST_ROUNDS:
            gaps = own_gaps
            turn = _planned_once(demanded, tables, pull_weeks, tell, turn, gaps)
    return replace(turn, settled=False)


def _gaps(network: Network, worn: pl.DataFrame) -> dict[str, range]:
    """By worn mould the days without it, if nothing for its replacement is there yet."""
    return gaps_of(network, worn, soonest_late(network, worn))


def _wider(one: Mapping[str, range], other: Mapping[str, range]) -> dict[str, range]:
    """By mould the days of both."""
    both = {**one, **other}
    return {
        mould: range(
            min(gaps[mould].start for gaps in (one, other) if mould in gaps),
            max(gaps[mould].stop for gaps in (one, other) if mould in gaps),
        )
        for mould in both
    }


def _planned_once(
    network: Network,
    tables: Tables,
    pull_weeks: int,
    tell: Tell,
    last: Turn | None = None,
    gaps: Mapping[str, range] = NO_GAPS,
) -> Turn:
    """The plan of a network with just the demands that it has, after what the last turn found."""
    before = flows = plan_flows(network, tell, known=last.before.structure if last else None)
    refuse_too_many_plates(network, flows, tables)
    levelled = None
    if pull_weeks > 0:
        tell("levelling")
        worn_by = last.orders if last else None
        in_work = work_in_progress(tables, network.axis)
        resources = shop_resources(network, tables, gaps, worn_by, in_work)
        known = last.levelled if last else None
        levelled = level_plan(network, before, resources, tables["items"], pull_weeks, tell, known)
        flows = levelled.flows
    orders = planned_orders(network, flows)
    return Turn(network, before, levelled, orders, wear(network, orders, tables["moulds"]), gaps)


def told(turn: Turn, tables: Tables, gaps: Mapping[str, range] | None = None) -> ShopPlan:
    """A turn with all that is told of it.

    gaps: by worn mould the days without it, if not as if nothing for its replacement was there.
    """
    network = turn.network
    orders_before, value = turn.orders, _NO_VALUE
    record = projection(network, turn.flows)
    if turn.levelled:
        orders_before = planned_orders(network, turn.before)
        value = _value(tables, projection(network, turn.before), record)
    gaps = _gaps(network, turn.worn) if gaps is None else gaps
    in_work = work_in_progress(tables, network.axis)
    return ShopPlan(
        network,
        turn.flows,
        turn.orders,
        orders_before,
        record,
        _loads(network, tables, orders_before, turn.orders, in_work),
        _named_moves(network, turn.moves),
        value,
        plan_prints(network, turn.orders, tables, in_work),
        turn.worn,
        mould_loads(network, turn.orders, tables["moulds"], gaps, in_work),
        in_work,
        turn.held,
        turn.settled,
        turn.level_settled,
    )


_NO_VALUE = pl.DataFrame(schema={"week": pl.String, "value": pl.Float64, "added": pl.Float64})


def _loads(
    network: Network,
    tables: Tables,
    orders_before: pl.DataFrame,
    orders: pl.DataFrame,
    in_work: pl.DataFrame,
) -> pl.DataFrame:
    """Hours by process and week before and after levelling, what of them is in work, and what
    there is."""
    spoken_for = by_week(in_work, "process", "hours", network.axis)
    before, after = (
        process_loads(planned, tables["items"], tables["processes"], network.axis, spoken_for)
        for planned in (orders_before, orders)
    )
    hours_before = before.select("process", "week", hours_before="hours")
    return after.join(
        hours_before, on=["process", "week"], how="left", maintain_order="left"
    ).select(
        "process", "week", pl.col("hours_before").fill_null(0.0), "hours", "capacity", "in_work"
    )


def _named_moves(network: Network, moves: pl.DataFrame) -> pl.DataFrame:
    """What was pulled forward, with the days on which it was to start and starts now."""
    ahead = network.items.select("item_id", ahead=pl.col("lead") + pl.col("safety"))
    named = network.named(moves).join(ahead, on="item_id", maintain_order="left")
    starts = named.with_columns(
        first=pl.col("usable_before") - pl.col("ahead"), second=pl.col("usable") - pl.col("ahead")
    )
    return (
        starts.with_columns(
            start_before=network.axis.on(starts["first"]),
            start=network.axis.on(starts["second"]),
            days=pl.col("first") - pl.col("second"),
        )
        .select("item", "serial", "quantity", "start_before", "start", "days")
        .sort("start_before", "item", "serial", "start", "quantity")
    )


def _value(tables: Tables, before: pl.DataFrame, after: pl.DataFrame) -> pl.DataFrame:
    """The value in the stores week by week, and what levelling adds to it."""
    costs = unit_costs(tables, pl.concat([before["serial"], after["serial"]]).unique())
    earlier = weekly_value(before, costs).select("week", was="value")
    return (
        weekly_value(after, costs)
        .join(earlier, on="week", how="left", maintain_order="left")
        .select("week", "value", added=(pl.col("value") - pl.col("was").fill_null(0.0)).round(2))
    )
