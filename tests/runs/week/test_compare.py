"""Two runs are compared: what changed, because of which table, and how nervous the plan is."""

import shutil
from collections.abc import Callable
from pathlib import Path

import openpyxl
import polars as pl
import pytest
from click.testing import CliRunner

from bomkit.cli import main
from bomkit.planning.comparing.moved_forecasts import forecast_days
from bomkit.runs.files.run_files import whole_run
from bomkit.runs.week.compare import comparison
from bomkit.runs.week.plan import Run
from bomkit.words.tell import silent
from tests.once import once
from tests.samples import TINY

Change = Callable[[Path], None]


def planned(folder: Path, change: Change) -> Path:
    """A run of the tiny sample with something changed."""
    data = folder / "data"
    shutil.copytree(TINY, data)
    change(data)
    done = CliRunner().invoke(main, ["plan", str(data), "--out", str(folder / "run")])
    assert done.exit_code == 0, done.output
    return folder / "run"


def without_stock(data: Path) -> None:
    (data / "stock.csv").unlink()


def with_longer_lead_times(data: Path) -> None:
    items = pl.read_csv(data / "items.csv", infer_schema=False)
    longer = pl.col("lead_days").cast(pl.Int64) + 5
    items.with_columns(longer.cast(pl.String)).write_csv(data / "items.csv")


