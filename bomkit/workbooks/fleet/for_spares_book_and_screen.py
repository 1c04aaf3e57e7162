"""What the workbook and the screen of spares to keep are made from."""

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.words.fleet import spares

_NAMED = 12  # parts named in a sentence


@dataclass(frozen=True)
class SparesReport:
    """The holdings for people; frames and figures as in planning.fleet.holdings.Holdings."""

    run_id: str
    start: dt.date
    title: str
    items: Mapping[str, Mapping[str, Any]]
    parts: pl.DataFrame
    left_out: pl.DataFrame
    assumed: list[str]
    curve: pl.DataFrame
    target: float
    measure: str
    limited_by: str
    limit: float | None
    serials: tuple[str, ...]
    days: int | None
    before: float
    assurance: float
    spent: float
    short: float
    needed: float | None
    after_plan: bool = False
    inspections: bool = False
    unsettled: tuple[str, ...] = ()  # sentences on where the plan came to no rest

    @property
    def heading(self) -> str:
        """What the list is of."""
        if self.days is None:
            return spares.SPARES_TITLE
        return spares.TOUR_TITLE.format(serials=", ".join(self.serials), days=self.days)

    def _floored(self, share: float) -> float:
        """A share in tenths of a percent; what is not certain is never a full hundred."""
        if self.parts.filter((pl.col("mean") > 0) | (pl.col("due") > 0)).is_empty():
            return 1.0
        return math.floor(min(share, 0.999) * 1000 + 1e-6) / 1000

    def findings(self) -> list[str]:
        """What the choice comes to, a sentence each."""
        words = []
        if self.limit is not None:
            told = spares.SPARES_LIMIT[self.limited_by]
            words.append(told.format(limit=self.limit, spent=self.spent))
            words.append(spares.SPARES_SHORT.format(short=self.short) if self.short else "")
        shares = spares.SPARES_SHARES[self.limited_by].format(
            before=self._floored(self.before), after=self._floored(self.assurance)
        )
        words.append(spares.SPARES_TOGETHER[self.measure].format(shares=shares))
        if self.needed is not None:
            told = spares.SPARES_NEEDED[self.limited_by]
            words.append(told.format(target=self.target * 100, needed=self.needed))
        if self.assumed:
            words.append(spares.SPARES_ASSUMED.format(serials=", ".join(self.assumed)))
        twice = self.parts.filter((pl.col("yearly") > 0) & (pl.col("due") > 0))["item"].to_list()
        if twice:
            named = ", ".join(twice[:_NAMED]) + (", ..." if len(twice) > _NAMED else "")
            words.append(spares.SPARES_TWICE.format(items=named))
        return [sentence for sentence in words if sentence]
