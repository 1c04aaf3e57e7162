"""What every allocation of one plan stands on, worked out once: who asks, what there is, what lies
in what."""

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Flags, Floats, Ints, Rows, at_places, floats, ints
from bomkit.planning.netting.keys_asked_for import held_conditions
from bomkit.planning.netting.netted_plan import Flows, timed_lines
from bomkit.planning.pegging.need_by_need.needs import LASTS, NOBODY
from bomkit.planning.pegging.order_of_supplies import PASSED_ON, STOCK, TAKEN_FIRST, all_supplies
from bomkit.planning.pegging.ranked_demands import asking, outside_needs, spares_rows, turns
from bomkit.planning.tables_as_numbers.keys import Keys
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.units import WHOLE_UNITS

NO_ORDER = -1  # in place of the number of a planned order
_EPOCH = dt.date(1970, 1, 1).toordinal()  # dates are stored as days from then on


@dataclass(frozen=True)
class Offered:
    """The supplies by their number, sorted by key: key, usable, comes, kind (its rank), quantity,
    last (ordinal of the last day of use), kept_for (number of a serial), order_id, stock, passing.
    """

    key: Ints
    usable: Ints
    comes: Ints
    kind: Ints
    quantity: Floats
    last: Ints
    kept_for: Ints
    order_id: Ints
    stock: Flags
    passing: Flags


@dataclass(frozen=True)
class Lines:
    """The structure lines by parent, those of item i from first[i] on, count[i] of them; columns
    child, factor, per_order, offset, lead, safety, first_start, last_start, condition, specific."""

    first: Ints
    count: Ints
    columns: Rows

    def to(self, items: Flags) -> "Lines":
        """The lines to some items alone."""
        own = items[self.columns["child"]]
        parent = np.repeat(np.arange(len(self.count)), self.count)[own]
        count = np.bincount(parent, minlength=len(self.count))
        return Lines(np.cumsum(count) - count, count, at_places(self.columns, own))


@dataclass(frozen=True)
class Ground:
    """demands: as asking gives them; supplies: as all_supplies; asked: as spares_rows; outside: as
    outside_needs; started: of each planned order the quantity.

    turns: of each demand in which turn it is served within its rank; whose: for which serial.
    levels: of each item; packed: whether it is a kit; pieces: whether it is counted; plain: whether
    nothing lies in it and nothing of it is kept for a serial; fits: by condition and serial whether
    it holds; dates: of the working days.
    """

    keys: Keys
    dates: pl.Series
    demands: pl.DataFrame
    supplies: pl.DataFrame
    asked: pl.DataFrame
    outside: Rows
    offered: Offered
    lines: Lines
    started: Floats
    turns: Ints
    whose: Ints
    levels: Ints
    packed: Flags
    pieces: Flags
    plain: Flags
    fits: Flags

    @cached_property
    def to_plain(self) -> Lines:
        """The lines to plain items."""
        return self.lines.to(self.plain)

    @cached_property
    def to_others(self) -> Lines:
        """The lines to all but plain items."""
        return self.lines.to(~self.plain)

    @property
    def key_count(self) -> int:
        """How many planning keys there are."""
        return len(self.levels) * self.keys.serial_count

    def keys_of(self, supplies: Flags) -> Flags:
        """By key whether it has one of some supplies."""
        having: Flags = np.zeros(self.key_count, np.bool_)
        having[self.offered.key[supplies]] = True
        return having


def ground(network: Network, flows: Flows, orders: pl.DataFrame, tables: Tables | None) -> Ground:
    """What the allocations of a plan stand on; tables: for what spares orders say of shelf life."""
    demands, items, asked = asking(network), network.items, spares_rows(tables)
    lines = timed_lines(network)
    supplies = all_supplies(network, flows, orders)
    outside = outside_needs(network, demands, asked)
    numbers = {name: number for number, name in enumerate(_named(demands, supplies))}
    by_parent, offered = _by_parent(lines, len(items)), _offered(supplies, numbers)
    return Ground(
        keys=network.keys,
        dates=network.axis.dates,
        demands=demands,
        supplies=supplies,
        asked=asked,
        outside={name: outside[name].to_numpy() for name in outside.columns},
        offered=offered,
        lines=by_parent,
        started=floats(orders["quantity"]),
        turns=turns(demands),
        whose=_numbered(demands["whose"], numbers),
        levels=ints(items["level"]),
        packed=(items["source"] == "kit").to_numpy(),
        pieces=items["unit"].is_in(WHOLE_UNITS).to_numpy(),
        plain=_plain(network.keys, by_parent, offered),
        fits=held_conditions(network, int(lines["condition"].max() or 0)),  # type: ignore[arg-type]
    )


def _named(demands: pl.DataFrame, supplies: pl.DataFrame) -> list[str]:
    """Nobody, and the serials that demands and supplies name."""
    return (
        pl.concat([demands["whose"], supplies["meant_for"], pl.Series([""])])
        .unique()
        .sort()
        .to_list()
    )


def _numbered(serials: pl.Series, numbers: dict[str, int]) -> Ints:
    """The numbers of serials."""
    return ints(serials.replace_strict(numbers, return_dtype=pl.Int64))


def _offered(supplies: pl.DataFrame, numbers: dict[str, int]) -> Offered:
    """The supplies as arrays."""
    kind = supplies["kind"]
    ordinal = pl.col("expires").cast(pl.Int32).cast(pl.Int64) + _EPOCH
    return Offered(
        key=ints(supplies["key"]),
        usable=ints(supplies["usable"]),
        comes=ints(supplies["comes"]),
        kind=ints(kind.replace_strict(TAKEN_FIRST, return_dtype=pl.Int64)),
        quantity=floats(supplies["quantity"]),
        last=ints(supplies.select(ordinal.fill_null(LASTS))["expires"]),
        kept_for=_numbered(supplies["meant_for"], numbers),
        order_id=ints(supplies["order_id"].fill_null(NO_ORDER)),
        stock=(kind == STOCK).to_numpy(),
        passing=(kind == PASSED_ON).to_numpy(),
    )


def _plain(keys: Keys, lines: Lines, offered: Offered) -> Flags:
    """Of each item whether nothing lies in it and nothing of it is kept for a serial."""
    plain: Flags = lines.count == 0
    plain[keys.item(offered.key[offered.kept_for != NOBODY])] = False
    return plain


def _by_parent(lines: pl.DataFrame, parents: int) -> Lines:
    """The structure lines with their timing, by parent; lines: as timed_lines gives them."""
    lines = lines.sort("parent_id", maintain_order=True)
    count = np.bincount(ints(lines["parent_id"]), minlength=parents)
    names = {"child": "child_id", "specific": "child_specific"}
    same = ("factor", "per_order", "offset", "lead", "safety", "first_start", "last_start")
    names |= {name: name for name in (*same, "condition")}
    columns = {name: lines[column].to_numpy() for name, column in names.items()}
    return Lines(np.cumsum(count) - count, count, columns)
