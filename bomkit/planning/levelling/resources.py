"""What the shops have in each week, and what one order of an item takes of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import polars as pl

from bomkit.planning.levelling.room import Use
from bomkit.planning.shops.capacity_by_week import in_open_days
from bomkit.planning.shops.in_work import Amount, by_week
from bomkit.planning.shops.moulds.pulls_by_week import pulls_there
from bomkit.planning.shops.moulds.worn_not_yet_replaced import days_without_any
from bomkit.planning.shops.printing.approved_printers import approved_kinds
from bomkit.planning.shops.process_hours import PRINT_PROCESS
from bomkit.planning.tables_as_numbers.network import Network, Skeleton
from bomkit.tables.schema import Tables

NO_GAPS: Mapping[str, range] = {}
_MOST_SETS = 64  # of printer kinds that are looked at together


@dataclass(frozen=True)
class Resource:
    """One thing of which there is only so much: a process, printers of some kinds, an item's
    moulds.

    members: the kinds of printer.
    """

    kind: Literal["process", "printer", "mould"]
    name: str
    members: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What tells it from all others."""
        return f"{self.kind} {self.name}"


@dataclass(frozen=True)
class Resources:
    """all: every resource, by number; capacity: by resource and week of the axis; week_of: number
    of the week of each day; uses: by item_id what its orders take; closed: by item_id days on which
    nothing can be pulled into or out of, as no mould is left: that would only wear them sooner."""

    all: Sequence[Resource]
    capacity: Sequence[Sequence[float]]
    week_of: Sequence[int]
    uses: Mapping[int, tuple[Use, ...]]
    closed: Mapping[int, range] = field(default_factory=dict)


class _Gathered:
    """Resources while they are being gathered."""

    def __init__(self, network: Network | Skeleton) -> None:
        weeks = network.axis.weeks().to_list()
        open_days = network.axis.open_days()
        numbers = {week: number for number, week in enumerate(open_days)}
        self.week_of = [numbers[week] for week in weeks]
        self.open_days = list(open_days.values())
        self.ids = dict(network.items.select("item", "item_id").iter_rows())
        self.all: list[Resource] = []
        self.capacity: list[list[float]] = []
        self.uses: dict[int, list[Use]] = {}

    def add(self, resource: Resource, per_week: float) -> int:
        """A resource with so much of it in a normal week; its number."""
        self.all.append(resource)
        self.capacity.append([in_open_days(per_week, days) for days in self.open_days])
        return len(self.all) - 1

    def use(self, item: str, use: Use) -> None:
        self.uses.setdefault(self.ids[item], []).append(use)


def shop_resources(
    network: Network | Skeleton,
    tables: Tables,
    gaps: Mapping[str, range] = NO_GAPS,
    orders: pl.DataFrame | None = None,
    in_work: pl.DataFrame | None = None,
) -> Resources:
    """Hours of processes and printers, and pulls of moulds, as far as they are stated.

    gaps: by worn mould the days without it; orders: those by whose pulls it was worn; in_work:
    what open orders still take, as work_in_progress gives it; that is there for nothing else.
    """
    gathered = _Gathered(network)
    _add_processes(gathered, tables)
    _add_printers(gathered, tables)
    _add_moulds(gathered, network, tables, gaps, orders, in_work)
    if in_work is not None:
        _take_off(gathered, network, in_work)
    passing = set(network.items.filter("passes")["item_id"])
    uses = {item: tuple(own) for item, own in gathered.uses.items() if item not in passing}
    closed = {
        gathered.ids[item]: days for item, days in days_without_any(tables["moulds"], gaps).items()
    }
    return Resources(gathered.all, gathered.capacity, gathered.week_of, uses, closed)


def _add_processes(gathered: _Gathered, tables: Tables) -> None:
    """hours_per_week of each process, and the working hours of its items."""
    limited = tables["processes"].filter(pl.col("hours_per_week").is_not_null()).sort("process")
    numbers = {
        process: gathered.add(Resource("process", process), hours)
        for process, hours in limited.select("process", "hours_per_week").iter_rows()
    }
    columns = ("item", "source", "process", "hours_each", "hours_per_order")
    for item, source, process, each, once in tables["items"].select(columns).iter_rows():
        name = PRINT_PROCESS if source == "print" and not process else process
        if name in numbers and each + once > 0:
            gathered.use(item, Use(numbers[name], each, once, spread=True))


def _add_printers(gathered: _Gathered, tables: Tables) -> None:
    """Printer hours, for every set of kinds that some part can't get out of.

    Parts fit onto the printers if for each such set the hours of the parts approved for nothing
    outside it fit into its hours (Hall's condition), so each set is a resource of its own.
    """
    printers = {row["kind"]: row for row in tables["printers"].iter_rows(named=True)}
    hours_of = dict(tables["prints"].select("item", "hours").iter_rows())
    approved = {
        item: (frozenset(kinds), hours_of[item])
        for item, kinds in approved_kinds(tables).items()
        if kinds
    }
    for kinds in _unions({kinds for kinds, _ in approved.values()}):
        hours = sum(printers[kind]["count"] * printers[kind]["hours_per_week"] for kind in kinds)
        members = tuple(sorted(kinds))
        number = gathered.add(Resource("printer", " + ".join(members), members), hours)
        for item, (own, each) in approved.items():
            if own <= kinds:
                gathered.use(item, Use(number, each))


def _add_moulds(
    gathered: _Gathered,
    network: Network | Skeleton,
    tables: Tables,
    gaps: Mapping[str, range],
    orders: pl.DataFrame | None,
    in_work: pl.DataFrame | None,
) -> None:
    """Pulls a week of all moulds of an item, as far as they are left; each unit started is one."""
    for item, of_weeks in pulls_there(network, tables["moulds"], gaps, orders, in_work).items():
        number = gathered.add(Resource("mould", item), 0.0)
        gathered.capacity[number] = of_weeks
        gathered.use(item, Use(number, 1.0))


def _take_off(gathered: _Gathered, network: Network | Skeleton, in_work: pl.DataFrame) -> None:
    """Takes what is in work off what there is, week by week, as far as that goes."""
    week_number = {week: gathered.week_of[day] for day, week in enumerate(network.axis.weeks())}
    amounts: dict[str, Amount] = {"process": "hours", "printer": "print_hours", "mould": "pulls"}
    for kind, amount in amounts.items():
        for item, week, taken in by_week(in_work, "item", amount, network.axis).iter_rows():
            for use in gathered.uses.get(gathered.ids[item], ()):
                if gathered.all[use.resource].kind == kind:
                    left = gathered.capacity[use.resource]
                    left[week_number[week]] = max(0.0, left[week_number[week]] - taken)


def _unions(sets: set[frozenset[str]]) -> list[frozenset[str]]:
    """All unions of the sets, smallest first; of very many, the sets themselves and the whole."""
    unions: set[frozenset[str]] = set()
    for one in sorted(sets, key=sorted):
        unions |= {one, *(one | other for other in unions)}
        if len(unions) > _MOST_SETS:
            unions = {*sets, frozenset().union(*sets)}
            break
    return sorted(unions, key=lambda kinds: (len(kinds), sorted(kinds)))
