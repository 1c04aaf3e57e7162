"""What the commands print: lines of words, made from finished frames and trees."""

from collections.abc import Iterator
from typing import Any

import polars as pl
from anytree import Node, RenderTree

from bomkit import labels
from bomkit.planning.why import Reason
from bomkit.workbooks.report import Report, iso_week

FEW_BRANCHES, ALL_BRANCHES = 2, 1_000_000
_KINDS = ("make", "print", "buy", "kit")
_MOST_WEEKS = 8  # the rest of the horizon stands in one line
_LATEST = 5


def summary_lines(report: Report) -> Iterator[str]:
    """Orders per week and kind, how many are late, and the five latest."""
    yield f"{report.title}: run {report.run_id}, {len(report.orders)} planned orders"
    yield from report.asides
    yield ""
    yield "".join(f"{head:>10}" for head in labels.SUMMARY_HEADS)
    weekly = _by_week(report)
    for row in weekly[:_MOST_WEEKS]:
        yield "".join(f"{cell:>10}" for cell in row)
    rest = weekly[_MOST_WEEKS:]
    if rest:
        sums = [sum(row[number] for row in rest) for number in range(1, len(rest[0]))]
        yield "".join(f"{cell:>10}" for cell in (labels.SUMMARY_LATER, *sums))
    yield ""
    yield from _latest(report)
    if len(report.forecast):
        yield ""
        yield from _forecast_late(report)


def _forecast_late(report: Report) -> Iterator[str]:
    """The airframes and spares orders that the forecast calls late by the most."""
    late = report.forecast.filter(pl.col("late_days") > 0).sort(
        "late_days", "ready_date", "demand", descending=[True, False, False]
    )
    if late.is_empty():
        yield labels.SUMMARY_IN_TIME
        return
    yield labels.SUMMARY_FORECAST.format(count=len(late))
    for row in late.head(_LATEST).iter_rows(named=True):
        who = labels.DEMAND_KINDS[row["demand_kind"]].format(demand=row["demand"])
        yield f"  {row['late_days']:>4} days  {who}, ready {row['earliest_date']}: {row['pacing']}"


def _by_week(report: Report) -> list[tuple[Any, ...]]:
    """For each week of the horizon the orders of each kind that start, and how many are late."""
    week = iso_week("start_date").alias("week")
    counted = report.orders.group_by(week).agg(
        *((pl.col("source") == kind).sum().alias(kind) for kind in _KINDS),
        (pl.col("late_days") > 0).sum().alias("late"),
    )
    weeks = pl.DataFrame({"week": report.weeks}, schema={"week": pl.String})
    return weeks.join(counted, on="week", how="left", maintain_order="left").fill_null(0).rows()


def _latest(report: Report) -> Iterator[str]:
    """The orders that start too late by the most."""
    late = report.orders.filter(pl.col("late_days") > 0).sort(
        "late_days", "due_date", "order", descending=[True, False, False]
    )
    if late.is_empty():
        yield labels.NO_LATE
        return
    yield labels.SUMMARY_LATE.format(count=len(late))
    for order in late.head(_LATEST).iter_rows(named=True):
        item = report.items[order["item"]]
        serial = f" for {order['serial']}" if order["serial"] else ""
        yield (
            f"  {order['late_days']:>4} days  {order['order']}  {order['item']}{serial}  "
            f"{item['description']}, {order['quantity']:.6g} {order['unit']}, "
            f"due {order['due_date']}"
        )


def tree_lines(top: Node) -> Iterator[str]:
    """An indented structure, one node a line, with a word where something is not shown."""
    for prefix, _, node in RenderTree(top):
        yield f"{prefix}{_node_words(node)}"
        if node.more:
            yield f"{prefix.replace('├──', '│  ').replace('└──', '   ')}    " + (
                labels.TREE_MORE.format(count=node.more)
            )


def _node_words(node: Node) -> str:
    """One node: item, quantity, description, and what makes the line count."""
    row, line = node.row, node.line
    words = [node.name]
    if line is not None and line["replaces"]:
        words.append(labels.TREE_REPLACES)
    elif line is not None:
        unit = line["unit"] or (row["unit"] if line["child"] == node.name else "")
        each = labels.TREE_PER_ORDER if line["per"] == "order" else ""
        words.append(f"{line['quantity']:.6g} {unit}{each}".strip())
    words.append(row["description"])
    words.append(f"[{labels.SOURCES[row['source']]}]")
    if line is not None and not line["replaces"]:
        words += _conditions(line)
    return "  ".join(filter(None, words))


def _conditions(line: dict[str, Any]) -> Iterator[str]:
    """What must hold for a line to count, in words."""
    for name, words in labels.TREE_CONDITIONS.items():
        if line[name]:
            yield words.format(value=line[name])
    if line["waste"]:
        yield labels.TREE_WASTE.format(share=line["waste"])


