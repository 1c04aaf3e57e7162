"""Why an item is ordered and what it waits for: trees from the result tables of a finished run."""

from dataclasses import dataclass, field
from typing import Any

import polars as pl
from anytree import Node

from bomkit.tables.schema import Tables

Row = dict[str, Any]
MORE_AT_TOP = 1  # branches of the item itself beyond those of other nodes
STANDING = (
    "stock",
    "open order",
    "planned order",
)  # supplies, in the order in which they are shown


@dataclass(frozen=True)
class Reason:
    """record: week, gross, receipts, planned, projected; upwards, downwards: trees, their nodes
    with the attributes peg and order (rows of PEGS and ORDERS, or None), demand (row of FORECAST or
    None), is_supply, seen (shown before, not again) and left_out (not a branch, but how many more
    there are beside those before it)."""

    item: Row
    record: pl.DataFrame
    upwards: Node
    downwards: Node


def reason(tables: Tables, item: str, serial: str, most: int) -> Reason:
    """The record of an item and its two trees; at most so many branches at each node, one more at
    the top.

    tables: by the names in by_name.RESULTS. serial: only what is planned or meant for it; "": all.
    """
    pegs = tables["pegs"].filter(pl.col("supply_kind") != "passed on")
    own = pl.col("item") == item
    if serial:
        own &= (pl.col("serial") == serial) | (pl.col("demand_serial") == serial)
    picture = _Picture(tables, pegs, most)
    rows = pegs.filter(own).sort("need_date", "need", "supply")
    about = tables["planned_items"].filter(pl.col("item") == item).row(0, named=True)
    return Reason(
        about,
        _record(tables["projection"], item, serial),
        picture.upwards(about, rows),
        picture.downwards(about, rows, tables["orders"].filter(_of(item, serial))),
    )


def _of(item: str, serial: str) -> pl.Expr:
    """Whether a row is that item's, and its own serial's or a common one's."""
    own = pl.col("item") == item
    return own & ((pl.col("serial") == serial) | (pl.col("serial") == "")) if serial else own


def _record(projection: pl.DataFrame, item: str, serial: str) -> pl.DataFrame:
    """The planning record by week, serials added up."""
    figures = ("gross", "receipts", "planned", "projected")
    return (
        projection.filter(_of(item, serial))
        .group_by("week")
        .agg(pl.col(figures).sum())
        .sort("week")
    )


class _Grouped:
    """The rows of each value of a column; only those of a few values are ever asked for."""

    def __init__(self, frame: pl.DataFrame, column: str) -> None:
        in_turn = frame.sort("need_date", "need", "item")
        self._frame = in_turn.sort(column, maintain_order=True)
        runs = self._frame[column].rle().struct.unnest()
        starts = runs["len"].cum_sum() - runs["len"]
        spans = zip(starts, runs["len"], strict=True)
        self._spans = dict(zip(runs["value"], spans, strict=True))

    def rows(self, value: str) -> list[Row]:
        """The rows of one value, in the order of their needs."""
        start, count = self._spans.get(value, (0, 0))
        return self._frame.slice(start, count).to_dicts()


