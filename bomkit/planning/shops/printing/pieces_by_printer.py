"""The print jobs of a week, shared out among the kinds of printer in whole pieces."""

import math
from collections.abc import Mapping

from bomkit.planning.shops.printing.hours_by_printer import Kinds, shared_out
from bomkit.planning.shops.printing.print_jobs import Job
from bomkit.units import TOLERANCE


def by_printer(jobs: list[Job], capacity: Mapping[str, float]) -> dict[str, list[tuple[Job, int]]]:
    """By printer kind the jobs of a week and how many pieces of each."""
    groups: dict[Kinds, list[Job]] = {}
    for job in jobs:
        groups.setdefault(job["kinds"], []).append(job)
    asked = {kinds: sum(job["pieces"] * job["hours"] for job in g) for kinds, g in groups.items()}
    given = shared_out(asked, capacity)
    room = dict(capacity)
    dealt: list[tuple[Job, dict[str, int]]] = []
    for kinds, group in sorted(groups.items()):
        dealt += _dealt(group, given[kinds], room)
    for job, pieces in sorted(dealt, key=lambda each: (-each[0]["hours"], each[0]["order"])):
        _left_over(job, pieces, room)
    shares: dict[str, list[tuple[Job, int]]] = {}
    for job, pieces in dealt:
        for kind, count in pieces.items():
            if count:
                shares.setdefault(kind, []).append((job, count))
    return shares


def _dealt(
    group: list[Job], given: Mapping[str, float], room: dict[str, float]
) -> list[tuple[Job, dict[str, int]]]:
    """The jobs of one group in whole pieces to the kinds that give it hours, as far as these go.

    room: the hours that each kind has left; what is dealt is taken from it.
    """
    own = dict(given)
    dealt = []
    # the longest first, so that short ones fill what is left of a printer's hours
    for job in sorted(group, key=lambda each: (-each["hours"], each["due_date"], each["order"])):
        pieces = dict.fromkeys(job["kinds"], 0)
        for kind in given:
            fit = math.floor(own[kind] / job["hours"] * (1 + TOLERANCE))
            pieces[kind] = max(0, min(job["pieces"] - sum(pieces.values()), fit))
            own[kind] -= pieces[kind] * job["hours"]
            room[kind] -= pieces[kind] * job["hours"]
        dealt.append((job, pieces))
    return dealt


def _left_over(job: Job, pieces: dict[str, int], room: dict[str, float]) -> None:
    """Gives what halves of pieces leave over to a kind that has the hours, the first one named;
    where none has, to where it is the least beyond them."""
    enough = job["hours"] * (1 - TOLERANCE)
    for _ in range(job["pieces"] - sum(pieces.values())):
        fitting = [kind for kind in pieces if room[kind] >= enough]
        kind = fitting[0] if fitting else max(pieces, key=lambda each: room[each])
        pieces[kind] += 1
        room[kind] -= job["hours"]
