"""Who gets what within one planning key: needs by rank and day, supplies by the day they are there.

Rank after rank, needs in line take the supplies that are there first, of stock what expires first:
that fixes the day on which each is served, and no need of a later rank can change it. Then, from
the last need of the rank to the first, each gives back what it took and takes the latest supplies
that are there by the later of its own day and that day: what it does not need yet is for the next
ranks. What none of them wants goes back in the end: need after need takes what is there first of
it and of what it has. With one rank alone nobody would gain, so what is taken first stays.
"""

from collections.abc import Sequence
from itertools import groupby

from bomkit.planning.pegging.need_by_need.needs import LASTS, NOBODY, Need, Supply
from bomkit.planning.pegging.need_by_need.taking_and_giving_back import Counter
from bomkit.planning.pegging.need_by_need.taking_expiring_or_kept import ChoosyCounter


def allocate(
    needs: Sequence[Need],
    supplies: Sequence[Supply],
    ordinals: Sequence[int],
    pieces: bool = False,
) -> None:
    """Gives each need its takes; what they lack of its quantity no supply may serve.

    needs: in line within each rank, rank after rank. supplies: in order of day, stock by expiry in
    front. ordinals: the date of each working day. pieces: stock is given in whole pieces; what is
    expected of orders may have tenths.
    """
    anybody = all(supply.last == LASTS and supply.kept_for == NOBODY for supply in supplies)
    counter = Counter(supplies, pieces) if anybody else ChoosyCounter(supplies, pieces, ordinals)
    ranks = [list(line) for _, line in groupby(needs, key=lambda need: need.rank)]
    every: list[Need] = []
    for of_rank in ranks:
        line, limits = counter.serve_all(of_rank)
        every += line
        if len(ranks) > 1:
            for need, limit in zip(reversed(line), reversed(limits), strict=True):
                counter.serve_late(need, limit)
    for need in every:
        counter.exchange(need, every)
    if len(ranks) > 1 and any(counter.left):
        for need in every:
            counter.serve_sooner(need)
