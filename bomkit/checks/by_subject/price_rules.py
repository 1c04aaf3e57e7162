"""What must hold of prices and costs beyond single rows."""

import polars as pl

from bomkit.problems import Finding
from bomkit.tables.schema import Tables


def find_price_problems(frames: Tables) -> list[Finding]:
    """Quantities that do not rise, and prices that ran out before the plan begins."""
    return [*_not_rising(frames["prices"]), *_run_out(frames)]


def _not_rising(prices: pl.DataFrame) -> list[Finding]:
    """Rows whose quantity is less than that of the row before of the same list."""
    before = pl.col("from_quantity").shift(1).over("item", "supplier", "currency", "valid_to")
    falling = (
        prices.sort("row").with_columns(before=before).filter(pl.col("from_quantity") < before)
    )
    message = (
        "must be more than the {:,.6g} of the line before of this item and supplier; "
        "put the lines in order of quantity"
    )
    return [
        Finding("prices", row, "from_quantity", f"{quantity:g}", message.format(least))
        for row, quantity, least in falling.select("row", "from_quantity", "before").iter_rows()
    ]


def _run_out(frames: Tables) -> list[Finding]:
    """Prices that no order of this plan can have."""
    starts = frames["plan"]["start"].drop_nulls()
    if starts.is_empty():
        return []
    message = (
        f"lies before the plan's start {starts[0]}, so this price is not used; ask for a new one"
    )
    gone = frames["prices"].filter(pl.col("valid_to") < starts[0])
    return [
        Finding("prices", row, "valid_to", str(day), message, "warning")
        for row, day in gone.select("row", "valid_to").sort("row").iter_rows()
    ]


def holding_findings(frames: Tables) -> list[Finding]:
    """Lots to be chosen by cost where nobody says what holding costs."""
    plan = frames["plan"]
    by_cost = frames["items"].filter(pl.col("lot_rule") == "least_cost")["item"]
    if plan.is_empty() or by_cost.is_empty() or (plan["holding_rate"][0] or 0) > 0:
        return []
    message = (
        f"the lots of {by_cost[0]} are to cost the least; say what holding stock costs a year, "
        "such as 0.2"
    )
    return [Finding("plan", 0, "holding_rate", "", message)]
