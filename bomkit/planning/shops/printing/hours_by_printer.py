"""Which kind of printer takes which hours: as much as possible within the hours there are."""

from collections import deque
from collections.abc import Mapping
from itertools import pairwise

Kinds = tuple[str, ...]

_LEAST = 1e-9  # hours; less than this is nothing


def shared_out(
    hours: Mapping[Kinds, float], capacity: Mapping[str, float]
) -> dict[Kinds, dict[str, float]]:
    """The hours of each group of parts by printer kind, each group's first kinds preferred.

    hours: by the kinds a group is approved for; capacity: hours by kind. As many hours as possible
    stay within capacity: a maximum flow by augmenting paths (Ford & Fulkerson 1956; along shortest
    paths, Edmonds & Karp 1972). What fits nowhere goes to the group's kind with the most hours.
    """
    left = dict(capacity)
    given: dict[Kinds, dict[str, float]] = {kinds: dict.fromkeys(kinds, 0.0) for kinds in hours}
    waiting = dict(hours)
    for kinds in sorted(hours, key=lambda each: (len(each), each)):
        while waiting[kinds] > _LEAST:
            path = _way_to_room(kinds, given, left)
            if not path:
                break
            waiting[kinds] -= _moved_along(path, waiting[kinds], given, left)
    for kinds, beyond in waiting.items():
        if beyond > _LEAST:
            given[kinds][max(kinds, key=lambda kind: capacity[kind])] += beyond
    return given


def _way_to_room(
    group: Kinds, given: Mapping[Kinds, Mapping[str, float]], left: Mapping[str, float]
) -> list[tuple[Kinds, str]]:
    """The shortest way to free hours: (group, kind it moves to) from this group on; or none.

    Each following group gives up hours on the kind before it and takes them on its own.
    """
    waiting: deque[list[tuple[Kinds, str]]] = deque([(group, kind)] for kind in group)
    seen = set(group)
    while waiting:
        path = waiting.popleft()
        kind = path[-1][1]
        if left[kind] > _LEAST:
            return path
        for other in sorted(given):
            if given[other].get(kind, 0.0) > _LEAST:
                fresh = [each for each in other if each not in seen]
                seen.update(fresh)
                waiting.extend([*path, (other, each)] for each in fresh)
    return []


def _moved_along(
    path: list[tuple[Kinds, str]],
    wanted: float,
    given: dict[Kinds, dict[str, float]],
    left: dict[str, float],
) -> float:
    """Moves as many hours along the way as all of it allows, and returns how many."""
    freed = [given[group][before] for (_, before), (group, _) in pairwise(path)]
    amount = min(wanted, left[path[-1][1]], *freed)
    for (_, before), (group, _) in pairwise(path):
        given[group][before] -= amount
    for group, kind in path:
        given[group][kind] += amount
    left[path[-1][1]] -= amount
    return amount
