"""What `bomkit compare` prints: whose day moved and why, how many orders changed."""

import datetime as dt
from collections.abc import Iterator

from bomkit.words import common
from bomkit.words import compare as said
from bomkit.workbooks.compare import Comparison, caused_by, change_counts, orders_by_step


def compare_lines(compared: Comparison) -> Iterator[str]:
    """The airframes and spares orders with another day, then the orders by table replaced."""
    run, since = (common.RUN.format(run_id=name) for name in (compared.after, compared.before))
    yield said.COMPARED.format(run=run, since=since)
    if compared.apart:
        yield compared.apart
    yield ""
    yield from _moved_lines(compared)
    yield ""
    counts = change_counts(compared)
    yield counts
    if counts != said.NO_ORDER_CHANGED:
        yield said.PROPOSED
    yield from orders_by_step(compared)
    yield said.NERVOUS.format(percent=100 * compared.nervousness)


def _moved_lines(compared: Comparison) -> Iterator[str]:
    """Headings, then a line for each airframe and spares order with another day."""
    if compared.moved.is_empty():
        yield said.NO_FORECAST_MOVED
        return
    why = caused_by(compared)
    columns = ("whom", "change", "before", "after", "days", *(("cause",) if why else ()))
    yield _line(*(said.CHANGED_COLUMNS[name] for name in columns))
    for row in compared.moved.iter_rows(named=True):
        yield _line(
            said.KINDS_COMPARED[row["demand_kind"]].format(**row),
            said.DEMAND_CHANGES[row["change"]],
            _day(row["before"]),
            _day(row["after"]),
            "" if row["days"] is None else f"{row['days']:+d} d",
            why.get((row["demand_kind"], row["demand"]), ""),
        )


def _day(day: dt.date | None) -> str:
    """A day; nothing if there is none."""
    return day.isoformat() if day else ""


def _line(whom: str, change: str, before: str, after: str, days: str, cause: str = "") -> str:
    """The parts of a line, each below its heading."""
    return f"{whom:24} {change:22} {before:10}  {after:10}  {days:>7}  {cause}".rstrip()
