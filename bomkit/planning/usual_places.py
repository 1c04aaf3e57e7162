"""Where things usually lie, which is where they are put if nobody says otherwise."""

import polars as pl


def usual_places(stock: pl.DataFrame) -> dict[str, str]:
    """By item the place that holds most of it in one row, usable stock first; stock: the table."""
    placed = stock.filter(pl.col("location") != "").sort(
        "item",
        pl.col("status") == "usable",
        "quantity",
        "location",
        descending=[False, True, True, True],
    )
    first = placed.unique("item", keep="first", maintain_order=True)
    return dict(first.select("item", "location").iter_rows())
