"""Studies beside the weekly run: how the shops stand other rates; prints nothing."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from bomkit.checks.everything import Inputs
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.rates.rate_limit import Limit, RateLimit, rate_limit
from bomkit.planning.rates.rates import RatePoint, rate_point, study_window
from bomkit.problems import refusal
from bomkit.runs.checked_tables import sound_inputs
from bomkit.runs.files.out_folder import file_finished_whole, refuse_to_overwrite_file
from bomkit.runs.planned_tables import run_id
from bomkit.tables.results.finished_plan import Choices
from bomkit.words import common
from bomkit.words import rates as said
from bomkit.words.progress import Tell, silent
from bomkit.workbooks.rates import RateColumn, rate_sheets
from bomkit.workbooks.writing.sheet import Book


@dataclass(frozen=True)
class RateStudy:
    """What some rates ask of the shops, and a verdict in sentences."""

    rates: list[RateColumn]
    verdict: list[str]
    out: Path


def rate_study(
    location: Path, rates: Sequence[float], out: Path, replace: bool, tell: Tell
) -> RateStudy:
    """Plans the tables at each of the rates, looks for the limit, and writes a workbook.

    Raises ProblemsFound where the data forbid planning or the file must not be written.
    """
    from bomkit.workbooks.writing.write import workbook_bytes

    refuse_to_overwrite_file(out, replace)
    inputs, _ = sound_inputs(location)
    if inputs.tables["build_plan"].is_empty():
        message = "has no airframes, so there is nothing to build faster; add one to build_plan"
        raise refusal(location, message)
    window = study_window(inputs.tables)
    try:
        points = []
        for rate in sorted(set(rates)):
            tell(f"planning {rate:g} a month")
            points.append(rate_point(inputs.tables, rate, window, silent))
        limit = rate_limit(inputs.tables, window, tell)
    except TooMuch as beyond:
        message = f"asks for more of {beyond} than can be counted; plan a lower rate"
        raise refusal(location, message) from beyond
    columns = [_column(point) for point in points]
    verdict = [*_verdict(limit), *_slice_anew(limit, points[-1].reslicing), *_unsettled(points)]
    file_finished_whole(out, workbook_bytes(_book(inputs, columns, verdict)), replace)
    return RateStudy(columns, verdict, out)


def _verdict(limit: RateLimit) -> Iterator[str]:
    """What gives way first and at what rate, and what one more of it buys."""
    first = limit.first
    if first.resource is None:
        yield said.NOTHING_GIVES_WAY.format(rate=first.per_month)
        return
    words = said.GIVES_WAY_AT_ONCE if math.isinf(first.share) else said.GIVES_WAY
    yield words.format(what=_named(first), rate=first.per_month, percent=100 * first.share)
    if limit.one_more is not None:
        words = said.ONE_MORE[first.resource.kind].format(
            name=limit.added, rate=limit.one_more.per_month
        )
        then = limit.one_more
        yield (words if then.resource is None else f"{words} {said.THEN.format(what=_named(then))}")


def _slice_anew(limit: RateLimit, reslicing: pl.DataFrame) -> Iterator[str]:
    """What else would help where printers give way: parts that are approved on nothing newer.

    reslicing: as in PrintRoom, at the highest rate.
    """
    first = limit.first.resource
    if first is not None and first.kind == "printer":
        count = len(reslicing.filter(pl.col("kind").is_in(list(first.members))))
        if count:
            yield said.COULD_BE_SLICED_ANEW.format(count=count)


def _unsettled(points: Sequence[RatePoint]) -> Iterator[str]:
    """At which rates levelling came to no end."""
    rates = [f"{point.per_month:g}" for point in points if not point.level_settled]
    if rates:
        yield said.RATES_UNSETTLED.format(rates=", ".join(rates))


def _column(point: RatePoint) -> RateColumn:
    """What the workbook and the screen show of a rate."""
    return RateColumn(
        point.per_month, point.loads, point.spools, point.area, point.money, point.airframes
    )


def _named(limit: Limit) -> str:
    """What gives way, in words."""
    assert limit.resource is not None
    return said.RATE_NAMES[limit.resource.kind].format(name=limit.resource.name)


def _book(inputs: Inputs, columns: list[RateColumn], verdict: list[str]) -> Book:
    """The study's workbook."""
    settings = inputs.tables["plan"].row(0, named=True)
    title = settings["title"] or common.DEFAULT_TITLE
    run = run_id(inputs, Choices())
    made = common.PLAN_FROM.format(date=settings["start"].strftime("%d %b %Y"))
    subtitle = common.BETWEEN.join([made, common.RUN.format(run_id=run)])
    return Book(rate_sheets(columns, verdict, title, subtitle), run, title, settings["start"])
