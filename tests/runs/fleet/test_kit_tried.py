"""An order that nobody has placed is tried: what it would get, when, and whom it would hold up."""

from pathlib import Path

import pytest
from click.testing import Result

from tests.commands import bomkit, written

TABLES = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 16\n",
    "items.csv": "item,source,unit,lead_days\nkelto,make,pc,5\nbolt,buy,pc,60\n",
    "structure.csv": "parent,child,quantity\nkelto,bolt,1\n",
    "build_plan.csv": "serial,item,ready_date\nK-9,kelto,2026-12-23\n",
    "fleet.csv": "serial,item\nK-1,kelto\n",
    "stock.csv": "item,quantity,location,lot\nbolt,1,shelf 4,L1\n",
}


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return written(tmp_path, TABLES)


def tried(data: Path, *words: str) -> Result:
    result = bomkit("kit", data, *words)
    assert sorted(path.name for path in data.iterdir()) == sorted(TABLES)
    return result


def test_a_tried_order_gets_what_the_plan_would_give_it_and_tells_whom_it_would_hold_up(
    data: Path,
) -> None:
    result = tried(data, "--try", "bolt", "--serial", "K-1", "--wanted", "2026-12-01")
    assert result.exit_code == 0, result.output
    # the lot on the shelf is K-9's of 16 December: one ordered now comes on 22 February
    routine, grounded = result.output.split("If it were grounded:")
    assert "can leave 2027-02-22" in routine and "shelf 4" not in routine
    assert "can leave 2026-11-30" in grounded and "makes K-9 later by 48 d" in grounded


def test_a_second_one_in_stock_holds_up_nobody(data: Path) -> None:
    (data / "stock.csv").write_text(TABLES["stock.csv"] + "bolt,1,shelf 4,L2\n")
    result = tried(data, "--try", "bolt", "--wanted", "2026-12-01")
    assert "shelf 4" in result.output and "makes nobody later" in result.output


def test_an_aircraft_that_is_grounded_wants_it_at_once_and_not_on_the_day_that_is_given(
    data: Path,
) -> None:
    # of the lot and the bolt due on 7 December K-9 can do with the later one; wanted only on the
    # 16th, a grounded order would be given that one too, and leave later than as a routine one
    (data / "open_orders.csv").write_text("order,item,quantity,due_date\nO-1,bolt,1,2026-12-07\n")
    result = bomkit("kit", data, "--try", "bolt", "--wanted", "2026-12-16")
    routine, grounded = result.output.split("If it were grounded:")
    assert "can leave 2026-11-30" in routine
    assert "wanted at once  can leave 2026-11-30  makes nobody later" in grounded


def test_a_kit_that_holds_nothing_on_the_first_day_is_not_said_to_leave_then(data: Path) -> None:
    with (data / "items.csv").open("a") as items:
        items.write("set,kit,pc,1\n")
    lines = "parent,child,quantity,from_date\nkelto,bolt,1,\nset,bolt,1,2026-12-10\n"
    (data / "structure.csv").write_text(lines)
    result = tried(data, "--try", "set", "--serial", "K-1", "--wanted", "2026-12-16")
    grounded = result.output.split("If it were grounded:")[1]
    assert "nothing is in it on the plan's first day" in grounded and "can leave" not in grounded


def test_large_quantities_are_told_without_powers_of_ten(data: Path) -> None:
    result = tried(data, "--try", "bolt", "--quantity", "1e9", "--wanted", "2026-12-01")
    assert result.output.count("1,000,000,000 pc") == 2 and "e+" not in result.output


def test_more_than_one_can_be_tried(data: Path) -> None:
    result = tried(data, "--try", "bolt", "--quantity", "3", "--wanted", "2026-12-01")
    assert "3 pc bolt" in result.output


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--try", "bolt", "--wanted", "2026-12-01", "--serial", "K-7"], "K-7"),
        (["--try", "blot", "--wanted", "2026-12-01"], "did you mean bolt?"),
        (["--try", "bolt", "--wanted", "2026-12-01", "--quantity", "0"], "quantity"),
        (["--try", "bolt", "--wanted", "2027-12-01"], "past the horizon"),
    ],
)
def test_what_can_not_be_tried_is_refused_with_a_reason(
    data: Path, words: list[str], told: str
) -> None:
    result = tried(data, *words)
    assert result.exit_code == 1
    assert told in result.output


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--try", "blot", "--wanted", "2026-12-01"], "error: --try: 'blot' is not in items"),
        (["--try", "bolt", "--wanted", "2026-12-01", "--serial", "K-7"], "error: --serial: 'K-7'"),
        (["--try", "bolt", "--wanted", "2026-12-01", "--quantity", "0"], "error: --quantity: '0'"),
        (["--try", "bolt", "--wanted", "1826-12-01"], "error: --wanted: '1826-12-01'"),
        (["--try", "bolt", "--wanted", "2027-12-01"], "error: --wanted: '2027-12-01'"),
    ],
)
def test_what_is_wrong_with_a_tried_order_is_told_by_the_option(
    data: Path, words: list[str], told: str
) -> None:
    output = tried(data, *words).output
    assert told in output and "spares_orders" not in output


def test_what_is_wrong_with_an_order_in_the_table_is_still_told_by_its_line(data: Path) -> None:
    table = "order,item,quantity,need_date\nR-1,blot,1,2026-12-01\n"
    (data / "spares_orders.csv").write_text(table)
    output = bomkit("kit", data, "--try", "bolt", "--wanted", "2026-12-01").output
    assert (
        "error: spares_orders.csv line 2, column item: 'blot'" in output and "--try" not in output
    )


@pytest.mark.parametrize(
    "words",
    [
        ["--try", "bolt"],
        ["R-1", "--try", "bolt", "--wanted", "2026-12-01"],
        ["R-1"],
        ["R-1", "--serial", "K-1", "--out", "k.xlsx"],
        [],
    ],
)
def test_an_order_is_either_named_or_tried(data: Path, words: list[str]) -> None:
    assert tried(data, *words).exit_code == 2
