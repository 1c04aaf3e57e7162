"""Rows sorted by several columns, and stretches laid along each other, against plain Python."""

import random

import numpy as np
import pytest

from bomkit.planning.netting.arrays import NO_ROW, in_order, laid_along

BIG = 2**40


@pytest.mark.parametrize("seed", range(12))
def test_rows_stand_as_tuples_would_be_sorted_and_equal_ones_stay_in_order(seed: int) -> None:
    chance = random.Random(seed)
    values = {
        "few": lambda: chance.randint(-2, 2),
        "many": lambda: chance.randint(-BIG, BIG),
        "parts": lambda: chance.choice([0.25, 0.5, -0.5, 1.75]),
        "flag": lambda: chance.random() < 0.5,
    }
    names = chance.choices(list(values), k=chance.randint(1, 5))
    columns = [[values[name]() for _ in range(40)] for name in names]
    found = in_order(*(np.array(column) for column in columns)).tolist()
    assert found == sorted(range(40), key=lambda row: [column[row] for column in columns])


def test_columns_that_do_not_fit_into_one_number_are_still_told_apart() -> None:
    high, low = np.array([1, 0, 1, 0]) * 2**31, np.array([1, 2**31, 0, 0])
    assert in_order(high, low).tolist() == [3, 1, 2, 0]
    wide = [np.array([0, 1, 0, 1]) * BIG, np.array([BIG, 0, 0, BIG]), np.array([1, 2, 3, 4])]
    assert in_order(*wide).tolist() == [2, 0, 1, 3]


def test_no_rows_are_in_order() -> None:
    nothing = np.zeros(0, np.int64)
    assert in_order(nothing, nothing).tolist() == []


def rows(*told: tuple[int, float]) -> dict[str, np.ndarray]:
    """Key and quantity of each row, the rows numbered from 10."""
    keys, quantities = zip(*told, strict=True) if told else ((), ())
    return {
        "key": np.array(keys, np.int64),
        "quantity": np.array(quantities, np.float64),
        "row": np.arange(10, 10 + len(told)),
    }


def test_asked_and_offered_are_laid_along_each_other_key_by_key() -> None:
    found = laid_along(rows((1, 3), (1, 2), (2, 4)), rows((1, 4), (2, 1), (3, 5)))
    told = list(
        zip(*(found[n].tolist() for n in ("need", "key", "quantity", "supply_id")), strict=True)
    )
    assert told == [
        (10, 1, 3, 10),
        (11, 1, 1, 10),
        (11, 1, 1, NO_ROW),
        (12, 2, 1, 11),
        (12, 2, 3, NO_ROW),
        (NO_ROW, 3, 5, 12),
    ]


def test_nothing_asked_or_offered_makes_no_stretch() -> None:
    found = laid_along(rows((1, 0), (2, 2)), rows((1, 0), (2, 2), (2, 0)))
    assert found["quantity"].tolist() == [2]
