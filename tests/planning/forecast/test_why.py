"""Why an item is ordered: up to airframes and spares orders, and down to what comes too late."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import polars as pl
import pytest
from anytree import Node, PreOrderIter

from bomkit.planning.forecast.why import reason
from bomkit.runs.files.run_files import finished_run
from bomkit.runs.week.plan import Run
from tests.commands import bomkit


@pytest.fixture
def full(full_run: Run) -> Path:
    """A finished run of the full-size sample."""
    return full_run.out


@pytest.fixture
def tiny(tiny_run: Run) -> Path:
    """A finished run of the tiny sample."""
    return tiny_run.out


def written(tmp_path: Path, top: str, source: str) -> Path:
    """A folder with an item of a source that takes two bought caps, and no airframes."""
    data = tmp_path / "data"
    data.mkdir()
    (data / "plan.toml").write_text("start = 2026-11-30\nhorizon_weeks = 3\n")
    items = f"item,source,unit,lead_days\n{top},{source},pc,1\ncap,buy,pc,4\n"
    (data / "items.csv").write_text(items)
    (data / "structure.csv").write_text(f"parent,child,quantity\n{top},cap,2\n")
    (data / "build_plan.csv").write_text("serial,item,ready_date\n")
    return data


def branches(top: Node) -> Iterator[Node]:
    """Every node below the top."""
    yield from (node for node in PreOrderIter(top) if node is not top)


def test_every_branch_upwards_ends_at_an_airframe_or_spares_order_or_was_shown_before(
    full: Path,
) -> None:
    _, tables = finished_run(full)
    found = reason(tables, "WG101L", "", 1_000_000)
    outside = set(tables["forecast"]["demand"])
    ends = [node for node in branches(found.upwards) if node.is_leaf and not node.is_supply]
    assert ends
    for node in ends:
        assert node.seen or node.peg["demand"] in outside


def test_the_quantities_upwards_are_those_that_are_needed(full: Path) -> None:
    _, tables = finished_run(full)
    found = reason(tables, "WG101L", "", 1_000_000)
    shown = sum(node.peg["quantity"] for node in branches(found.upwards) if node.depth == 2)
    needed = tables["needs"].filter(pl.col("item") == "WG101L")["quantity"].sum()
    assert shown == pytest.approx(needed)


def test_downwards_are_only_the_components_that_come_too_late(full: Path) -> None:
    _, tables = finished_run(full)
    found = reason(tables, "WG001L", "FN-064", 1_000_000)
    lower = [node for node in branches(found.downwards) if node.depth > 1]
    assert [node.peg["item"] for node in lower] == ["WG010L", "WG101L", "WG401L"]
    assert all(node.peg["late_days"] > 0 for node in lower)


def test_a_few_branches_are_shown_and_the_others_counted(full: Path) -> None:
    few, every = bomkit("why", full, "MA301"), bomkit("why", full, "MA301", "--all")
    assert few.exit_code == every.exit_code == 0
    assert len(few.output.splitlines()) < 90 < len(every.output.splitlines())
    assert "more (--all)" in few.output and "more (--all)" not in every.output


def test_a_serial_shows_only_what_is_for_it(full: Path) -> None:
    lines = bomkit("why", full, "TL708", "--serial", "FN-066").output
    assert "FN-066, wanted 2027-01-29" in lines
    assert "FN-069" not in lines


def test_the_tiny_sample_says_for_whom_the_mounts_are(tiny: Path) -> None:
    lines = bomkit("why", tiny, "lamp-mount").output
    assert "print-0001, lamp-mount: 2 pc from 2026-12-01, due 2026-12-02" in lines
    assert "spares S-031 (grounded)" in lines and "T-022, wanted" in lines


def test_unknown_names_are_told_with_the_nearest_known_one(tiny: Path) -> None:
    result = bomkit("why", tiny, "lamp-mout", "--serial", "T-02")
    assert result.exit_code == 1
    assert "'lamp-mout' is no item of this run; did you mean lamp-mount?" in result.output
    assert "'T-02' is no serial of this run" in result.output


@pytest.mark.parametrize("spoil", ["no run", "broken run.json", "table gone", "table broken"])
def test_a_folder_that_is_no_finished_run_is_told_as_such(
    tmp_path: Path, tiny: Path, spoil: str
) -> None:
    run = tmp_path / "out"
    if spoil == "no run":
        run.mkdir()
    else:
        shutil.copytree(tiny, run)
    if spoil == "broken run.json":
        (run / "run.json").write_text("[]")
    if spoil == "table gone":
        (run / "tables" / "pegs.parquet").unlink()
    if spoil == "table broken":
        (run / "tables" / "pegs.parquet").write_bytes(b"no table")
    result = bomkit("why", run, "rudder")
    assert result.exit_code == 1
    assert isinstance(result.exception, SystemExit)
    assert "error:" in result.output


def test_a_folder_that_is_not_there_is_wrong_usage() -> None:
    assert bomkit("why", "no/such/run", "rudder").exit_code == 2


def test_an_item_that_nobody_needs_says_so(full: Path) -> None:
    assert "Nobody needs it" in bomkit("why", full, "HW197").output


def test_a_spares_order_with_the_name_of_a_planned_one_is_not_taken_for_it(tmp_path: Path) -> None:
    data = written(tmp_path, "kit", "kit")
    (data / "spares_orders.csv").write_text(
        "order,item,quantity,need_date\nbuy-0001,kit,1,2026-12-01\n"
    )
    assert bomkit("plan", data, "--out", tmp_path / "out").exit_code == 0
    lines = bomkit("why", tmp_path / "out", "cap").output
    assert "spares buy-0001, wanted 2026-12-01" in lines
    lines = bomkit("why", tmp_path / "out", "kit").output
    assert "spares buy-0001, wanted" in lines and "see above" not in lines


def test_two_aircraft_of_one_order_are_told_apart(tmp_path: Path) -> None:
    data = written(tmp_path, "boat", "make")
    (data / "fleet.csv").write_text("serial,item\nA-1,boat\nA-2,boat\n")
    (data / "spares_orders.csv").write_text(
        "order,item,quantity,need_date,serial\nS,cap,1,2026-12-01,A-1\nS,cap,1,2026-12-10,A-2\n"
    )
    assert bomkit("plan", data, "--out", tmp_path / "out").exit_code == 0
    lines = bomkit("why", tmp_path / "out", "cap").output
    assert "wanted 2026-12-01, forecast 2026-12-04" in lines
    assert "wanted 2026-12-10\n" in lines
