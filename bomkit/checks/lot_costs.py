"""What lots by cost need to be known."""

from collections.abc import Mapping

import polars as pl

from bomkit.problems import Finding

Tables = Mapping[str, pl.DataFrame]


def holding_findings(tables: Tables) -> list[Finding]:
    """Lots to be chosen by cost where nobody says what holding costs."""
    plan = tables["plan"]
    by_cost = tables["items"].filter(pl.col("lot_rule") == "least_cost")["item"]
    if plan.is_empty() or by_cost.is_empty() or (plan["holding_rate"][0] or 0) > 0:
        return []
    message = (
        f"the lots of {by_cost[0]} are to cost the least; say what holding stock costs a year, "
        "such as 0.2"
    )
    return [Finding("plan", 0, "holding_rate", "", message)]