@pytest.fixture(scope="session")
def stockless(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A run of the tiny sample without stock, planned once; not to be changed."""
    return once(tmp_path_factory, "stockless-run", lambda folder: planned(folder, without_stock))


def told(*arguments: object) -> str:
    done = CliRunner().invoke(main, ["compare", *(str(word) for word in arguments)])
    assert done.exit_code == 0, done.output
    return done.output


def test_a_run_compared_with_itself_has_not_changed(tiny_run: Run) -> None:
    output = told(tiny_run.out, tiny_run.out)
    assert "No airframe and no spares order has another day." in output
    assert "No order changed." in output
    assert "that changed: 0 %." in output


def test_what_moved_is_told_with_the_table_that_moved_it(tiny_run: Run, stockless: Path) -> None:
    found = comparison(whole_run(tiny_run.out), whole_run(stockless), silent)
    assert set(found.causes["cause"]) == {"stock"}
    assert [name for name, _ in found.changed_at] == ["stock"]
    assert len(found.moved) > 0
    assert 0 < found.nervousness <= 1


def test_the_parts_of_several_tables_add_up_to_the_whole(tiny_run: Run, tmp_path: Path) -> None:
    def change(data: Path) -> None:
        without_stock(data)
        with_longer_lead_times(data)

    found = comparison(whole_run(tiny_run.out), whole_run(planned(tmp_path, change)), silent)
    assert set(found.causes["cause"]) == {"items", "stock"}
    parts = found.causes.group_by("demand_kind", "demand").agg(pl.col("days").sum())
    whole = found.moved.select("demand_kind", "demand", "days")
    assert parts.filter(pl.col("days") != 0).sort(pl.all()).equals(whole.sort(pl.all()))


def test_the_plans_at_both_ends_are_those_of_the_runs(tiny_run: Run, stockless: Path) -> None:
    run = whole_run(stockless)
    found = comparison(whole_run(tiny_run.out), run, silent)
    days = forecast_days(run.tables["forecast"], run.tables["promises"])
    now = dict(days.select("demand", "day").iter_rows())
    assert all(now[demand] == day for demand, day in found.moved.select("demand", "after").rows())


def test_tables_that_only_fit_together_are_replaced_together(tiny_run: Run, tmp_path: Path) -> None:
    def change(data: Path) -> None:
        with (data / "spares_orders.csv").open() as file:
            head = file.readline().strip().split(",")
        row = dict.fromkeys(head, "") | {
            "order": "SP-NEW",
            "item": "new-part",
            "quantity": "1",
            "need_date": "2026-12-11",
        }
        with (data / "spares_orders.csv").open("a") as file:
            file.write(",".join(row[name] for name in head) + "\n")
        items = pl.read_csv(data / "items.csv", infer_schema=False)
        bought = items.filter(pl.col("source") == "buy").head(1)
        new = bought.with_columns(item=pl.lit("new-part"))
        pl.concat([items, new]).write_csv(data / "items.csv")
        processes = pl.read_csv(data / "processes.csv", infer_schema=False)
        gone = processes["process"][0]
        text = (data / "items.csv").read_text().replace(f",{gone},", ",renamed,")
        (data / "items.csv").write_text(text)
        text = (data / "processes.csv").read_text().replace(gone, "renamed")
        (data / "processes.csv").write_text(text)

    run = whole_run(planned(tmp_path, change))
    found = comparison(whole_run(tiny_run.out), run, silent)
    names = [name for name, _ in found.changed_at]
    assert names[0].startswith("items, ")
    assert "processes" in names[0]
    new = found.moved.filter(pl.col("demand") == "SP-NEW")
    assert new["change"].to_list() == ["new"]


def test_another_choice_of_the_new_run_is_a_step_of_its_own(tiny_run: Run, tmp_path: Path) -> None:
    out = tmp_path / "run"
    plan = ["plan", str(TINY), "--out", str(out), "--no-level"]
    assert CliRunner().invoke(main, plan).exit_code == 0
    found = comparison(whole_run(tiny_run.out), whole_run(out), silent)
    assert [name for name, _ in found.changed_at] == ["options of bomkit plan"]


def test_the_workbook_says_what_the_screen_says(
    tiny_run: Run, stockless: Path, tmp_path: Path
) -> None:
    output = told(tiny_run.out, stockless, "--out", tmp_path / "changed.xlsx")
    book = openpyxl.load_workbook(tmp_path / "changed.xlsx")
    assert book.sheetnames == ["Changed", "Changed orders"]
    cells = [cell for row in book["Changed"].iter_rows(values_only=True) for cell in row if cell]
    sentence = next(line for line in output.splitlines() if line.startswith("Orders:"))
    assert any(str(cell).startswith(sentence) for cell in cells)


def test_a_plan_since_an_earlier_run_tells_what_changed_in_its_overview(
    tiny_run: Run, tmp_path: Path
) -> None:
    data, out = tmp_path / "data", tmp_path / "run"
    shutil.copytree(TINY, data)
    without_stock(data)
    words = ["plan", str(data), "--out", str(out), "--since", str(tiny_run.out)]
    assert CliRunner().invoke(main, words).exit_code == 0
    book = openpyxl.load_workbook(out / "overview.xlsx")
    assert {"Changed", "Changed orders"} <= set(book.sheetnames)
    told(tiny_run.out, out, "--out", tmp_path / "changed.xlsx")
    alone = openpyxl.load_workbook(tmp_path / "changed.xlsx")
    for name in alone.sheetnames:
        cells = list(alone[name].iter_rows(values_only=True))
        assert list(book[name].iter_rows(values_only=True)) == cells


def test_a_plan_without_forecasts_can_not_be_compared(tiny_run: Run, tmp_path: Path) -> None:
    words = ["plan", str(TINY), "--out", str(tmp_path / "run"), "--no-stores"]
    done = CliRunner().invoke(main, [*words, "--since", str(tiny_run.out)])
    assert done.exit_code == 2
    assert not (tmp_path / "run").exists()


def test_a_folder_that_is_no_run_and_a_file_that_is_there_are_refused(
    tiny_run: Run, tmp_path: Path
) -> None:
    done = CliRunner().invoke(main, ["compare", str(TINY), str(tiny_run.out)])
    assert done.exit_code == 1
    assert "is not the folder of a finished run" in done.output
    there = tmp_path / "there.xlsx"
    there.write_bytes(b"mine")
    arguments = ["compare", str(tiny_run.out), str(tiny_run.out), "--out", str(there)]
    assert CliRunner().invoke(main, arguments).exit_code == 1
    assert there.read_bytes() == b"mine"


@pytest.mark.parametrize("name", ["stock", "items"])
def test_inputs_of_a_run_that_are_damaged_are_named(
    name: str, tiny_run: Run, tmp_path: Path
) -> None:
    run = tmp_path / "run"
    shutil.copytree(tiny_run.out, run)
    (run / "inputs" / f"{name}.parquet").write_bytes(b"")
    done = CliRunner().invoke(main, ["compare", str(tiny_run.out), str(run)])
    assert done.exit_code == 1
    assert f"{name}.parquet" in done.output
