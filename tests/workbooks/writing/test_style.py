"""How high a row must be for the words in it."""

import random

import pytest

from bomkit.workbooks.writing import letter_widths as letters
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.style import BODY_SIZE, WRITING_HEIGHT

LINE = "twenty-six letters and so "  # 26 characters


@pytest.mark.parametrize(
    ("words", "lines"), [("", 1), (LINE.strip(), 1), (LINE * 2, 2), (LINE * 3, 3), (LINE * 7, 7)]
)
def test_a_row_is_as_high_as_the_lines_of_its_longest_words(words: str, lines: int) -> None:
    # 25 digits are as wide as 28 letters: one of these a line
    found = height_for(("short", 40), (words, 25))
    assert found == (None if lines == 1 else WRITING_HEIGHT / 2 * lines)


@pytest.mark.parametrize("seed", range(40))
def test_words_that_fit_whatever_their_letters_are_take_the_lines_that_their_letters_need(
    seed: int,
) -> None:
    chance = random.Random(seed)
    words = "".join(chance.choices("WM☐▲Ωil \n", [9, 9, 9, 9, 9, 3, 3, 3, 1], k=seed))
    width = chance.uniform(4, 30)
    points = letters.room(width) * 0.98
    lines = len(letters.in_lines(words, points, BODY_SIZE, True))
    assert height_for((words, width)) == (None if lines == 1 else WRITING_HEIGHT / 2 * lines)
