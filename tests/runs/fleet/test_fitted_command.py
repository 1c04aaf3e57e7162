"""Which aircraft carry a lot, an item or a part, as the commands show it."""

from pathlib import Path

import pytest
from click.testing import Result

from tests.commands import bomkit, written

TABLES = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\n",
    "items.csv": "item,source,unit,lead_days\nkelto,make,pc,2\nhose,buy,pc,1\nski,buy,pc,1\n",
    "structure.csv": "parent,child,quantity,with_option\nkelto,hose,2,\nkelto,ski,2,SKIS\n",
    "build_plan.csv": "serial,item,ready_date,options\nK-9,kelto,2026-12-15,SKIS\n",
    "fleet.csv": "serial,item,options,base,customer\nK-1,kelto,SKIS,Northwater,Reed Air Club\n"
    "K-2,kelto,,Southwater,\nK-3,kelto,,Eastwater,\nK-4,kelto,,Westwater,\n",
    "spares_orders.csv": "order,item,quantity,need_date,serial,customer\n"
    "S-1,hose,1,2026-12-10,K-2,owner at Southwater\n",
    "fitted.csv": "serial,item,lot,part_serial,date\nK-1,hose,A7-2405,,2024-05-02\n"
    "K-2,hose,A7-2405,H-12,2024-06-03\nK-3,hose,B1,H-13,2024-07-04\nK-4,hose,,H-14,2024-08-05\n",
}


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return written(tmp_path, TABLES)


def parts(result: Result) -> tuple[list[str], list[str]]:
    """The aircraft listed as recorded, and those without a record that tells."""
    assert result.exit_code == 0, result.output
    above, _, below = result.output.partition("▲")
    rows = ([line.split()[0] for line in half.splitlines() if line.startswith("  ")]
            for half in (above, below))  # fmt: skip
    return next(rows), next(rows)


def test_a_lot_is_found_with_base_and_customer(data: Path) -> None:
    result = bomkit("fitted", data, "--lot", "A7-2405")
    assert "K-1" in result.output and "Northwater" in result.output
    assert "Reed Air Club" in result.output
    # fleet names no customer of K-2: whoever ordered spares for it last
    assert "owner at Southwater" in result.output
    assert "licensed staff rule" in result.output


def test_an_aircraft_whose_record_names_no_lot_is_not_taken_for_one_without_it(data: Path) -> None:
    assert parts(bomkit("fitted", data, "--lot", "A7-2405")) == (["K-1", "K-2"], ["K-4"])


def test_an_item_lists_every_record_and_a_part_its_own(data: Path) -> None:
    assert parts(bomkit("fitted", data, "--item", "hose")) == (["K-1", "K-2", "K-3", "K-4"], [])
    assert parts(bomkit("fitted", data, "--part-serial", "H-13")) == (["K-3"], ["K-1"])


def test_an_item_without_any_record_is_named_for_all_that_have_it(data: Path) -> None:
    assert parts(bomkit("fitted", data, "--item", "ski")) == ([], ["K-1"])


def test_a_lot_that_is_only_in_stock_asks_for_its_item(data: Path) -> None:
    (data / "stock.csv").write_text("item,quantity,lot\nhose,3,C2\n")
    assert parts(bomkit("fitted", data, "--lot", "C2")) == ([], ["K-4"])


def test_what_no_table_knows_is_refused_with_the_nearest(data: Path) -> None:
    result = bomkit("fitted", data, "--lot", "A7-2406")
    assert result.exit_code == 1
    assert (
        "'A7-2406' is no lot that any table knows" in result.output and "A7-2405" in result.output
    )
    assert bomkit("fitted", data).exit_code == 2


def test_a_row_without_lot_and_number_is_an_error(data: Path) -> None:
    (data / "fitted.csv").write_text("serial,item,lot,part_serial\nK-1,hose,,\n")
    result = bomkit("check", data)
    assert result.exit_code == 1 and "fitted.csv line 2, column lot" in result.output


def test_the_tree_names_the_aircraft_on_the_line_and_delivered(data: Path) -> None:
    result = bomkit("tree", data, "ski", "--up", "--serials")
    line, _, fleet = result.output.partition("Delivered, with ski")
    assert "K-9" in line and "K-1" not in line
    assert "K-1" in fleet and "K-2" not in fleet and "K-9" not in fleet
    assert bomkit("tree", data, "ski", "--serials").exit_code == 2
