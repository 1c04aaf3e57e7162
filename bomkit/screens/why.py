"""What `bomkit why` prints: a planning record and two trees, in words."""

from collections.abc import Iterator
from typing import Any

import polars as pl
from anytree import Node, RenderTree

from bomkit.planning.forecast.why import Reason
from bomkit.tables.shared_columns import NEVER
from bomkit.words import common, overview
from bomkit.words.screens import why as said
from bomkit.workbooks.for_whom import demand_in_words

FEW_BRANCHES, ALL_BRANCHES = 2, 1_000_000
_MOST_WEEKS = 8


def reason_lines(run: str, reason: Reason, everything: bool) -> Iterator[str]:
    """Why an item is ordered: its record, whom its supplies serve, and what comes too late."""
    item = reason.item
    made_by = item["process"] or item["supplier"]
    words = [item["item"], item["description"], f"[{common.SOURCES[item['source']]}]", made_by]
    yield "  ".join(filter(None, [*words, common.RUN.format(run_id=run)]))
    yield ""
    yield from _record_lines(reason, everything)
    yield ""
    yield said.WHY_UP if reason.upwards.children else said.WHY_NOTHING
    yield from _branches(reason.upwards, item["unit"])
    if reason.downwards.children:
        yield ""
        yield said.WHY_DOWN
        yield from _branches(reason.downwards, item["unit"])
    elif reason.upwards.children:
        yield ""
        yield said.WHY_NO_WAITING


def _record_lines(reason: Reason, everything: bool) -> Iterator[str]:
    """The planning record; without --all the first few weeks in which something happens."""
    heads = ["", *(words for _, words in overview.RECORD_ROWS)]
    yield "".join(f"{head:>12}" for head in heads)
    figures = [name for name, _ in overview.RECORD_ROWS]
    rows = reason.record
    if not everything:
        rows = rows.filter(pl.any_horizontal(pl.col(figures[:-1]) != 0))
    shown = rows if everything else rows.head(_MOST_WEEKS)
    for week in shown.iter_rows(named=True):
        cells = (f"{week[name]:>12,.6g}" if week[name] else f"{'–':>12}" for name in figures)
        yield f"{week['week']:>12}" + "".join(cells)
    if len(rows) > len(shown):
        yield said.WHY_MORE_WEEKS.format(count=len(rows) - len(shown))


def _branches(top: Node, unit: str) -> Iterator[str]:
    """The nodes below the top, indented, each followed by how many beside it are left out."""
    for prefix, _, node in RenderTree(top):
        if node is not top:
            yield f"{prefix[4:]}{_reason_words(node, unit)}"


def _reason_words(node: Node, unit: str) -> str:
    """One supply, order or demand of a tree in words."""
    peg, order = node.peg, node.order
    if node.left_out:
        return said.WHY_MORE.format(count=node.left_out)
    words: list[str] = []
    if node.is_supply:
        words.append(_supply_words(node, unit))
    elif order is not None:
        words.append(
            said.WHY_ORDER.format(
                date=peg["need_date"], order=order["order"], item=_item_words(order)
            )
        )
        if node.depth == 2:
            words.append(f"{peg['quantity']:,.6g} {unit}")
    else:
        words.append(_demand_words(node))
    if peg is not None and peg["late_days"] > 0 and not (node.is_supply and node.depth == 1):
        words.append(_late_words(peg["late_days"]))
    if node.seen:
        words.append(said.WHY_SEEN)
    return "  ".join(words)


def _late_words(days: int) -> str:
    """By how many working days something comes too late, in words."""
    return common.LATE_NO_DATE if days >= NEVER else common.LATE.format(days=days)


def _supply_words(node: Node, unit: str) -> str:
    """A lot, an open order or a planned order."""
    peg, order = node.peg, node.order
    if order is not None:
        return said.WHY_PLANNED.format(
            order=order["order"],
            item=_item_words(order),
            quantity=f"{order['quantity']:,.6g}",
            unit=order["unit"],
            start=order["start_date"],
            due=order["due_date"],
        ) + _slip_words(node)
    name = said.WHY_KINDS[peg["supply_kind"]].format(
        supply=peg["supply"], location=peg["location"], date=peg["supply_date"], item=peg["item"]
    )
    amount = f", {peg['quantity']:,.6g} {unit}" if node.depth == 1 else ""
    return " ".join(name.split()) + amount


def _slip_words(node: Node) -> str:
    """When a planned order comes that comes later than it should."""
    comes = node.peg["comes"] if node.peg is not None else node.order["due_date"]
    if comes is None:
        return said.WHY_NEVER if node.depth == 1 else ""  # further down late words say so
    return said.WHY_THERE.format(date=comes) if comes > node.order["due_date"] else ""


def _item_words(order: dict[str, Any]) -> str:
    """The item of an order and the aircraft it is for."""
    return f"{order['item']} {order['serial']}".strip()


def _demand_words(node: Node) -> str:
    """An airframe or a spares order with its dates."""
    peg, demand = node.peg, node.demand
    who = demand_in_words(peg["demand"], peg["demand_kind"])
    if demand is None:
        return said.WHY_DEMAND.format(who=who, date=peg["need_date"])
    words = said.WHY_DEMAND.format(who=who, date=demand["ready_date"])
    if demand["late_days"] and demand["earliest_date"]:
        words += said.WHY_FORECAST.format(date=demand["earliest_date"])
    return words
