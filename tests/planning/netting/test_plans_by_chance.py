"""Many plans of one structure: each must be the plan that is made of its draw alone."""

from dataclasses import replace

import numpy as np
import polars as pl
import pytest

from bomkit.planning.netting.compiled_structure import compile_structure
from bomkit.planning.netting.netted_plan import Flows, plan_flows
from bomkit.planning.netting.plans_by_chance import Draw, drawn_plans
from bomkit.planning.netting.supply_by_day import supplied
from bomkit.planning.tables_as_numbers.network import Network, build_network
from tests.builders import typed_tables
from tests.random_tables import random_tables

DRAWS = 3


def network_of(seed: int) -> Network:
    """The network of random tables."""
    return build_network(typed_tables(random_tables(seed)))


def draws_for(network: Network, seed: int) -> list[Draw]:
    """Some draws of scrap and of how late deliveries are."""
    rng = np.random.default_rng(seed)
    return [
        Draw(
            rng.uniform(0.5, 1.0, len(network.items)),
            rng.integers(0, 12, len(network.receipts)),
        )
        for _ in range(DRAWS)
    ]


def as_drawn(network: Network, draw: Draw) -> Network:
    """A network that holds a draw as if the tables had said so."""
    good = pl.Series(draw.good)
    late = network.receipts["day"] + pl.Series(draw.late)
    of_item = good.gather(network.receipts["key"] // network.serial_count)
    return replace(
        network,
        items=network.items.with_columns(
            good=pl.when("passes").then(1.0).otherwise(good), receipt_good=good
        ),
        receipts=network.receipts.with_columns(
            day=late,
            past=pl.col("past") | (late >= network.axis.count),
            quantity=pl.col("ordered") * of_item,
        ),
    )


@pytest.mark.parametrize("seed", range(40))
def test_a_plan_of_many_is_the_plan_of_its_draw_alone(seed: int) -> None:
    network = network_of(seed)
    draws = draws_for(network, seed)
    structure, beside = compile_structure(network), supplied(network, compile_structure(network))
    for draw, drawn in zip(draws, drawn_plans(network, draws, structure), strict=True):
        alone = plan_flows(as_drawn(network, draw))
        flows = Flows(structure, beside, drawn)
        keys = alone.gross["key"]
        for ours, theirs in ((flows.gross, alone.gross), (flows.starts, alone.starts)):
            found = ours.filter(pl.col("key").is_in(keys.implode()))
            np.testing.assert_allclose(found.to_numpy(), theirs.to_numpy(), rtol=1e-11, atol=1e-11)


def test_what_a_draw_delivers_past_the_horizon_does_not_come() -> None:
    network = network_of(3)
    good = network.items["receipt_good"].to_numpy()
    never = Draw(good, np.full(len(network.receipts), network.axis.count))
    (drawn,) = drawn_plans(network, [never])
    alone = plan_flows(replace(network, receipts=network.receipts.clear()))
    assert len(network.receipts.filter(~pl.col("past"))) > 0
    assert drawn.starts.sum() == pytest.approx(alone.started["quantity"].sum(), rel=1e-12)
