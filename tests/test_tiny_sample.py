"""The tiny sample, from its files to its orders, against the plan worked out with a pencil."""

import csv
from datetime import date
from pathlib import Path

import polars as pl
import pytest

from bomkit.checks.everything import load_inputs
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.problems import has_errors

TESTS = Path(__file__).parent
SAMPLE = TESTS.parent / "sample_boms" / "tiny_glider_tail"
HEAD = ("item", "serial", "source", "start_date", "due_date", "late_days")
QUANTITIES = ("quantity", "expected_good")


def sample_orders() -> pl.DataFrame:
    network = build_network(load_inputs(SAMPLE).tables)
    return planned_orders(network, plan_flows(network))


def worked_out_orders() -> list[dict[str, str]]:
    with (TESTS / "tiny_expected.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_sample_has_no_errors() -> None:
    problems = load_inputs(SAMPLE).problems
    assert not has_errors(problems), [problem.sentence() for problem in problems]


def test_the_orders_of_the_sample_are_those_worked_out_by_hand() -> None:
    found = {row[:6]: row[6:] for row in sample_orders().select(*HEAD, *QUANTITIES).rows()}
    expected = {
        (
            row["item"],
            row["serial"],
            row["source"],
            date.fromisoformat(row["start_date"]),
            date.fromisoformat(row["due_date"]),
            int(row["late_days"]),
        ): (float(row["quantity"]), float(row["expected_good"]))
        for row in worked_out_orders()
    }
    assert found.keys() == expected.keys()
    for head, quantities in expected.items():
        assert found[head] == pytest.approx(quantities, rel=1e-9)
