"""Every command that shows a plan says where planning again came to no rest within its bound."""

from dataclasses import replace
from pathlib import Path

import pytest

from bomkit.planning import orders_for_unserved_needs, shop_plan
from bomkit.planning.shop_plan import Turn
from bomkit.words.screens import to_know_first as said
from tests.commands import bomkit, written

FILES = {
    "items.csv": "item,source,process,unit,lead_days,hours_each,hours_per_order,cost\n"
    "kelto,make,assemble,pc,1,2,1,\nbolt,buy,,pc,5,,,2\n",
    "structure.csv": "parent,child,quantity\nkelto,bolt,1\n",
    "build_plan.csv": "serial,item,ready_date\nKL-2,kelto,2026-12-16\n",
    "fleet.csv": "serial,item\nKL-1,kelto\n",
    # kept for KL-1, so that nothing but an order of its own serves anybody else
    "stock.csv": "item,quantity,serial\nbolt,3,KL-1\n",
    "spares_orders.csv": "order,item,quantity,need_date\nS-1,bolt,2,2026-12-11\n",
    "usage.csv": "item,per_year\nbolt,2\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 6\n",
}
STILL_WAITS = "Nothing brings all that is needed of bolt: who needs it is given no date."


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return written(tmp_path / "data", FILES)


def printed(data: Path, command: str) -> str:
    """What a command prints of these tables."""
    out = data.parent / "out.xlsx"
    words = {
        "kit": ("kit", data, "S-1", "--out", out),
        "try": ("kit", data, "--try", "bolt", "--wanted", "2026-12-18"),
        "spares": ("spares", data, "--after-plan", "--out", out),
        "tree": ("tree", data, "kelto", "--serial", "KL-2", "--roll", "hours"),
        "plan": ("plan", data, "--out", data.parent / "run"),
    }[command]
    result = bomkit(*words)
    assert result.exit_code == 0, result.output
    return result.output


@pytest.mark.parametrize("command", ["plan", "kit", "try", "spares"])
def test_a_need_that_no_plan_within_the_bound_serves_is_named(
    command: str, data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert STILL_WAITS not in printed(data, command)
    for made in (data.parent / "out.xlsx",):
        made.unlink(missing_ok=True)
    monkeypatch.setattr(orders_for_unserved_needs, "MOST_PLANS", 1)
    if command == "plan":
        (data.parent / "run").rename(data.parent / "before")
    assert printed(data, command).count(STILL_WAITS) == 1


def test_a_tree_says_where_the_plan_of_its_lots_came_to_no_rest(
    data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert said.MOULDS_UNSETTLED not in printed(data, "tree")
    last_turn = shop_plan.last_turn

    def restless(*told: object, **more: object) -> Turn:
        return replace(last_turn(*told, **more), settled=False)  # type: ignore[arg-type]

    monkeypatch.setattr("bomkit.runs.questions.tree.last_turn", restless)
    assert printed(data, "tree").count(said.MOULDS_UNSETTLED) == 1
