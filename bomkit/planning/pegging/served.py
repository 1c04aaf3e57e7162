"""The needs of a level and what serves them, as far as it goes as another allocation has it."""

from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Flags, ints
from bomkit.planning.pegging.matching import NEED, Matching


@dataclass(frozen=True)
class Served:
    """Of one level, by key: needs as Matching.in_line gives them, the stretches that serve them
    as side_by_side gives them, and those of supplies that nobody needs."""

    needs: pl.DataFrame
    pegs: pl.DataFrame
    left: pl.DataFrame


def served(
    matching: Matching,
    needs: pl.DataFrame,
    supplies: pl.DataFrame,
    before: Served | None,
    moved: pl.Series,
) -> Served:
    """What serves the needs of a level.

    before: the same of an allocation with the same supplies, if there is one; moved: keys with
    supplies that come on other days than there. Keys are served one by one, so that those of which
    as much is asked and offered as there are served as there.
    """
    if before is None:
        return Served(needs, *_parted(matching.side_by_side(needs, supplies)))
    others = pl.concat([_otherwise(needs, before.needs), moved]).unique()
    other = pl.col("key").is_in(others.implode())
    anew = matching.side_by_side(needs.filter(other), supplies.filter(other))
    both = zip((before.pegs, before.left), _parted(anew), strict=True)
    pegs, left = (
        pl.concat([known.filter(~other), own]).sort("key", maintain_order=True)
        for known, own in both
    )
    return Served(needs, pegs, left)


def _parted(stretches: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The stretches that serve a need, and the others."""
    serving = pl.col("demand_id").is_not_null()
    return stretches.filter(serving), stretches.filter(~serving)


def _otherwise(one: pl.DataFrame, other: pl.DataFrame) -> pl.Series:
    """The keys of which not the same is asked; both by key."""
    keys = [np.unique(ints(needs["key"]), return_counts=True) for needs in (one, other)]
    every = np.union1d(keys[0][0], keys[1][0])
    counts = np.zeros((2, len(every)), np.int64)
    for row, (own, count) in zip(counts, keys, strict=True):
        row[np.searchsorted(every, own)] = count
    like = counts[0] == counts[1]
    places = [np.searchsorted(every, ints(needs["key"])) for needs in (one, other)]
    rows = [needs.filter(like[place]) for needs, place in zip((one, other), places, strict=True)]
    differ: Flags = np.zeros(len(rows[0]), np.bool_)
    for name in NEED:
        differ |= rows[0][name].to_numpy() != rows[1][name].to_numpy()
    like[np.searchsorted(every, ints(rows[0]["key"])[differ])] = False
    return pl.Series("key", every[~like])
