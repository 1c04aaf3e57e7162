"""The compiled structure: it knows what can be asked for, and serves more than one plan."""

from dataclasses import replace

import numpy as np
import polars as pl
import pytest

from bomkit.planning.netting.compiled_structure import compile_structure
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.tables_as_numbers.network import Network, build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, airframe, item, line, need
from tests.random_tables import random_tables


def tail_network(demanded: str) -> Network:
    """A tail of two skins with resin, for one airframe; a stand is in no structure."""
    return build_network(
        typed_tables(
            {
                "plan": [{"start": MONDAY, "horizon_weeks": 4}],
                "items": [
                    item("tail", source="make", unit="pc"),
                    item("skin", source="make", unit="pc"),
                    item("resin"),
                    item("stand", source="make", unit="pc"),
                ],
                "structure": [line("tail", "skin", 2), line("skin", "resin", 0.5)],
                "build_plan": [airframe("T-1", "tail", 10)],
                "spares_orders": [need(demanded, 1, 8)],
            }
        )
    )


def named_keys(network: Network) -> list[tuple[str, str]]:
    """Item and serial of every row of the compiled structure, sorted."""
    keys = pl.DataFrame({"key": compile_structure(network).keys})
    return sorted(network.named(keys).select("item", "serial").rows())


def test_only_what_can_be_asked_for_has_a_row() -> None:
    assert named_keys(tail_network("skin")) == [("resin", ""), ("skin", ""), ("tail", "T-1")]


def test_rows_stand_by_level_those_that_are_rounded_up_in_front() -> None:
    for seed in range(20):
        network = build_network(typed_tables(random_tables(seed)))
        structure = compile_structure(network)
        levels = network.items["level"].to_numpy()[structure.item_id]
        assert (np.diff(levels) >= 0).all()
        for level in structure.levels:
            stepped = structure.rules.stepped[level.first : level.last].tolist()
            assert stepped == sorted(stepped, reverse=True)
            assert (levels[level.first : level.last] == levels[level.first]).all()


@pytest.mark.parametrize("seed", range(20))
def test_a_structure_used_again_gives_the_plan_of_a_fresh_one(seed: int) -> None:
    network = build_network(typed_tables(random_tables(seed)))
    structure = compile_structure(network)
    fewer = replace(network, demands=network.demands.gather_every(2))
    again, fresh = plan_flows(fewer, known=structure), plan_flows(fewer)
    assert again.structure is structure
    for name in ("gross", "supply", "receipts", "starts", "good", "lots"):
        assert getattr(again, name).equals(getattr(fresh, name))


def test_a_structure_that_does_not_reach_what_is_asked_is_compiled_anew() -> None:
    known = compile_structure(tail_network("skin"))
    network = tail_network("stand")
    flows = plan_flows(network, known=known)
    assert flows.structure is not known
    assert flows.started.equals(plan_flows(network).started)
