"""The values of a column, and what is wrong with its cells."""

from collections.abc import Callable
from dataclasses import dataclass, field

import polars as pl


@dataclass
class CastColumn:
    """The values of a column, null where a cell is empty or bad, and what is wrong by place."""

    values: pl.Series
    wrong: dict[int, str] = field(default_factory=dict)  # place of the row -> what must hold

    def refuse(self, bad: pl.Series, message: str) -> None:
        """Say the message about the cells marked, but for those already found wrong."""
        if not bad.any():
            return
        for place in bad.fill_null(False).arg_true():
            self.wrong.setdefault(place, message)

    def refuse_each(self, bad: pl.Series, cells: pl.Series, advise: Callable[[str], str]) -> None:
        """The same with a message for each different text."""
        if not bad.any():
            return
        places = bad.fill_null(False).arg_true()
        texts = cells[places].to_list()
        messages = {text: advise(text) for text in set(texts)}
        for place, text in zip(places, texts, strict=True):
            self.wrong.setdefault(place, messages[text])