def reason_lines(run: str, found: Reason, everything: bool) -> Iterator[str]:
    """Why an item is ordered: its record, whom its supplies serve, and what comes too late."""
    item = found.item
    made_by = item["process"] or item["supplier"]
    words = [item["item"], item["description"], f"[{labels.SOURCES[item['source']]}]", made_by]
    yield "  ".join(filter(None, [*words, labels.RUN.format(run_id=run)]))
    yield ""
    yield from _record_lines(found, everything)
    yield ""
    yield labels.WHY_UP if found.upwards.children else labels.WHY_NOTHING
    yield from _branches(found.upwards, item["unit"])
    if found.downwards.children:
        yield ""
        yield labels.WHY_DOWN
        yield from _branches(found.downwards, item["unit"])
    elif found.upwards.children:
        yield ""
        yield labels.WHY_NO_WAITING


def _record_lines(found: Reason, everything: bool) -> Iterator[str]:
    """The planning record; without --all the first few weeks in which something happens."""
    heads = ["", *(words for _, words in labels.RECORD_ROWS)]
    yield "".join(f"{head:>12}" for head in heads)
    figures = [name for name, _ in labels.RECORD_ROWS]
    rows = found.record
    if not everything:
        rows = rows.filter(pl.any_horizontal(pl.col(figures[:-1]) != 0))
    shown = rows if everything else rows.head(_MOST_WEEKS)
    for week in shown.iter_rows(named=True):
        cells = (f"{week[name]:>12,.6g}" if week[name] else f"{'–':>12}" for name in figures)
        yield f"{week['week']:>12}" + "".join(cells)
    if len(rows) > len(shown):
        yield labels.WHY_MORE_WEEKS.format(count=len(rows) - len(shown))


def _branches(top: Node, unit: str) -> Iterator[str]:
    """The nodes below the top, indented, each followed by how many beside it are left out."""
    for prefix, _, node in RenderTree(top):
        if node is not top:
            yield f"{prefix[4:]}{_reason_words(node, unit)}"


def _reason_words(node: Node, unit: str) -> str:
    """One supply, order or demand of a tree in words."""
    peg, order = node.peg, node.order
    if node.left_out:
        return labels.WHY_MORE.format(count=node.left_out)
    words: list[str] = []
    if node.is_supply:
        words.append(_supply_words(node, unit))
    elif order is not None:
        words.append(
            labels.WHY_ORDER.format(
                date=peg["need_date"], order=order["order"], item=_item_words(order)
            )
        )
        if node.depth == 2:
            words.append(f"{peg['quantity']:,.6g} {unit}")
    else:
        words.append(_demand_words(node))
    if peg is not None and peg["late_days"] > 0 and not (node.is_supply and node.depth == 1):
        words.append(labels.LATE.format(days=peg["late_days"]))
    if node.seen:
        words.append(labels.WHY_SEEN)
    return "  ".join(words)


def _supply_words(node: Node, unit: str) -> str:
    """A lot, an open order or a planned order."""
    peg, order = node.peg, node.order
    if order is not None:
        return labels.WHY_PLANNED.format(
            order=order["order"],
            item=_item_words(order),
            quantity=f"{order['quantity']:,.6g}",
            unit=order["unit"],
            start=order["start_date"],
            due=order["due_date"],
        ) + (labels.WHY_THERE.format(date=peg["comes"]) if _slips(node) else "")
    name = labels.WHY_KINDS[peg["supply_kind"]].format(
        supply=peg["supply"], location=peg["location"], date=peg["supply_date"], item=peg["item"]
    )
    amount = f", {peg['quantity']:,.6g} {unit}" if node.depth == 1 else ""
    return " ".join(name.split()) + amount


def _slips(node: Node) -> bool:
    """Whether a planned order comes later than it should."""
    return node.peg is not None and bool(node.peg["comes"] > node.order["due_date"])


def _item_words(order: dict[str, Any]) -> str:
    """The item of an order and the aircraft it is for."""
    return f"{order['item']} {order['serial']}".strip()


def _demand_words(node: Node) -> str:
    """An airframe or a spares order with its dates."""
    peg, demand = node.peg, node.demand
    who = labels.DEMAND_KINDS[peg["demand_kind"]].format(demand=peg["demand"])
    if demand is None:
        return labels.WHY_DEMAND.format(who=who, date=peg["need_date"])
    words = labels.WHY_DEMAND.format(who=who, date=demand["ready_date"])
    if demand["late_days"] and demand["earliest_date"]:
        words += labels.WHY_FORECAST.format(date=demand["earliest_date"])
    return words
