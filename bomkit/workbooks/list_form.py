"""A list whose columns are declared once, by key: lines, headings and widths follow from it."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bomkit.workbooks.writing.heights import beside, height_of
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, to_fill


class ListForm:
    """The columns of a list by key, in their order.

    entries: what is filled in in the columns that say so, a name of ENTRIES.
    """

    def __init__(self, by_key: Mapping[str, Column], entries: str = "") -> None:
        self._by_key = dict(by_key)
        self.columns = tuple(self._by_key.values())
        self.entries = entries
        self._widths = tuple(column.width for column in self.columns)

    def headed(self, key: str, heading: str) -> "ListForm":
        """The same list with another heading above a column."""
        column = replace(self._by_key[key], heading=heading)
        return ListForm({**self._by_key, key: column}, self.entries)

    def width(self, key: str) -> float:
        """The width of a column, in characters."""
        return self._by_key[key].width

    def line(
        self, cells: Mapping[str, Cell], height: float | None = None, key: Sequence[object] = ()
    ) -> Line:
        """A row with these cells; nothing stands in the columns that are not named."""
        return Line([cells.get(name) for name in self._by_key], height, key)

    def row(self, cells: Mapping[str, Cell], key: Sequence[object] = ()) -> Line:
        """The same, as high as the words in it need."""
        line = self.line(cells, None, key)
        return line._replace(height=height_of(line.cells, self._widths))

    def sentence(self, words: str) -> Line:
        """Words in the place of rows, where there are none."""
        return self.line({next(iter(self._by_key)): (words, "plain")})

    def section(self, words: str, more: Mapping[str, Cell] = {}, height: float = 24) -> Line:
        """A heading across the list, with more cells on it."""
        cells: dict[str, Cell] = dict.fromkeys(self._by_key, ("", "section_note"))
        first = next(iter(self._by_key))
        return self.line({**cells, first: (words, "section"), **more}, height)

    def beside(self, words: str, most: str | None = None) -> str:
        """The first column in which there is room beside a section of these words; at most `most`,
        if it is given."""
        keys = list(self._by_key)
        last = len(keys) if most is None else keys.index(most)
        return keys[min(beside(words, "section", self._widths), last)]

    def to_fill(self, here: bool = True, columns: Sequence[str] | None = None) -> dict[str, Cell]:
        """Empty cells for what is filled in; blank where the row is not filled in here.

        columns: of the kind of entry those that are filled in, if not all.
        """
        return {
            name: to_fill(self.entries, column.fills)
            if here and (columns is None or column.fills in columns)
            else BLANK
            for name, column in self._by_key.items()
            if column.fills
        }
