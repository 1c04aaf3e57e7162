"""Parts that only old kinds of printer may print, and what slicing them anew would free."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.planning.shops.printing.print_jobs import FIGURES, Job

_RESLICING = {
    "item": pl.String,
    "kind": pl.String,
    "newer_kind": pl.String,
    "hours": pl.Float64,
    "week": pl.String,
    "week_hours": pl.Float64,
}


def _newest(kind: str, printers: Mapping[str, Mapping[str, Any]]) -> str:
    """The end of the chain of newer kinds; one that runs in a circle ends before it closes."""
    seen = {kind}
    while (newer := printers.get(kind, {}).get("newer_kind")) and newer not in seen:
        seen.add(newer)
        kind = newer
    return kind


def reslicing(
    jobs: Mapping[str, list[Job]], printers: Mapping[str, Mapping[str, Any]]
) -> pl.DataFrame:
    """Parts approved on old kinds only, and the hours that the newest kind would take from them.

    Old is what has a newer kind.
    """
    hours: dict[tuple[str, str, str], dict[str, float]] = {}
    for week, of_week in jobs.items():
        for job in of_week:
            if job["kinds"] and all(printers[kind]["newer_kind"] for kind in job["kinds"]):
                old = job["kinds"][0]
                by_week = hours.setdefault((job["item"], old, _newest(old, printers)), {})
                by_week[week] = by_week.get(week, 0.0) + job["pieces"] * job["hours"]
    rows = []
    for (item, old, new), by_week in hours.items():
        week = min(by_week, key=lambda each: (-by_week[each], each))
        total = round(sum(by_week[each] for each in sorted(by_week)), FIGURES)
        rows.append((item, old, new, total, week, round(by_week[week], FIGURES)))
    return pl.DataFrame(rows, schema=_RESLICING, orient="row").sort(
        "hours", "item", descending=[True, False]
    )
