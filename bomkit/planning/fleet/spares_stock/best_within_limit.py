"""The best set within a limit, exactly: what the greedy way leaves is searched.

Going down the pieces in the order of gain per price up to where the limit breaks gives a ceiling:
no set brings more than the pieces taken so far and the fraction of the next that would still fit
(Dantzig, Operations Research 5(2), 1957). Any set falls short of that ceiling by what it leaves
unspent, valued at the ratio of the broken piece, and by the loss of each piece that it has on the
other side of that ratio. So pieces that lose more than the best set found so far falls short stay
where they are (Ingargiola and Korsh, Management Science 20(4), 1973), and over the few others all
sums worth keeping are gone through (Nemhauser and Ullmann, Management Science 15(9), 1969). The
three sources are recalled from memory; tests hold the result against an integer programme.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

MOST_SUMS = 50_000  # kept side by side; beyond it the bound is said
_SAME = 1e-12  # of expected backorders: no difference worth a search

Numbers = NDArray[np.float64]
Marks = NDArray[np.bool_]


@dataclass(frozen=True)
class BestSet:
    """taken: for each piece whether it is in the set. short: no set brings more than this one and
    this much on top; 0 where it is the best there is."""

    taken: Marks
    short: float


@dataclass(frozen=True)
class _Sums:
    """Sums of some pieces, none of which costs more and loses as much as another.

    spent and lost: by sum; origin: the place of each among the sums before the last piece, and
    took: whether the last piece is in it.
    """

    spent: Numbers
    lost: Numbers
    origin: NDArray[np.int64]
    took: Marks


@dataclass(frozen=True)
class _Search:
    """rate: gain per price where the limit breaks; fixed: what the pieces that stay cost; missed:
    by how much the best set found so far falls short of the ceiling."""

    rate: float
    fixed: float
    limit: float
    missed: float
    most_sums: int


def best_set(gains: Numbers, prices: Numbers, limit: float, most_sums: int = MOST_SUMS) -> BestSet:
    """Of pieces in the order of gain per price, the best first, the set that gains most.

    Falls back on the best found where more than most_sums sums would have to be kept.
    """
    greedy = _greedy(gains, prices, limit)
    fits = np.cumsum(prices) <= limit
    if fits.all():
        return BestSet(greedy, 0.0)
    broken = int(np.argmin(fits))
    rate = float(gains[broken] / prices[broken])
    losses = np.abs(gains - rate * prices)
    before = np.arange(len(gains)) < broken
    missed = _missed(greedy, before, losses, rate, prices, limit)
    if missed <= _SAME:
        return BestSet(greedy, 0.0)
    loose = losses < missed
    fixed = float(prices[before & ~loose].sum())
    search = _Search(rate, fixed, limit, missed, most_sums)
    best, dropped = _searched(prices[loose], losses[loose], before[loose], search)
    taken = before.copy()
    if best is None:
        taken = greedy
    else:
        taken[loose] = best
    reached = _missed(taken, before, losses, rate, prices, limit)
    return BestSet(taken, max(0.0, reached - dropped))


def _greedy(gains: Numbers, prices: Numbers, limit: float) -> Marks:
    """Piece by piece, passing over what no longer fits."""
    taken = np.zeros(len(gains), dtype=np.bool_)
    spent = 0.0
    for place, price in enumerate(prices):
        if spent + price <= limit:
            spent += price
            taken[place] = True
    return taken


def _missed(
    taken: Marks, before: Marks, losses: Numbers, rate: float, prices: Numbers, limit: float
) -> float:
    """By how much a set falls short of the ceiling."""
    unspent = limit - float(prices[taken].sum())
    return rate * unspent + float(losses[taken != before].sum())


def _searched(
    prices: Numbers, losses: Numbers, before: Marks, search: _Search
) -> tuple[Marks | None, float]:
    """The pieces of the best set that falls short by less than the greedy one, None if there is
    none; and the least that a set let go on the way may fall short by."""
    sums = [_first_sum(search)]
    rests = np.append(np.cumsum(prices[::-1])[::-1][1:], 0.0)
    dropped = np.inf
    for price, loss, inside, rest in zip(prices, losses, before, rests, strict=True):
        last, lowest = _with_piece(sums[-1], float(price), float(loss), bool(inside), rest, search)
        sums.append(last)
        dropped = min(dropped, lowest)
    if not len(sums[-1].spent):
        return None, dropped
    short = search.rate * (search.limit - sums[-1].spent) + sums[-1].lost
    place = int(np.argmin(short))
    taken = np.zeros(len(prices), dtype=np.bool_)
    for piece in range(len(prices) - 1, -1, -1):
        taken[piece] = sums[piece + 1].took[place]
        place = int(sums[piece + 1].origin[place])
    return taken, dropped


def _first_sum(search: _Search) -> _Sums:
    """What the pieces that stay where they are cost."""
    start = np.array([search.fixed])
    return _Sums(start, start * 0, np.zeros(1, np.int64), np.zeros(1, np.bool_))


def _with_piece(
    sums: _Sums, price: float, loss: float, inside: bool, rest: float, search: _Search
) -> tuple[_Sums, float]:
    """All sums without and with one more piece that are worth keeping, and what was let go.

    inside: whether the piece stands before the broken one; rest: what all pieces after it cost.
    """
    count = len(sums.spent)
    spent = np.concatenate([sums.spent, sums.spent + price])
    lost = np.concatenate([sums.lost + loss * inside, sums.lost + loss * (not inside)])
    origin = np.tile(np.arange(count), 2)
    took = np.repeat([False, True], count)
    floor = lost + search.rate * np.maximum(0.0, search.limit - spent - rest)
    places = np.flatnonzero((spent <= search.limit) & (floor < search.missed - _SAME))
    gain = search.rate * spent - lost
    places = places[np.lexsort((-gain[places], spent[places]))]
    best = np.maximum.accumulate(np.append(-np.inf, gain[places]))
    places = places[gain[places] > best[:-1]]
    dropped = np.inf
    if len(places) > search.most_sums:
        by_floor = places[np.argsort(floor[places], kind="stable")]
        dropped = float(floor[by_floor[search.most_sums]])
        places = np.sort(by_floor[: search.most_sums])
    return _Sums(spent[places], lost[places], origin[places], took[places]), dropped
