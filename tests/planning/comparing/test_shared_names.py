"""Plans of different things share hardly an item, and no airframe."""

import polars as pl
import pytest

from bomkit.planning.comparing.shared_names import shared_names
from tests.builders import Rows, typed_tables


def tables(items: range, **more: Rows) -> dict[str, pl.DataFrame]:
    """Tables with items of these numbers."""
    return typed_tables({"items": [{"item": f"part {number}"} for number in items], **more})


def airframe(serial: str, item: str) -> Rows:
    return [{"serial": serial, "item": item}]


@pytest.mark.parametrize(("first", "related"), [(10, True), (11, False), (20, False)])
def test_a_tenth_of_the_items_of_the_shorter_list_makes_two_plans_related(
    first: int, related: bool
) -> None:
    shared = shared_names(tables(range(11)), tables(range(first, first + 10)))
    assert (shared.before, shared.after, shared.both) == (11, 10, max(0, 11 - first))
    assert shared.related is related


def test_a_list_that_grew_to_many_times_its_length_is_still_of_the_same_things() -> None:
    assert shared_names(tables(range(3)), tables(range(500))).related


@pytest.mark.parametrize("place", ["build_plan", "fleet"])
def test_one_airframe_in_both_makes_two_plans_related(place: str) -> None:
    built = tables(range(3), build_plan=airframe("K-1", "glider"))
    shared = shared_names(built, tables(range(5, 9), **{place: airframe("K-1", "glider")}))
    assert (shared.both, shared.airframes) == (0, 1)
    assert shared.related


def test_the_serial_number_of_something_else_is_another_airframe() -> None:
    built = tables(range(3), build_plan=airframe("1", "glider"))
    other = tables(range(5, 9), build_plan=airframe("1", "trainer"))
    assert not shared_names(built, other).related


def test_two_plans_without_items_are_of_the_same_things() -> None:
    assert shared_names(tables(range(0)), tables(range(0))).related
