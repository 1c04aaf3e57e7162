"""The forward pass over the pegged plan on arrays, for one forecast after the other."""

import numpy as np

from bomkit.planning.forecast.peg_graph import PegGraph
from bomkit.planning.netting.arrays import Ints, in_order, ints


class ForwardPass:
    """The edges of a graph by level from the bottom, and by who needs something.

    Made once; a pass gives every node its beginning and end for other days of supplies.
    """

    def __init__(self, graph: PegGraph) -> None:
        needs, supplies, lags = (
            ints(graph.edges[name]) for name in ("need_node", "supply_node", "lag")
        )
        levels = ints(graph.nodes["level"])[needs]
        order = in_order(-levels, needs)
        self._needs, self._supplies, self._lags, levels = (
            column[order] for column in (needs, supplies, lags, levels)
        )
        first = np.flatnonzero(np.diff(self._needs, prepend=-1))  # of each need its first edge
        ends = np.flatnonzero(np.diff(levels[first])) + 1
        self._levels = np.split(first, ends) if len(first) else []
        self._days = graph.nodes["days"].to_numpy()
        self._bounds = graph.nodes["not_before"].to_numpy()

    @property
    def days(self) -> Ints:
        """From the beginning of each node to its end."""
        return self._days.copy()

    def run(self, days: Ints, there: int | None = None) -> tuple[Ints, Ints]:
        """The days on which each node begins and ends, with these days between the two.

        there: a node that is there on day 0, whatever it needs.
        """
        begins = self._bounds.copy()
        ends = begins + days
        held = [] if there is None else [there]
        ends[held] = 0
        for at, firsts in enumerate(self._levels):
            beyond = self._levels[at + 1][0] if at + 1 < len(self._levels) else len(self._needs)
            part = slice(firsts[0], beyond)
            day = ends[self._supplies[part]] - self._lags[part]
            needs = self._needs[firsts]
            latest = np.maximum.reduceat(day, firsts - firsts[0])
            begins[needs] = np.maximum(np.maximum(latest, 0), self._bounds[needs])
            ends[needs] = begins[needs] + days[needs]
            ends[held] = 0
        return begins, ends
