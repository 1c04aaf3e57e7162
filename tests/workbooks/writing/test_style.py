"""How high a row must be for the words in it."""

import pytest

from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.style import WRITING_HEIGHT

LINE = "twenty-six letters and so "  # 26 characters


@pytest.mark.parametrize(
    ("words", "lines"), [("", 1), (LINE.strip(), 1), (LINE * 2, 2), (LINE * 3, 3), (LINE * 7, 7)]
)
def test_a_row_is_as_high_as_the_lines_of_its_longest_words(words: str, lines: int) -> None:
    # 25 digits are as wide as 28 letters: one of these a line
    found = height_for(("short", 40), (words, 25))
    assert found == (None if lines == 1 else WRITING_HEIGHT / 2 * lines)
