"""Low-level codes, loops, and the longest chain of lead times."""

import polars as pl

from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.planning.structure.levels import (
    Levels,
    longest_chain,
    longest_chains,
    loops,
    low_level_codes,
)
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line, need, plan_of
from tests.random_tables import Row


def links(*pairs: str) -> pl.DataFrame:
    """Links written as "parent child"."""
    return pl.DataFrame([pair.split() for pair in pairs], schema=["parent", "child"], orient="row")


def levels_of(names: str, *pairs: str) -> Levels:
    return low_level_codes(pl.Series(names.split()), links(*pairs))


def test_a_level_is_the_longest_distance_from_the_top() -> None:
    found = levels_of("wing rib bolt", "wing rib", "wing bolt", "rib bolt")
    assert dict(found.codes.iter_rows()) == {"wing": 0, "rib": 1, "bolt": 2}


def test_an_item_that_nothing_contains_is_on_top() -> None:
    found = levels_of("wing cover bolt", "wing bolt")
    assert dict(found.codes.iter_rows()) == {"wing": 0, "cover": 0, "bolt": 1}


def test_several_lines_between_two_items_count_as_one_link() -> None:
    found = levels_of("wing bolt", "wing bolt", "wing bolt")
    assert dict(found.codes.iter_rows()) == {"wing": 0, "bolt": 1}


def test_a_new_item_stands_below_the_one_it_replaces() -> None:
    plan = plan_of(
        [item("wing"), item("old bolt"), item("new bolt")],
        structure=[line("wing", "old bolt"), line("wing", "new bolt")],
        replacements=[{"old": "old bolt", "new": "new bolt"}],
    )
    levels = dict(plan.network.items.select("item", "level").iter_rows())
    assert levels == {"wing": 0, "old bolt": 1, "new bolt": 2}


def test_a_common_part_is_netted_after_its_deepest_use() -> None:
    # wing -> rib -> bolt and wing -> bolt: 1 + 2 bolts are wanted, 3 are in stock
    plan = plan_of(
        [item("wing"), item("rib"), item("bolt")],
        structure=[line("wing", "rib"), line("wing", "bolt", 2), line("rib", "bolt")],
        spares_orders=[need("wing", 1, 3)],
        stock=[{"item": "bolt", "quantity": 3}],
    )
    assert plan.gross_of("bolt") == {3: 3}
    assert plan.orders_of("bolt") == []


def test_without_loops_no_links_are_left() -> None:
    assert levels_of("wing rib", "wing rib").tangled.is_empty()


def test_a_loop_is_given_whole() -> None:
    found = levels_of("wing rib spar bolt", "wing rib", "rib spar", "spar rib", "spar bolt")
    assert loops(found.tangled) == [["rib", "spar", "rib"]]
    assert dict(found.codes.iter_rows()) == {"wing": 0}


def test_each_of_several_loops_is_given_once() -> None:
    found = levels_of("a b c x y", "a b", "b c", "c a", "x y", "y x")
    assert loops(found.tangled) == [["a", "b", "c", "a"], ["x", "y", "x"]]


def test_a_loop_in_the_structure_is_an_error_that_names_the_whole_loop() -> None:
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 4}],
            "items": [item("wing"), item("rib"), item("spar")],
            "structure": [line("wing", "rib"), line("rib", "spar"), line("spar", "wing")],
        }
    )
    errors = [each for each in structure_findings(tables) if each.severity == "error"]
    assert [each.table for each in errors] == ["structure"]
    assert "rib -> spar -> wing -> rib" in errors[0].message


def test_a_loop_through_a_replacement_is_an_error_too() -> None:
    lines: list[Row] = [line("new rib", "spar"), line("spar", "old rib")]
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 4}],
            "items": [item("old rib"), item("new rib"), item("spar")],
            "structure": lines,
            "replacements": [{"old": "old rib", "new": "new rib"}],
        }
    )
    errors = [each for each in structure_findings(tables) if each.severity == "error"]
    assert len(errors) == 1
    assert "new rib -> spar -> old rib -> new rib" in errors[0].message


def test_the_longest_chain_follows_the_days_and_not_the_number_of_levels() -> None:
    # wing 1 + engine 30 = 31 days; wing 1 + rib 5 + ply 5 = 11 days
    pairs = links("wing rib", "rib ply", "wing engine")
    days = pl.DataFrame(
        {
            "item": ["wing", "rib", "ply", "engine"],
            "days": [1, 5, 5, 30],
            "level": [0, 1, 2, 1],
        }
    )
    assert longest_chain(days, pairs) == ["wing", "engine"]


def test_links_to_or_from_what_is_no_item_are_in_no_chain() -> None:
    pairs = links("wing ghost", "spirit rib", "wing rib")
    days = pl.DataFrame({"item": ["wing", "rib", "hull"], "days": [1, 5, 2], "level": [0, 1, 0]})
    assert longest_chains(days, pairs).sort("item").rows() == [
        ("hull", 2, None),
        ("rib", 5, None),
        ("wing", 6, "rib"),
    ]
    only_ghosts = links("wing ghost", "spirit rib")
    assert longest_chains(days, only_ghosts).sort("item").rows() == [
        ("hull", 2, None),
        ("rib", 5, None),
        ("wing", 1, None),
    ]


def test_of_chains_of_equal_length_the_first_by_name_is_told() -> None:
    pairs = links("wing spar", "wing rib", "wing ply")
    days = pl.DataFrame(
        {"item": ["wing", "spar", "rib", "ply"], "days": [1, 5, 5, 4], "level": [0, 1, 1, 1]}
    )
    assert longest_chain(days, pairs) == ["wing", "rib"]
