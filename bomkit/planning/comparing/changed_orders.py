"""Which planned orders are new, gone, moved, larger or smaller than in the plan before."""

import datetime as dt

import polars as pl

NERVOUS_DAYS = 28  # calendar days ahead in which a changed order counts as unrest

CHANGES = {
    "item": pl.String,
    "serial": pl.String,
    "source": pl.String,
    "order_before": pl.String,
    "order": pl.String,
    "start_before": pl.Date,
    "start_date": pl.Date,
    "due_before": pl.Date,
    "due_date": pl.Date,
    "quantity_before": pl.Float64,
    "quantity": pl.Float64,
    "unit": pl.String,
    "change": pl.String,
}
_KEY = ("item", "serial", "source", "unit")
_SIDE = ("order", "start_date", "due_date", "quantity")
_BEFORE = {
    "order": "order_before",
    "start_date": "start_before",
    "due_date": "due_before",
    "quantity": "quantity_before",
}
# Orders of one item and serial are the same order if they agree in these, the first that fits.
_ALIKE = (("due_date", "quantity"), ("due_date",), ())


def changed_orders(before: pl.DataFrame, after: pl.DataFrame, start: dt.date) -> pl.DataFrame:
    """Every order of either plan with the one of the other that it is, and what changed.

    before, after: the result table orders; start: first day of the plan after. Returns the
    columns of CHANGES; change: same, new, gone, moved, larger, smaller, "moved, larger", "moved,
    smaller", or begun (it was to begin before the second plan's first day). Orders of one item
    and serial are told apart by due day and quantity, then by due day, then by their order in time.
    """
    left = before.select(*_KEY, *_SIDE).rename(_BEFORE).with_row_index("old")
    right = after.select(*_KEY, *_SIDE).with_row_index("new")
    pairs = []
    for alike in _ALIKE:
        matched = _matched(left, right, alike)
        pairs.append(matched)
        left = left.join(matched, on="old", how="anti", maintain_order="left")
        right = right.join(matched, on="new", how="anti", maintain_order="left")
    rows = [*(pair.drop("old", "new") for pair in pairs), left.drop("old"), right.drop("new")]
    together = pl.concat(rows, how="diagonal")
    return (
        together.with_columns(change=_change(start))
        .select(pl.col(name).cast(kind) for name, kind in CHANGES.items())
        .sort(
            pl.coalesce("due_date", "due_before"),
            *_KEY[:2],
            "order_before",
            "order",
            nulls_last=True,
        )
    )


def _matched(left: pl.DataFrame, right: pl.DataFrame, alike: tuple[str, ...]) -> pl.DataFrame:
    """The first, second, ... of the orders before that are alike with the first, second, ... after.

    Columns of both, and old and new: their numbers.
    """
    was = [_BEFORE[name] for name in alike]
    turn = pl.int_range(pl.len())
    olds = left.sort("due_before", "start_before", "order_before").with_columns(
        turn=turn.over(*_KEY, *was)
    )
    news = right.sort("due_date", "start_date", "order").with_columns(turn=turn.over(*_KEY, *alike))
    return olds.join(
        news,
        left_on=[*_KEY, *was, "turn"],
        right_on=[*_KEY, *alike, "turn"],
        coalesce=False,
        suffix="_after",
    ).select(*left.columns, "new", *_SIDE)


def _change(start: dt.date) -> pl.Expr:
    """What became of an order."""
    size = (
        pl.when(pl.col("quantity") > pl.col("quantity_before"))
        .then(pl.lit("larger"))
        .when(pl.col("quantity") < pl.col("quantity_before"))
        .then(pl.lit("smaller"))
    )
    moved = pl.when(pl.col("due_date") != pl.col("due_before")).then(pl.lit("moved"))
    both = pl.concat_str(moved, size, separator=", ", ignore_nulls=True)
    begun = pl.when(pl.col("start_before") < start).then(pl.lit("begun")).otherwise(pl.lit("gone"))
    return (
        pl.when(pl.col("order_before").is_null())
        .then(pl.lit("new"))
        .when(pl.col("order").is_null())
        .then(begun)
        .when(both == "")
        .then(pl.lit("same"))
        .otherwise(both)
    )


def nervousness(changes: pl.DataFrame, start: dt.date) -> float:
    """Share of the orders to begin in the coming four weeks, in either plan, that changed.

    changes: as `changed_orders` gives them; those begun do not count. 0 where there is none.
    """
    until = start + dt.timedelta(days=NERVOUS_DAYS)
    soon = pl.any_horizontal(
        (pl.col(name) >= start) & (pl.col(name) < until) for name in ("start_before", "start_date")
    )
    counted = changes.filter(soon & (pl.col("change") != "begun"))
    return float((counted["change"] != "same").mean() or 0.0)  # type: ignore[arg-type]
