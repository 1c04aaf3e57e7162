"""The matrix of total requirements, T = (I - N)^-1, against what a plan without stock asks for.

N holds how much of each item goes into one of each other. Source: Vazsonyi, Management Science
1(1), 1954. No numbers of his are at hand; the structures are the published ones of the examples
in requirements planning, recomputed here with SciPy. Levels are checked with NetworkX.
"""

import networkx as nx  # type: ignore[import-untyped]  # ships no types
import numpy as np
import numpy.typing as npt
import polars as pl
import pytest
from scipy.linalg import inv  # type: ignore[import-untyped]  # ships no types

from bomkit.planning.structure.levels import low_level_codes
from tests.planning.driver import item, need, plan_of
from tests.published.test_requirements_planning import BRACKET_LINES, SEVEN_LINES
from tests.random_tables import Row, random_tables

Matrix = npt.NDArray[np.float64]

PER_BRACKET = {
    "bracket": 1,
    "base": 1,
    "spring": 2,
    "clamp": 5,
    "housing": 2,
    "handle": 5,
    "casting": 5,
    "bearing": 4,
    "shaft": 2,
}
PER_A = {"A": 1, "B": 2, "C": 3, "D": 16, "E": 10, "F": 6, "G": 6}

EXAMPLES = pytest.mark.parametrize(
    ("lines", "expected"), [(BRACKET_LINES, PER_BRACKET), (SEVEN_LINES, PER_A)]
)


def next_requirements(lines: list[Row], names: list[str]) -> Matrix:
    """N: how much of the row's item goes directly into one of the column's."""
    place = {name: number for number, name in enumerate(names)}
    matrix = np.zeros((len(names), len(names)))
    for each in lines:
        matrix[place[str(each["child"])], place[str(each["parent"])]] += float(
            str(each["quantity"])
        )
    return matrix


def links_of(lines: list[Row]) -> pl.DataFrame:
    """Parents and children of lines."""
    pairs = [(str(each["parent"]), str(each["child"])) for each in lines]
    return pl.DataFrame(pairs, schema=["parent", "child"], orient="row")


def longest_distances(names: list[str], links: pl.DataFrame) -> dict[str, int]:
    """The longest path to each item from any top, found with NetworkX."""
    graph = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from(links.rows())
    distances = dict.fromkeys(names, 0)
    for name in nx.topological_sort(graph):
        above = [distances[parent] + 1 for parent in graph.predecessors(name)]
        distances[name] = max(above, default=0)
    assert max(distances.values()) == nx.dag_longest_path_length(graph, weight=None)
    return distances


@EXAMPLES
def test_the_matrix_gives_what_one_of_the_top_item_takes(
    lines: list[Row], expected: dict[str, int]
) -> None:
    names = list(expected)
    total = inv(np.eye(len(names)) - next_requirements(lines, names))
    assert total[:, 0] == pytest.approx(list(expected.values()), rel=1e-12)


@EXAMPLES
def test_a_plan_without_stock_asks_for_the_total_requirements(
    lines: list[Row], expected: dict[str, int]
) -> None:
    names = list(expected)
    items = [item(name, source="make", unit="pc", lead_days=1) for name in names]
    # something is asked for at every level
    wanted = {name: number + 1 for number, name in enumerate(names)}
    needs = [need(name, quantity, 15) for name, quantity in wanted.items()]
    plan = plan_of(items, structure=lines, spares_orders=needs)
    total = inv(np.eye(len(names)) - next_requirements(lines, names))
    gross = [sum(plan.gross_of(name).values()) for name in names]
    assert gross == pytest.approx((total @ np.array(list(wanted.values()))).tolist(), rel=1e-12)


@EXAMPLES
def test_the_matrix_dies_out_after_as_many_steps_as_there_are_levels(
    lines: list[Row], expected: dict[str, int]
) -> None:
    names = list(expected)
    matrix = next_requirements(lines, names)
    codes = low_level_codes(pl.Series(names), links_of(lines)).codes
    deepest = max(codes["level"].to_list())
    assert np.linalg.matrix_power(matrix, deepest).any()
    assert not np.linalg.matrix_power(matrix, deepest + 1).any()


@EXAMPLES
def test_low_level_codes_of_the_examples_are_longest_paths(
    lines: list[Row], expected: dict[str, int]
) -> None:
    codes = low_level_codes(pl.Series(list(expected)), links_of(lines)).codes
    assert dict(codes.iter_rows()) == longest_distances(list(expected), links_of(lines))


@pytest.mark.parametrize("seed", range(40))
def test_low_level_codes_of_random_structures_are_longest_paths(seed: int) -> None:
    tables = random_tables(seed)
    replaced = [{"parent": row["old"], "child": row["new"]} for row in tables["replacements"]]
    links = links_of([*tables["structure"], *replaced])
    names = [str(row["item"]) for row in tables["items"]]
    found = low_level_codes(pl.Series(names), links)
    assert found.tangled.is_empty()
    assert dict(found.codes.iter_rows()) == longest_distances(names, links)


@pytest.mark.parametrize("seed", range(40))
def test_the_matrix_dies_out_exactly_when_there_is_no_loop(seed: int) -> None:
    chance = np.random.default_rng(seed)
    names = [f"item-{number}" for number in range(8)]
    pairs = [tuple(chance.choice(8, 2, replace=False)) for _ in range(8)]
    lines: list[Row] = [
        {"parent": names[above], "child": names[below], "quantity": 1} for above, below in pairs
    ]
    dies_out = not np.linalg.matrix_power(next_requirements(lines, names), 8).any()
    assert low_level_codes(pl.Series(names), links_of(lines)).tangled.is_empty() == dies_out
