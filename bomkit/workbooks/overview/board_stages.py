"""Which stage of the work marks each week of an airframe or a spares order."""

import datetime as dt
from collections.abc import Collection, Mapping, Sequence

import polars as pl

from bomkit.workbooks.report import Report

_WORK = ("make", "print", "kit")
_ASKED = ("supply", "item", "comes")
_LEAST_HOURS = 1e-3  # work without hours is work as well
Bands = Mapping[tuple[str, int], str]  # by demand and number of the column, the stage


def stages_of(report: Report) -> dict[str, str]:
    """The stage of each process, in the order of the table: its column stage, else its name."""
    named = pl.when(pl.col("stage") != "").then("stage").otherwise("process")
    return dict(report.tables["processes"].select("process", named).iter_rows())


def stage_bands(report: Report, mondays: Sequence[dt.date], demands: Collection[str]) -> Bands:
    """The stage of which each of these demands gets the largest share between each Monday and the
    next one.

    Work counts in proportion to what of it the demand is given, spread evenly over its days. A
    long stage would hide all short ones, so what counts is how much of a stage falls into the
    week; of two with the same share it is the one that comes later in the table of processes.
    """
    stages = stages_of(report)
    places = {stage: number for number, stage in enumerate(dict.fromkeys(stages.values()))}
    spent = (
        _within(pl.concat([_planned(report, demands), _in_work(report, demands)]), mondays)
        .with_columns(stage=pl.col("process").replace_strict(stages, default=pl.col("process")))
        .group_by("demand", "column", "stage")
        .agg((pl.col("hours") * pl.col("share")).sum())
        .with_columns(pl.col("hours") / pl.col("hours").sum().over("demand", "stage"))
        .with_columns(pl.col("hours").round(6))
        .with_columns(place=pl.col("stage").replace_strict(places, default=-1))
        .sort("hours", "place", "stage", descending=True)
        .unique(["demand", "column"], keep="first", maintain_order=True)
    )
    rows = spent.select("demand", "column", "stage").iter_rows()
    return {(demand, column): stage for demand, column, stage in rows}


def _within(work: pl.DataFrame, mondays: Sequence[dt.date]) -> pl.DataFrame:
    """The work beside each column it reaches into, with the share of its days that lie there."""
    starts = pl.Series(mondays, dtype=pl.Date)
    shown = (
        pl.DataFrame({"first": starts})
        .with_row_index("column")
        .with_columns(pl.col("column").cast(pl.Int64), last=pl.col("first").shift(-1))
        .with_columns(pl.col("last").fill_null(pl.date(9999, 1, 1)) - pl.duration(days=1))
    )
    begins, ends = (
        starts.search_sorted(work[name], "right").cast(pl.Int64) - 1 for name in ("begin", "end")
    )
    overlap = pl.min_horizontal("end", "last") - pl.max_horizontal("begin", "first")
    length = pl.col("end") - pl.col("begin")
    return (
        work.with_columns(column=pl.int_ranges(begins.clip(0), ends + 1, eager=True))
        .explode("column")
        .join(shown, on="column", maintain_order="left")
        .with_columns(share=(overlap.dt.total_days() + 1) / (length.dt.total_days() + 1))
    )


def _for_whom(report: Report, kind: str, demands: Collection[str]) -> pl.DataFrame:
    """What each of these demands is given of a supply that is work: supply, item, demand, comes,
    given.

    Work on an airframe counts for that airframe.
    """
    work = pl.col("item").is_in(_worked(report)["item"].implode())
    on_airframe = (pl.col("demand_kind") == "in work") & (pl.col("demand_serial") != "")
    return (
        report["pegs"]
        .select(*_ASKED, "demand", "demand_kind", "demand_serial", "supply_kind", "quantity")
        .filter((pl.col("supply_kind") == kind) & work)
        .with_columns(demand=pl.when(on_airframe).then("demand_serial").otherwise("demand"))
        .filter(pl.col("demand").is_in(list(demands)))
        .group_by("demand", *_ASKED)
        .agg(given=pl.col("quantity").sum())
    )


def _worked(report: Report) -> pl.DataFrame:
    """What the items say about the work they take."""
    return (
        report.tables["items"]
        .filter(pl.col("source").is_in(_WORK), pl.col("process") != "")
        .select("item", "process", "lead_days", "hours_each", "hours_per_order")
    )


def _planned(report: Report, demands: Collection[str]) -> pl.DataFrame:
    """The work of planned orders by whom it is for: demand, process, begin, end, hours.

    It begins as soon as all it takes can be there, and ends as much later; never, if that never is.
    """
    begins = report["ready"].select("order", "can_start", told=pl.lit(True))
    orders = (
        report["orders"]
        .select("order", "item", "start_date", "due_date", "quantity", "expected_good")
        .join(_worked(report), on="item")
        .join(begins, on="order", how="left")
        .with_columns(begin=pl.when("told").then("can_start").otherwise("start_date"))
        .drop_nulls("begin")
        .with_columns(end=pl.col("due_date") + (pl.col("begin") - pl.col("start_date")))
        .with_columns(hours=pl.col("hours_each") * pl.col("quantity") + pl.col("hours_per_order"))
    )
    share = pl.min_horizontal(1.0, pl.col("given") / pl.col("expected_good"))
    return (
        _for_whom(report, "planned order", demands)
        .join(orders, left_on=["supply", "item"], right_on=["order", "item"])
        .select(
            *("demand", "process", "begin", pl.max_horizontal("begin", "end").alias("end")),
            hours=pl.max_horizontal("hours", pl.lit(_LEAST_HOURS)) * share,
        )
    )


def _in_work(report: Report, demands: Collection[str]) -> pl.DataFrame:
    """The same of open orders, which take their lead time up to the day they come."""
    calendar_days = (pl.col("lead_days") * 7 / 5).ceil().cast(pl.Int64)
    begin = pl.max_horizontal(
        pl.lit(report.start), pl.col("comes") - pl.duration(days=calendar_days)
    )
    return (
        _for_whom(report, "open order", demands)
        .join(_worked(report), on="item")
        .filter(pl.col("comes").is_not_null())
        .select(
            *("demand", "process", begin.alias("begin")),
            end=pl.max_horizontal("comes", pl.lit(report.start)),
            hours=pl.max_horizontal(
                pl.col("hours_each") * pl.col("given") + pl.col("hours_per_order"),
                pl.lit(_LEAST_HOURS),
            ),
        )
    )


def short_names(stages: Sequence[str]) -> dict[str, str]:
    """A letter for each stage, or as many of its letters as tell it from the others."""
    names: dict[str, str] = {}
    for stage in stages:
        letters = [character for character in stage if character.isalnum()] or ["?"]
        tried = ["".join(letters[:count]).capitalize() for count in range(1, len(letters) + 1)]
        free = [name for name in tried if name not in names.values()]
        names[stage] = free[0] if free else str(len(names) + 1)
    return names
