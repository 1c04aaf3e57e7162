"""Figures stand among words as people write them."""

import pytest

from bomkit.words.problems.figures import amount, as_typed, more_or_less


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (1e7, "10000000"),
        (1e16, "10000000000000000"),
        (1234567.25, "1234567.25"),
        (0.1 + 0.2, "0.3"),
        (1e-9, "0.000000001"),
        (0.0, "0"),
        (-2.5, "-2.5"),
    ],
)
def test_a_cell_is_repeated_with_all_of_its_digits(value: float, words: str) -> None:
    assert as_typed(value) == words


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (12.0, "12"),
        (100.0, "100"),
        (1234567.0, "1234567"),
        (1 / 3, "0.333"),
        (0.0005, "0.001"),
        (0.00049, "0.0005"),
        (0.00003, "0.00003"),
        (0.0, "0"),
    ],
)
def test_an_amount_has_three_decimals_at_most_but_is_never_nothing(
    value: float, words: str
) -> None:
    assert amount(value) == words


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (9999988.0, "+9,999,988"),
        (-0.05, "-0.05"),
        (-1200.0, "-1,200"),
        (0.0004, "+0.0004"),
        (-0.0004, "-0.0004"),
    ],
)
def test_more_or_less_has_a_sign_and_commas(value: float, words: str) -> None:
    assert more_or_less(value) == words
