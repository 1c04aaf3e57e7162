"""What the commands print: lines of words, made from finished frames and trees."""

from collections.abc import Iterator
from typing import Any

import polars as pl
from anytree import Node, RenderTree

from bomkit.planning.structure.outline import RolledTree
from bomkit.words import common, findings, overview, screens
from bomkit.words import rates as said
from bomkit.workbooks.rates import (
    RateColumn,
    full_percent,
    monthly_figures,
    shown_resources,
)
from bomkit.workbooks.report import Report, demand_in_words, iso_week

_KINDS = ("make", "print", "buy", "kit")
_MOST_WEEKS = 8  # the rest of the horizon stands in one line
_LATEST = 5
_RATE_WIDTHS = (9, 9, 10, 9)  # the columns of a rate


def summary_lines(report: Report) -> Iterator[str]:
    """Orders per week and kind, how many are late, and the five latest."""
    yield f"{report.title}: run {report.run_id}, {len(report.orders)} planned orders"
    yield from report.asides
    yield ""
    yield "".join(f"{head:>10}" for head in screens.SUMMARY_HEADS)
    weekly = _by_week(report)
    for row in weekly[:_MOST_WEEKS]:
        yield "".join(f"{cell:>10}" for cell in row)
    rest = weekly[_MOST_WEEKS:]
    if rest:
        sums = [sum(row[number] for row in rest) for number in range(1, len(rest[0]))]
        yield "".join(f"{cell:>10}" for cell in (screens.SUMMARY_LATER, *sums))
    yield ""
    yield from _latest(report)
    if len(report.forecast):
        yield ""
        yield from _forecast_late(report)
        late = int((report.promises["late_days"] > 0).sum())
        if late:
            yield screens.SUMMARY_PROMISES.format(count=late, all=len(report.promises))


def _forecast_late(report: Report) -> Iterator[str]:
    """The airframes and spares orders that the forecast calls late by the most."""
    urgent = ~pl.col("demand_kind").is_in(
        ["routine", "inspection"]
    )  # these stand with the promises
    late = report.forecast.filter(urgent & (pl.col("late_days") > 0)).sort(
        "late_days", "ready_date", "demand", descending=[True, False, False]
    )
    if late.is_empty():
        yield screens.SUMMARY_IN_TIME
        return
    yield screens.SUMMARY_FORECAST.format(count=len(late))
    for row in late.head(_LATEST).iter_rows(named=True):
        who = demand_in_words(row["demand"], row["demand_kind"])
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
        yield overview.NO_LATE
        return
    yield screens.SUMMARY_LATE.format(count=len(late))
    for order in late.head(_LATEST).iter_rows(named=True):
        item = report.items[order["item"]]
        serial = f" for {order['serial']}" if order["serial"] else ""
        yield (
            f"  {order['late_days']:>4} working days  {order['order']}  {order['item']}{serial}  "
            f"{item['description']}, {order['quantity']:.6g} {order['unit']}, "
            f"due {order['due_date']}"
        )


def tree_lines(top: Node, amounts: str = "") -> Iterator[str]:
    """An indented structure, one node a line, with a word where something is not shown.

    amounts: how a node's amount is written, if it has one.
    """
    for prefix, _, node in RenderTree(top):
        amount = amounts and node.amount is not None
        rolled = (
            screens.ROLL_NODE.format(amount=amounts.format(amount=node.amount)) if amount else ""
        )
        yield f"{prefix}{_node_words(node)}{rolled}"
        if node.more:
            yield f"{prefix.replace('├──', '│  ').replace('└──', '   ')}    " + (
                screens.TREE_MORE.format(count=node.more)
            )


def rolled_lines(found: RolledTree, kind: str, serial: str) -> Iterator[str]:
    """An indented structure with what each node adds to one unit of the top, and the sum.

    kind: mass, cost or hours.
    """
    top, lacking, limit_kg = found.top, found.lacking, found.limit_kg
    form = screens.ROLL_AMOUNTS[kind]
    yield from tree_lines(top, form)
    yield ""
    whom = screens.ROLL_SERIAL.format(serial=serial) if serial else ""
    total = form.format(amount=top.amount)
    yield screens.ROLL_TOTALS[kind].format(item=top.name, serial=whom, amount=total)
    if kind != "mass":
        yield screens.ROLL_LOTS[found.lots]
    if lacking:
        yield screens.ROLL_LACKING[kind].format(items=", ".join(lacking))
    if limit_kg is not None:
        spare = limit_kg - top.amount
        words = findings.MASS_WITHIN if spare >= 0 else findings.MASS_OVER
        yield words.format(limit=limit_kg, spare=abs(spare))
        yield findings.MASS_CAUTION


def rate_lines(rates: list[RateColumn], verdict: list[str]) -> Iterator[str]:
    """The loads of each rate side by side, what they take a month, and the verdict."""
    yield " " * 36 + "".join(
        f"{said.PER_MONTH.format(rate=rate.per_month):>{sum(_RATE_WIDTHS)}}" for rate in rates
    )
    widths = zip(said.RATE_COLUMNS, _RATE_WIDTHS, strict=True)
    heads = "".join(f"{head:>{width}}" for head, width in widths)
    yield f"{said.RATE_RESOURCE:<21} {said.RATE_KIND:<14}" + heads * len(rates)
    loads = [
        {(row["kind"], row["name"]): row for row in rate.loads.iter_rows(named=True)}
        for rate in rates
    ]
    for kind, name in shown_resources(rates):
        cells = "".join(_rate_cells(each.get((kind, name))) for each in loads)
        yield f"{name[:21]:<21} {said.RATE_KINDS[kind]:<14}{cells}".rstrip()
    for words, figures in monthly_figures(rates):
        first, *others = _RATE_WIDTHS
        cells = "".join(f"{figure:>{first},.0f}{'':{sum(others)}}" for figure in figures)
        yield f"{words:<36}{cells}".rstrip()
    yield ""
    yield from verdict


def _rate_cells(load: dict[str, Any] | None) -> str:
    """Average, peak, what there is and how full that is, in columns."""
    if load is None:
        return " " * sum(_RATE_WIDTHS)
    full = full_percent(load)
    over = full is not None and full > 100 * (1 + 1e-9)
    share = "" if full is None else f"{'▲ ' if over else ''}{full:.0f} %"
    there = "" if load["capacity"] is None else f"{load['capacity']:,.1f}"
    cells = (f"{load['average']:,.1f}", f"{load['peak']:,.1f}", there, share)
    return "".join(f"{cell:>{width}}" for cell, width in zip(cells, _RATE_WIDTHS, strict=True))


def _node_words(node: Node) -> str:
    """One node: item, quantity, description, and what makes the line count."""
    row, line = node.row, node.line
    words = [node.name]
    if line is not None and line["replaces"]:
        words.append(screens.TREE_REPLACES)
    elif line is not None:
        unit = line["unit"] or (row["unit"] if line["child"] == node.name else "")
        each = screens.TREE_PER_ORDER if line["per"] == "order" else ""
        words.append(f"{line['quantity']:.6g} {unit}{each}".strip())
    words.append(row["description"])
    words.append(f"[{common.SOURCES[row['source']]}]")
    if line is not None and not line["replaces"]:
        words += _conditions(line)
    return "  ".join(filter(None, words))


def _conditions(line: dict[str, Any]) -> Iterator[str]:
    """What must hold for a line to count, in words."""
    for name, words in screens.TREE_CONDITIONS.items():
        if line[name]:
            yield words.format(value=line[name])
    if line["waste"]:
        yield screens.TREE_WASTE.format(share=line["waste"])
