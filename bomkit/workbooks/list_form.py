"""A list whose columns are declared once, by key: lines, headings and widths follow from it."""

from collections.abc import Mapping, Sequence

from bomkit.workbooks.writing.sheet import Cell, Column, Line


class ListForm:
    """The columns of a list by key, in their order."""

    def __init__(self, by_key: Mapping[str, Column]) -> None:
        self._by_key = dict(by_key)

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns, as a sheet takes them."""
        return tuple(self._by_key.values())

    def width(self, key: str) -> float:
        """The width of a column, in characters."""
        return self._by_key[key].width

    def line(
        self, cells: Mapping[str, Cell], height: float | None = None, key: Sequence[object] = ()
    ) -> Line:
        """A row with these cells; nothing stands in the columns that are not named."""
        return Line([cells.get(name) for name in self._by_key], height, key)

    def section(self, words: str, more: Mapping[str, Cell] = {}, height: float = 24) -> Line:
        """A heading across the list, with more cells on it."""
        cells: dict[str, Cell] = dict.fromkeys(self._by_key, ("", "section_note"))
        first = next(iter(self._by_key))
        return self.line({**cells, first: (words, "section"), **more}, height)
