"""One quantity rounded up to what can be ordered."""

import pytest

from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import rounded_up


@pytest.mark.parametrize(
    ("quantity", "ordered"), [(0.3, 2.5), (2.5, 2.5), (2.6, 5.0), (7.5000000001, 7.5)]
)
def test_what_is_measured_is_rounded_up_to_a_multiple(quantity: float, ordered: float) -> None:
    assert rounded_up(quantity, 2.5, whole=False) == ordered


def test_what_is_measured_stays_as_it_is_without_a_multiple() -> None:
    assert rounded_up(2.6, 0.0, whole=False) == 2.6


@pytest.mark.parametrize(("quantity", "ordered"), [(0.2, 1), (3, 3), (3.4, 4), (4.0000000001, 4)])
def test_pieces_are_whole_without_a_multiple_too(quantity: float, ordered: float) -> None:
    assert rounded_up(quantity, 0.0, whole=True) == ordered


@pytest.mark.parametrize(("quantity", "ordered"), [(2.5, 3), (6, 8), (7.6, 10)])
def test_a_broken_multiple_of_pieces_goes_on_to_whole_ones(quantity: float, ordered: float) -> None:
    assert rounded_up(quantity, 2.5, whole=True) == ordered


def test_a_hair_of_arithmetic_does_not_make_a_broken_multiple_a_piece_more() -> None:
    assert rounded_up(6.95, 0.07, whole=True) == 7  # 100 x 0.07 is a hair above 7
