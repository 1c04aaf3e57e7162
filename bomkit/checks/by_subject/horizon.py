"""Whether the horizon has days enough for what is planned."""

import polars as pl

from bomkit.planning.structure.levels import Levels, longest_chain
from bomkit.planning.workdays import workdays_of
from bomkit.problems import Finding
from bomkit.tables.schema import Tables


def horizon_findings(tables: Tables, levels: Levels, links: pl.DataFrame) -> list[Finding]:
    """A horizon in which nobody works, or that is shorter than the longest chain of lead times."""
    plan = tables["plan"].filter(pl.col("start").is_not_null() & (pl.col("horizon_weeks") > 0))
    if plan.is_empty():
        return []
    settings = plan.row(0, named=True)
    count = workdays_of({**tables, "plan": plan}).count
    weeks = str(settings["horizon_weeks"])
    if not count:
        message = "every day of the horizon is closed; plan more weeks, or look at calendar"
        return [Finding("plan", 0, "horizon_weeks", weeks, message)]
    if len(levels.tangled):
        return []
    chain, total = _slowest_chain(tables["items"], levels, links)
    if total <= count:
        return []
    message = (
        f"the horizon has {count} working days, but the longest chain of lead times takes {total}: "
        f"{' -> '.join(chain)}; plan more weeks, or orders deep in it will be late"
    )
    return [Finding("plan", 0, "horizon_weeks", weeks, message, "warning")]


def _slowest_chain(
    items: pl.DataFrame, levels: Levels, links: pl.DataFrame
) -> tuple[list[str], int]:
    """The chain of items whose lead and safety days add up to the most, and that sum."""
    ordered = pl.when(pl.col("source") != "phantom").then(
        pl.col("lead_days") + pl.col("safety_days")
    )
    timed = (
        items.unique("item").select("item", days=ordered.fill_null(0)).join(levels.codes, on="item")
    )
    chain = longest_chain(timed, links)
    return chain, int(timed.filter(pl.col("item").is_in(chain))["days"].sum())
