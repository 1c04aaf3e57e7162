"""How much sooner late demands were with the first link of their chain, and what nothing serves."""

import pytest

from bomkit.planning.forecast import forecast as forecasting
from bomkit.planning.forecast.forecast import forecast, foreseen
from bomkit.planning.forecast.peg_graph import peg_graph
from bomkit.planning.pegging.peg import peg
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.tables.shared_columns import NEVER
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, Netted, Plan, line, lot, need, piece, plan_of


def late_ones() -> Plan:
    """Spares orders that are 0, 1, 5 and 5 days late, each waiting for a part of its own."""
    names = ("lamp", "seat", "tyre", "wing")
    leads, wanted = (3, 8, 12, 13), (3, 7, 7, 8)
    return plan_of(
        [piece(name, "buy", lead) for name, lead in zip(names, leads, strict=True)],
        spares_orders=[
            need(name, 1, when, order=f"S-{name}") for name, when in zip(names, wanted, strict=True)
        ],
    )


def gains(plan: Plan) -> dict[str, int | None]:
    """The days by which each order were there sooner."""
    return dict(plan.forecast.select("demand", "gain_days").rows())


def test_what_is_late_were_sooner_by_as_much_as_the_first_link_takes() -> None:
    # what is in time has nothing to gain
    assert gains(late_ones()) == {"S-lamp": None, "S-seat": 8, "S-tyre": 12, "S-wing": 13}


@pytest.mark.parametrize(
    ("most", "told"),
    [
        (1, {"S-tyre"}),
        (2, {"S-tyre", "S-wing"}),
        (3, {"S-seat", "S-tyre", "S-wing"}),
        (9, {"S-seat", "S-tyre", "S-wing"}),
    ],
)
def test_gains_are_told_of_the_latest_and_of_equally_late_ones_of_the_first(
    monkeypatch: pytest.MonkeyPatch, most: int, told: set[str]
) -> None:
    monkeypatch.setattr(forecasting, "_MOST_GAINS", most)
    found = gains(late_ones())
    assert {name for name, gain in found.items() if gain is not None} == told


def test_fewer_gains_are_told_where_a_pass_takes_long(monkeypatch: pytest.MonkeyPatch) -> None:
    # four edges: one from each spares order
    monkeypatch.setattr(forecasting, "_MOST_PASSED", 11)
    assert [gain for gain in gains(late_ones()).values() if gain] == [12, 13]


def test_what_nothing_serves_is_never_there_and_says_no_gain() -> None:
    # netting counts the bolt that is kept for another serial; no plan is made again here
    items = [piece("fin", "make", 2), piece("bolt", "buy", 3), piece("nut", "buy", 9)]
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 4}],
            "items": items,
            "structure": [line("fin", "bolt")],
            "stock": [lot("bolt", 1, serial="K-9")],
            "spares_orders": [
                need("fin", 1, 8, order="S1"),
                need("bolt", 1, 9, order="S2"),
                need("nut", 1, 6, order="S3"),
            ],
        }
    )
    plan = Netted(build_network(tables))
    pegged = peg(plan.network, plan.flows, plan.orders, tables)
    ahead = forecast(foreseen(peg_graph(plan.network, plan.orders, pegged)))
    names = pegged.demands.select("demand_id", "demand")
    found = ahead.demands.join(names, on="demand_id").sort("demand")
    assert found.select("demand", "end", "late_days", "gain_days").rows() == [
        ("S1", 5, 0, None),
        ("S2", NEVER, NEVER, None),
        ("S3", 9, 3, 9),
    ]


def test_a_component_that_comes_late_for_its_order_makes_late_only_who_has_to_wait() -> None:
    plan = plan_of(
        [piece("fin", "make", 2, safety_days=5), piece("lamp", "buy", 6)],
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 10, order="S1")],
    )
    # the lamp is wanted on day 3 and comes on day 6; the fin is there on day 8, wanted on day 10
    assert plan.earliest_of("S1")[1:] == (0, 2)
    assert plan.pegs.select("item", "late_days").rows() == [("fin", 0), ("lamp", 3)]
