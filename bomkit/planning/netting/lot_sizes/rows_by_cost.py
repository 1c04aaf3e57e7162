"""The rows whose lots are chosen by what they cost."""

import numpy as np

from bomkit.planning.netting.arrays import Flags, Floats
from bomkit.planning.netting.lot_sizes.least_cost import Bounds, Need, Programme, Sizes
from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import LotRules
from bomkit.planning.netting.net import Beside, lacking_by_day
from bomkit.units import TOLERANCE


def least_cost_starts(rules: LotRules, gross: Floats, beside: Beside) -> tuple[Floats, Flags]:
    """The starts of rows by days, and of which rows it is proven that no plan costs less.

    It is proven where the plan costs no more than that without minimum, multiple and bounds on the
    days that an order covers.
    """
    lacking, slack = lacking_by_day(rules, gross, beside)
    starts = np.zeros(gross.shape)
    proven = np.zeros(len(gross), np.bool_)
    for row in range(len(gross)):
        programme = _programme(
            rules.of(slice(row, row + 1)), _needs(lacking[row], slack[row]), gross
        )
        lots = programme.least_cost()
        starts[row, list(lots.started)] = list(lots.started.values())
        free = programme.without_bounds().least_cost()
        proven[row] = lots.cost <= free.cost + TOLERANCE * abs(free.cost)
    return starts, proven


def _needs(lacking: Floats, slack: Floats) -> list[Need]:
    """The days on which more is needed than on any before, with what is needed by then."""
    needs: list[Need] = []
    covered = 0.0
    for day, (needed, least) in enumerate(zip(lacking.tolist(), slack.tolist(), strict=True)):
        if needed - covered > least:
            needs.append((day, needed))
        elif needs and needed > covered:  # too little more for an order of its own
            needs[-1] = (needs[-1][0], needed)
        covered = max(covered, needed) if needs else covered
    return needs


def _programme(rules: LotRules, needs: list[Need], gross: Floats) -> Programme:
    """The choice of lots for one row."""
    days = gross.shape[1]
    return Programme(
        needs,
        days,
        [float(rules.order_cost[0])] * days,
        float(rules.holding[0]),
        Sizes(
            good=float(rules.good[0]),
            minimum=float(rules.minimum[0]),
            step=float(rules.step[0]) if rules.stepped[0] else 0.0,
            whole=bool(rules.whole[0]),
        ),
        Bounds(least=int(rules.cover[0]), most=int(rules.longest[0]), in_time=int(rules.ahead[0])),
    )
