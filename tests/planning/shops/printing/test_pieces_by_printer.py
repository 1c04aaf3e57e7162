"""The jobs of a week in whole pieces to kinds of printer."""

from collections.abc import Mapping

from bomkit.planning.shops.printing.hours_by_printer import shared_out
from bomkit.planning.shops.printing.pieces_by_printer import by_printer
from bomkit.planning.shops.printing.print_jobs import Job
from tests.planning.driver import day

Shares = dict[str, list[tuple[str, int]]]


def job(order: str, pieces: int, hours: float, kinds: str = "a b", due: int = 0) -> Job:
    """So many pieces of so many hours each, for the kinds of printer named."""
    return {
        "order": order,
        "pieces": pieces,
        "hours": hours,
        "kinds": tuple(kinds.split()),
        "due_date": day(due),
    }


def shares(jobs: list[Job], **capacity: float) -> Shares:
    """By kind the orders and pieces that it prints, sorted."""
    found = by_printer(jobs, capacity)
    return {
        kind: sorted((each["order"], count) for each, count in own) for kind, own in found.items()
    }


def test_a_kind_prints_as_many_pieces_as_just_fit() -> None:
    # exactly two of five hours; three of a tenth, which no binary number is
    assert shares([job("P1", 2, 5), job("P2", 1, 4)], a=10, b=4) == {
        "a": [("P1", 2)],
        "b": [("P2", 1)],
    }
    assert shares([job("P1", 3, 0.1), job("P2", 1, 0.09)], a=0.3, b=0.09) == {
        "a": [("P1", 3)],
        "b": [("P2", 1)],
    }


def test_nothing_is_printed_on_a_kind_without_need() -> None:
    assert shares([job("P1", 2, 5)], a=10, b=10) == {"a": [("P1", 2)]}
    assert shares([job("P1", 2, 5)], a=0, b=10) == {"b": [("P1", 2)]}


def test_long_ones_are_dealt_first_then_by_due_date_then_by_name() -> None:
    # ten hours of each: what is dealt last goes to the second kind
    long_first = [job("P1", 1, 4), job("P2", 1, 6), job("P3", 2, 5)]
    assert shares(long_first, a=10, b=10) == {"a": [("P1", 1), ("P2", 1)], "b": [("P3", 2)]}
    by_date = [job("P1", 2, 5, due=3), job("P2", 2, 5, due=1)]
    assert shares(by_date, a=10, b=10) == {"a": [("P2", 2)], "b": [("P1", 2)]}
    by_name = [job("P2", 2, 5), job("P1", 2, 5)]
    assert shares(by_name, a=10, b=10) == {"a": [("P1", 2)], "b": [("P2", 2)]}


def test_a_piece_that_would_be_cut_in_two_goes_where_it_fits_whole() -> None:
    # seven hours and seven: the third piece of three hours has none of its own
    assert shares([job("P1", 4, 3)], a=7, b=9) == {"a": [("P1", 2)], "b": [("P1", 2)]}
    # it just fits the second kind named, though the third has more room
    assert shares([job("P1", 2, 8, "b a c")], b=12, a=8, c=9) == {
        "b": [("P1", 1)],
        "a": [("P1", 1)],
    }


def test_what_fits_nowhere_whole_goes_one_by_one_to_where_it_is_least_beyond() -> None:
    # 4 and 5 hours for three pieces of six: to b, then to a (4 left against -1), then to b
    assert shares([job("P1", 3, 6)], a=4, b=5) == {"a": [("P1", 1)], "b": [("P1", 2)]}
    # of like room the first kind named
    assert shares([job("P1", 1, 6, "b a")], a=5, b=5) == {"b": [("P1", 1)]}
    # the longer ones first: it takes the five hours, and the short one what then is more
    two = [job("P1", 1, 6), job("P2", 1, 9)]
    assert shares(two, a=4, b=5) == {"a": [("P1", 1)], "b": [("P2", 1)]}


def given_to(hours: Mapping[tuple[str, ...], float], **capacity: float) -> dict[str, float]:
    """Hours by kind, of all groups."""
    found: dict[str, float] = {}
    for own in shared_out(hours, capacity).values():
        for kind, each in own.items():
            found[kind] = found.get(kind, 0.0) + each
    return found


def test_even_seconds_are_given_to_a_printer() -> None:
    assert given_to({("a",): 0.0005}, a=1) == {"a": 0.0005}
    # there is as little room left: what else there is goes elsewhere
    assert given_to({("a", "b"): 1.0}, a=0.0005, b=1) == {"a": 0.0005, "b": 0.9995}
    # and what fits nowhere is not lost
    assert given_to({("a",): 1.0005}, a=1) == {"a": 1.0005}


def test_who_has_least_choice_is_given_hours_first() -> None:
    hours = {("a", "b"): 10.0, ("b",): 10.0, ("a",): 10.0}
    assert shared_out(hours, {"a": 10.0, "b": 10.0}) == {
        ("a",): {"a": 10.0},
        ("b",): {"b": 10.0},
        ("a", "b"): {"a": 10.0, "b": 0.0},  # of like kinds the first one has what is over
    }