@dataclass
class _Picture:
    """Grows the trees; remembers which orders have been shown."""

    tables: Tables
    pegs: pl.DataFrame
    most: int
    seen: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.orders: dict[str, Row] = _by(self.tables["orders"], "order")
        self.demands: dict[tuple[str, str, str], Row] = {
            (row["demand"], row["demand_kind"], row["serial"]): row
            for row in self.tables["forecast"].iter_rows(named=True)
        }
        ordered = self.pegs.filter(pl.col("supply_kind") == "planned order")
        self.served = _Grouped(ordered, "supply")
        self.asked = _Grouped(self.pegs.filter(pl.col("from_order") != ""), "from_order")

    def upwards(self, item: Row, rows: pl.DataFrame) -> Node:
        """From each supply of the item to whom it serves, up to airframes and spares orders."""
        self.seen = set()
        top = self.node(item["item"])
        groups = rows.group_by(
            "supply_kind",
            "supply",
            "location",
            "supply_date",
            "comes",
            "serial",
            maintain_order=True,
        )
        supplies = [
            (part.row(0, named=True) | {"quantity": part["quantity"].sum()}, part.to_dicts())
            for _, part in groups
        ]
        supplies.sort(key=lambda pair: (pair[0]["supply_date"], _rank(pair[0]), pair[0]["supply"]))
        for peg, served in supplies[: self.most + MORE_AT_TOP]:
            supply = self.node(
                peg["supply"], top, peg=peg, order=self.order_of(peg), is_supply=True
            )
            self.climb(supply, served)
        self.rest(top, len(supplies) - self.most - MORE_AT_TOP)
        return top

    def climb(self, below: Node, served: list[Row]) -> None:
        """Adds whom a supply serves, and whom these serve in turn."""
        needs = _merged(served, "need")
        for peg in needs[: self.most]:
            order = self.orders.get(peg["from_order"])
            if order is None:
                who = (peg["demand"], peg["demand_kind"], peg["demand_serial"])
                demand = self.demands.get(who)
                self.node(peg["need"], below, peg=peg, demand=demand)
                continue
            seen = order["order"] in self.seen
            above = self.node(order["order"], below, peg=peg, order=order, seen=seen)
            if not seen:
                self.seen.add(order["order"])
                self.climb(above, self.served.rows(order["order"]))
        self.rest(below, len(needs) - self.most)

    def downwards(self, item: Row, rows: pl.DataFrame, orders: pl.DataFrame) -> Node:
        """From each order of the item that waits to what comes too late for it, and so on down."""
        self.seen = set()
        top = self.node(item["item"])
        waiting = [
            order
            for order in orders.sort("start_date", "order").iter_rows(named=True)
            if self.late(order["order"])
        ]
        for order in waiting[: self.most + MORE_AT_TOP]:
            self.descend(self.node(order["order"], top, order=order, is_supply=True), order)
        self.rest(top, len(waiting) - self.most - MORE_AT_TOP)
        return top

    def descend(self, above: Node, order: Row) -> None:
        """Adds what comes too late for an order, and what that waits for in turn."""
        lacking = _merged(self.late(order["order"]), "supply")
        for peg in lacking[: self.most]:
            supply = self.order_of(peg)
            seen = supply is not None and supply["order"] in self.seen
            below = self.node(
                peg["supply"], above, peg=peg, order=supply, is_supply=True, seen=seen
            )
            if supply is not None and not seen:
                self.seen.add(supply["order"])
                self.descend(below, supply)
        self.rest(above, len(lacking) - self.most)

    def late(self, need: str) -> list[Row]:
        """What comes too late for an order, the latest first."""
        late = [peg for peg in self.asked.rows(need) if peg["late_days"] > 0]
        return sorted(late, key=lambda peg: (-peg["late_days"], peg["item"], peg["supply"]))

    def order_of(self, peg: Row) -> Row | None:
        """The planned order that a peg draws on, if it does."""
        return self.orders.get(peg["supply"]) if peg["supply_kind"] == "planned order" else None

    def rest(self, parent: Node, left_out: int) -> None:
        """Ends the branches of a node with how many are left out, if any."""
        if left_out > 0:
            self.node("", parent, left_out=left_out)

    def node(self, name: str, parent: Node | None = None, **said: Any) -> Node:
        """A node with everything that a screen may ask for."""
        unsaid = {"peg": None, "order": None, "demand": None, "is_supply": False, "seen": False}
        return Node(name, parent, **(unsaid | {"left_out": 0} | said))


def _rank(peg: Row) -> int:
    """Where a kind of supply stands among those of one day."""
    kind = peg["supply_kind"]
    return STANDING.index(kind) if kind in STANDING else len(STANDING)


def _by(frame: pl.DataFrame, column: str) -> dict[str, Row]:
    """The rows by the value of a column that names them."""
    return {row[column]: row for row in frame.iter_rows(named=True)}


def _merged(rows: list[Row], column: str) -> list[Row]:
    """Rows of one need (or supply) and item put together, their quantities added up."""
    merged: dict[tuple[Any, ...], Row] = {}
    for row in rows:
        outside = column == "need" and not row["from_order"]
        who = (row["demand"], row["demand_kind"], row["demand_serial"]) if outside else ()
        key = (row[column], row["item"], row["serial"], *who)
        if key in merged:
            known = merged[key]
            known["quantity"] += row["quantity"]
            known["late_days"] = max(known["late_days"], row["late_days"])
            known["need_date"] = min(known["need_date"], row["need_date"])
        else:
            merged[key] = dict(row)
    return list(merged.values())
