"""Hours to printer kinds: nothing lost, only where approved, and overload only where it must be."""

import random

import networkx as nx  # type: ignore[import-untyped]  # ships no types
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.planning.shops.printing.hours_by_printer import Kinds, shared_out


def test_the_first_kind_named_is_preferred() -> None:
    given_hours = shared_out({("new", "old"): 10.0}, {"old": 50.0, "new": 50.0})
    assert given_hours == {("new", "old"): {"new": 10.0, "old": 0.0}}


def test_what_is_approved_for_both_makes_room_for_what_is_not() -> None:
    hours: dict[Kinds, float] = {("old", "new"): 30.0, ("old",): 40.0}
    given_hours = shared_out(hours, {"old": 50.0, "new": 50.0})
    assert given_hours == {("old",): {"old": 40.0}, ("old", "new"): {"old": 10.0, "new": 20.0}}


def test_room_is_found_over_several_exchanges() -> None:
    hours: dict[Kinds, float] = {("a", "b"): 10.0, ("b", "c"): 10.0, ("a",): 10.0}
    given_hours = shared_out(hours, {"a": 10.0, "b": 10.0, "c": 10.0})
    assert given_hours[("b", "c")] == {"b": 0.0, "c": 10.0}


def test_what_fits_nowhere_goes_to_the_kind_with_most_hours() -> None:
    given_hours = shared_out({("a", "b"): 50.0}, {"a": 10.0, "b": 20.0})
    assert given_hours == {("a", "b"): {"a": 10.0, "b": 40.0}}


@given(seed=st.integers(0, 99_999))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_no_more_hours_are_over_than_the_maximum_flow_leaves(seed: int) -> None:
    chance = random.Random(seed)
    kinds = [f"kind-{number}" for number in range(chance.randint(1, 5))]
    capacity = {kind: float(chance.choice([0, 20, 40, 80])) for kind in kinds}
    hours: dict[Kinds, float] = {}
    for _ in range(chance.randint(1, 8)):
        group = tuple(chance.sample(kinds, chance.randint(1, len(kinds))))
        hours[group] = chance.randint(1, 60)
    found = shared_out(hours, capacity)
    for group, shares in found.items():
        assert set(shares) == set(group) and min(shares.values()) >= 0
        assert sum(shares.values()) == pytest.approx(hours[group])
    loads = {kind: sum(shares.get(kind, 0.0) for shares in found.values()) for kind in kinds}
    graph = nx.DiGraph()
    for group, asked in hours.items():
        graph.add_edge("all", group, capacity=asked)
        graph.add_edges_from((group, kind) for kind in group)
    for kind in kinds:
        graph.add_edge(kind, "done", capacity=capacity[kind])
    within = nx.maximum_flow_value(graph, "all", "done")
    over = sum(max(0.0, loads[kind] - capacity[kind]) for kind in kinds)
    assert over == pytest.approx(sum(hours.values()) - within)
