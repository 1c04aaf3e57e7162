"""Weeks of the simulated shop: they close, and what does not hold would be said."""

from pathlib import Path

import polars as pl

from bomkit.runs.files.run_files import whole_run
from bomkit.runs.week.plan import Run
from scripts.simulate_year import TINY, simulate
from scripts.year_parts.held import Contents, broken
from scripts.year_parts.shelf import Shelf
from scripts.year_parts.shop import Week


def test_six_weeks_of_the_tiny_sample_close_to_the_last_piece(tmp_path: Path) -> None:
    year = simulate(TINY, 6, 7, tmp_path)
    assert year.broken == [] and year.weeks == 6
    assert year.late and year.placed and year.spares_late  # something happened


def test_books_unlike_the_shelves_and_an_open_account_are_said(tiny_run: Run) -> None:
    tables = whole_run(tiny_run.out).inputs
    stock = pl.col("quantity").sum()
    sums = tables["stock"].group_by("item").agg(opening=stock, closing=stock)
    zeros = {
        name: pl.lit(0.0) for name in ("arrived", "good", "counted", "picked", "scrapped", "sent")
    }
    account = sums.with_columns(**zeros)
    shelf = Shelf.of(tables["stock"])
    assert list(broken(tables, tables, account, shelf)) == []
    shelf.lots[0].quantity += 1
    assert list(broken(tables, tables, account, shelf)) == [
        "('rudder', 'T-023', ''): 1 in the books, 2 on the shelf"
    ]
    lost = account.with_columns(
        opening=pl.when(pl.col("item") == "rudder").then(2.0).otherwise("opening")
    )
    assert "the account of rudder does not close" in list(
        broken(tables, tables, lost, Shelf.of(tables["stock"]))
    )


def test_an_airframe_with_another_content_than_its_configuration_asks_for_is_said(
    tiny_run: Run,
) -> None:
    tables = whole_run(tiny_run.out).inputs

    def said(options: str, *parts: str) -> list[str]:
        contents = Contents()
        picked = [(part, "", 1.0) for part in parts]
        contents.add(Week(picked={"W": picked}, made_in={"W": ("rudder", "T-022")}))
        return list(contents.wrong("T-022", options, tables))

    assert said("tail_lamp", "rudder-skin", "hardware-set", "lamp-mount") == []
    # what is in a phantom, and what replaces an old item, will do
    assert said("", "rudder-skin", "screw-new", "resin") == []
    assert said("tail_lamp", "rudder-skin", "hardware-set") == [
        "T-022: rudder (W) was built without lamp-mount"
    ]
    assert said("", "rudder-skin", "hardware-set", "lamp-mount") == [
        "T-022: rudder (W) was built with lamp-mount, which it does not ask for"
    ]
