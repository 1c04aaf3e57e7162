"""Which known name is hinted at where somebody wrote another one."""

import pytest

from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.words.did_you_mean import nearest

KNOWN = ["due_date", "lot", "location", "lead_days", "quantity", "serial"]


@pytest.mark.parametrize(
    ("word", "hint"),
    [
        ("due", "due_date"),  # the only one that begins so
        ("Due-Date", "due_date"),
        ("loc", "location"),  # not lot, which is as alike
        ("LEADDAYS", "lead_days"),
        (" quantety ", "quantity"),
        ("serials", "serial"),
    ],
)
def test_the_name_meant_is_hinted_at(word: str, hint: str) -> None:
    assert nearest(word, KNOWN) == f"did you mean {hint}?"


@pytest.mark.parametrize("word", ["", "l", "zzz", "--"])
def test_nothing_is_hinted_at_where_nothing_comes_near(word: str) -> None:
    assert nearest(word, KNOWN) == ""


def test_of_several_that_begin_so_the_most_alike_is_hinted_at() -> None:
    assert nearest("lead", ["lead_days", "leading", "leads"]) == "did you mean leads?"


@pytest.mark.parametrize(("table", "heading", "hint"), [("open_orders", "due", "due_date"),
                                                        ("stock", "loc", "location")])  # fmt: skip
def test_a_heading_that_is_cut_short_is_known(table: str, heading: str, hint: str) -> None:
    assert INPUTS[table].hint(heading) == f"did you mean {hint}?"
