"""What `bomkit compare` prints: whose day moved and why, how many orders changed."""

from collections.abc import Iterator

from bomkit.words import compare as said
from bomkit.workbooks.compare import Comparison, caused_by, change_counts


def compare_lines(found: Comparison) -> Iterator[str]:
    """The airframes and spares orders with another day, then the orders by table replaced."""
    yield f"{found.after} {said.SINCE.format(run_id=found.before)}"
    yield ""
    why = caused_by(found)
    for row in found.moved.iter_rows(named=True):
        name = said.KINDS_COMPARED[row["demand_kind"]].format(**row)
        days = "" if row["days"] is None else f"{row['days']:+d} d"
        was, now = (day.isoformat() if day else "" for day in (row["before"], row["after"]))
        because = why.get((row["demand_kind"], row["demand"]), "")
        change = said.CHANGES[row["change"]]
        yield f"{name:24} {change:22} {was:10}  {now:10}  {days:>7}  {because}".rstrip()
    if found.moved.is_empty():
        yield said.NO_FORECAST_MOVED
    yield ""
    yield change_counts(found)
    for name, count in found.changed_at:
        yield said.STEP_CHANGED.format(name=name, count=count)
    yield said.NERVOUS.format(percent=100 * found.nervousness)
