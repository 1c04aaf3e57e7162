"""What lots by cost need to be known: the cost of an order, of a unit, and of holding a year."""

from pathlib import Path

import polars as pl

from bomkit.checks.by_subject.price_rules import holding_findings
from tests.builders import typed_tables
from tests.inputs.builders import load_files, sentences
from tests.planning.driver import MONDAY, item
from tests.random_tables import Row


def tables_with(rule: str, rate: float | None) -> dict[str, pl.DataFrame]:
    """Resin by a lot rule, and a holding rate."""
    settings: Row = {"start": MONDAY, "horizon_weeks": 4, "holding_rate": rate}
    return typed_tables({"plan": [settings], "items": [item("resin", lot_rule=rule)]})


def test_lots_by_cost_need_a_holding_rate() -> None:
    for rate in (None, 0.0):
        (finding,) = holding_findings(tables_with("least_cost", rate))
        assert (finding.table, finding.column, finding.severity) == (
            "plan",
            "holding_rate",
            "error",
        )
        assert finding.message.startswith("the lots of resin are to cost the least; say what")
    assert holding_findings(tables_with("least_cost", 0.01)) == []
    assert holding_findings(tables_with("cover", None)) == []


def test_lots_by_cost_need_the_cost_of_an_order_and_of_a_unit(tmp_path: Path) -> None:
    items = (
        "item,source,unit,lot_rule,order_cost,cost\n"
        "A,buy,pc,least_cost,,5\n"
        "B,buy,pc,least_cost,30,0\n"
        "C,buy,pc,least_cost,30,5\n"
        "D,buy,pc,,,\n"
        "E,buy,pc,cheapest,30,5\n"
    )
    loaded = sentences(load_files(tmp_path, {"items.csv": items}))
    told = [sentence for sentence in loaded if "items.csv" in sentence]
    assert "line 2, column order_cost: lots of least cost need the cost of an order" in told[0]
    assert "line 3, column cost: '0' lots of least cost need the cost of one unit" in told[1]
    assert "line 6, column lot_rule: 'cheapest'" in told[2]
    assert len(told) == 3
