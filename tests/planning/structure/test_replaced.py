"""What takes the place of what, from small tables."""

import polars as pl

from bomkit.planning.structure.replaced import (
    is_replaced,
    newest_items,
    replacement_lines,
    successors,
)
from tests.builders import typed_tables

TABLES = typed_tables(
    {
        "items": [{"item": name} for name in ("c", "a", "b", "d")],
        "replacements": [{"old": "b", "new": "c"}, {"old": "a", "new": "b"}],
    }
)


def test_an_item_is_by_now_what_stands_at_the_end_of_its_replacements() -> None:
    newest = dict(newest_items(TABLES).iter_rows())
    assert newest == {"a": "c", "b": "c", "c": "c", "d": "d"}


def test_right_after_an_item_comes_only_the_next_one() -> None:
    assert successors(TABLES) == {"a": "b", "b": "c"}


def test_only_an_old_item_is_replaced() -> None:
    assert set(TABLES["items"].filter(is_replaced(TABLES))["item"]) == {"a", "b"}


def test_a_replacement_is_a_line_of_one_for_one_that_always_counts() -> None:
    lines = replacement_lines(TABLES).sort("parent")
    asked = lines.select("parent", "child", "quantity", "per", "waste", "offset_days")
    assert asked.rows() == [("a", "b", 1.0, "each", 0.0, 0), ("b", "c", 1.0, "each", 0.0, 0)]
    conditions = lines.select(pl.col("with_option", "without_option", "from_serial", "to_serial"))
    assert set(conditions.rows()) == {("", "", "", "")}
