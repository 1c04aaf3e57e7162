"""Plates filled with the jobs of a week, a row for each order on each of them."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.planning.shops.printing.first_fit import (
    Limits,
    Parts,
    Plate,
    fewest_plates,
    packed,
)
from bomkit.planning.shops.printing.print_jobs import FIGURES, Job
from bomkit.tables.results.by_name import RESULTS

_DATES = {"start_date": pl.Date, "due_date": pl.Date, "late_days": pl.Int64}


@dataclass(frozen=True)
class Filled:
    """How many plates one kind of printer prints in a week."""

    plates: int
    fewest: int  # a number of plates below which no packing can be


class PlateRows:
    """The plates of a plan, filled week by week and kind by kind."""

    def __init__(self, grams: Mapping[str, tuple[float, float]]) -> None:
        """grams: by order, as grams_of gives them."""
        self._grams = grams
        self._rows: list[dict[str, Any]] = []
        self._purged: set[str] = set()  # orders whose grams once an order are on a plate

    def fill(self, shares: list[tuple[Job, int]], printer: Mapping[str, Any], week: str) -> Filled:
        """Fills plates of one kind of printer with its jobs of a week and their pieces."""
        limits = Limits(printer["plate_parts"] or math.inf, printer["plate_hours"] or math.inf)
        plates, fewest = 0, 0
        for material in sorted({job["material"] for job, _ in shares}):
            jobs = {job["order"]: job for job, _ in shares if job["material"] == material}
            batches = [
                Parts(job["order"], pieces, job["share"], job["hours"])
                for job, pieces in shares
                if job["material"] == material
            ]
            least = fewest_plates(batches, limits)
            fewest += least
            about = {"week": week, "kind": printer["kind"], "material": material}
            for plate in packed(batches, limits, least):
                # a name of its own until all are numbered
                about["plate"] = f"{len(self._rows)}"
                self._rows += self._of_plate(plate, jobs, about)
                plates += 1
        return Filled(plates, fewest)

    def _of_plate(
        self, plate: Plate, jobs: Mapping[str, Job], about: Mapping[str, str]
    ) -> Iterator[dict[str, Any]]:
        """A row for each order on a plate; what an order takes once is on its first plate."""
        on_it = [jobs[order] for order in sorted(plate.parts)]
        dates = {
            "start_date": min(job["start_date"] for job in on_it),
            "due_date": min(job["due_date"] for job in on_it),
            "late_days": max(job["late_days"] for job in on_it),
        }
        for job in on_it:
            pieces = plate.parts[job["order"]]
            grams, once = self._grams.get(job["order"], (0.0, 0.0))
            if job["order"] in self._purged:
                once = 0.0
            self._purged.add(job["order"])
            yield {
                **about,
                **{name: job[name] for name in ("order", "item", "serial")},
                "parts": pieces,
                "share": round(pieces * job["share"], FIGURES),
                "hours": round(pieces * job["hours"], FIGURES),
                "grams": round(pieces * grams + once, FIGURES),
                **dates,
            }

    def table(self) -> pl.DataFrame:
        """The plates as the result table, with start_date, due_date and late_days beside."""
        return _numbered(pl.DataFrame(self._rows, schema={**RESULTS["plates"].schema, **_DATES}))


def _numbered(plates: pl.DataFrame) -> pl.DataFrame:
    """The plates with names that number them in each week: the latest first, then by start."""
    about = ("week", "late_days", "start_date", "due_date", "kind", "material", "plate")
    names = plates.select(about).unique("plate")
    names = names.sort(about, descending=[name == "late_days" for name in about])
    number = pl.int_range(1, pl.len() + 1).over("week").cast(pl.String).str.zfill(2)
    named = names.select("plate", name=pl.format("{}-{}", "week", number))
    return (
        plates.join(named, on="plate")
        .with_columns(plate="name")
        .drop("name")
        .sort("plate", "order")
    )
