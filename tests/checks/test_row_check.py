"""What is said of each row points at the row and column, and names what stands there."""

import polars as pl

from bomkit.checks.row_check import RowCheck
from bomkit.problems import Finding


def test_each_row_is_a_finding_with_its_own_words() -> None:
    rows = pl.DataFrame({"row": [3, 7], "item": ["rib", "spar"], "lot": ["L1", "{lot}"]})
    check = RowCheck("stock", "lot", rows, "{item} has the lot {lot}", "warning")
    assert check.findings() == [
        Finding("stock", 3, "lot", "L1", "rib has the lot L1", "warning"),
        Finding("stock", 7, "lot", "{lot}", "spar has the lot {lot}", "warning"),
    ]


def test_an_empty_cell_shows_nothing() -> None:
    rows = pl.DataFrame({"row": [2], "hours": [None]}, schema={"row": pl.Int64, "hours": pl.Int64})
    [found] = RowCheck("fleet", "hours", rows, "must be said").findings()
    assert found.value == ""
