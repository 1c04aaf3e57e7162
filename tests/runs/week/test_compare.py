"""Two runs are compared: what changed, because of which table, and how nervous the plan is."""

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest
from click.testing import CliRunner

import bomkit
from bomkit.cli import main
from bomkit.planning.comparing.moved_forecasts import forecast_days
from bomkit.planning.netting.too_much import TooMuch
from bomkit.runs.files.run_files import FinishedRun, whole_run
from bomkit.runs.files.versions import versions
from bomkit.runs.week import compare
from bomkit.runs.week.compare import comparison
from bomkit.runs.week.plan import Run, weekly_run
from bomkit.screens.compare import compare_lines
from bomkit.words.progress import silent
from bomkit.workbooks.compare import caused_by, compare_sheets, orders_by_step
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


@pytest.fixture(scope="session")
def stockless_and_slow(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A run of the tiny sample without stock and with longer lead times, planned once."""

    def change(data: Path) -> None:
        without_stock(data)
        with_longer_lead_times(data)

    return once(tmp_path_factory, "slow-run", lambda folder: planned(folder, change))


@pytest.fixture
def plans(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Grows by a word whenever a comparison plans."""
    made = []
    whole_plan = compare.whole_plan

    def counted(*arguments: Any) -> Any:
        made.append("plan")
        return whole_plan(*arguments)

    monkeypatch.setattr(compare, "whole_plan", counted)
    return made


def with_tables(run: FinishedRun, **tables: pl.DataFrame) -> FinishedRun:
    """A run with some other tables to plan."""
    return replace(run, inputs=run.inputs | tables)


def of_other_things(run: FinishedRun) -> FinishedRun:
    """A run with other items, and so other airframes."""
    other = pl.lit("other ") + pl.col("item")
    tables = ("items", "build_plan", "fleet")
    return with_tables(run, **{name: run.inputs[name].with_columns(item=other) for name in tables})


def with_one_larger_order(run: FinishedRun) -> FinishedRun:
    """A run with an order that no plan of its tables gives."""
    orders = run.tables["orders"]
    more = pl.when(pl.int_range(pl.len()) == 0).then(1000.0).otherwise(0.0)
    changed = orders.with_columns(quantity=pl.col("quantity") + more)
    return replace(run, tables=run.tables | {"orders": changed})


def by_another_version(run: Path, folder: Path, of: str) -> Path:
    """A copy of a run that was made with an earlier version of something."""
    copy = folder / "earlier-version"
    shutil.copytree(run, copy)
    said = json.loads((copy / "run.json").read_text())
    said["versions"][of] = "0.0.1"
    (copy / "run.json").write_text(json.dumps(said))
    return copy


def test_plans_of_different_things_are_compared_without_planning_and_that_is_said(
    tiny_run: Run, plans: list[str]
) -> None:
    run = whole_run(tiny_run.out)
    found = comparison(run, of_other_things(run), silent)
    count = len(run.inputs["items"])
    assert found.apart.startswith("These are plans of different things: no airframe is in both")
    assert f"0 items are, of {count} in the old run and {count} in the new one" in found.apart
    assert (len(found.causes), list(found.changed_at), plans) == (0, [], [])
    assert found.apart in compare_sheets(found)[0].notes


def test_plans_of_the_same_things_say_nothing_about_different_things(
    tiny_run: Run, stockless: Path
) -> None:
    found = comparison(whole_run(tiny_run.out), whole_run(stockless), silent)
    assert found.apart == ""
    assert "different things" not in told(tiny_run.out, stockless)


def test_the_screen_says_that_plans_are_of_different_things_and_names_no_cause(
    tiny_run: Run, stockless: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    runs = {stockless: of_other_things(whole_run(stockless))}
    monkeypatch.setattr(compare, "whole_run", lambda run: runs.get(run) or whole_run(run))
    lines = told(tiny_run.out, stockless).splitlines()
    assert lines[1].startswith("These are plans of different things")
    assert not any("Because of" in line or "with the new" in line for line in lines)


def test_runs_of_this_version_that_differ_in_one_table_are_not_planned_again(
    tiny_run: Run, stockless: Path, plans: list[str]
) -> None:
    assert "orders changed with the new stock" in told(tiny_run.out, stockless)
    assert plans == []


def test_a_run_of_the_same_tables_and_choices_says_what_the_old_one_would_be_now(
    tiny_run: Run, plans: list[str]
) -> None:
    run = whole_run(tiny_run.out)
    found = comparison(with_one_larger_order(run), run, silent)
    assert list(found.changed_at) == [("another version of bomkit", 1)]
    assert plans == []


def test_tables_and_choices_that_both_changed_are_told_apart(
    tiny_run: Run, stockless: Path, plans: list[str]
) -> None:
    after = whole_run(stockless)
    chosen = replace(after, chosen=after.chosen | {"level": False})
    found = comparison(whole_run(tiny_run.out), chosen, silent, True)
    assert [name for name, _ in found.changed_at] == ["stock", "options of bomkit plan"]
    assert plans == ["plan"]
    run = whole_run(tiny_run.out)
    chosen = replace(run, chosen=run.chosen | {"level": False})
    found = comparison(with_one_larger_order(run), chosen, silent)
    assert list(found.changed_at) == [
        ("another version of bomkit", 1),
        ("options of bomkit plan", 0),
    ]


def test_a_table_whose_rows_stand_in_another_order_has_not_changed(tiny_run: Run) -> None:
    run = whole_run(tiny_run.out)
    turned = with_tables(run, items=run.inputs["items"].reverse())
    assert list(comparison(run, turned, silent, True).changed_at) == []


def test_of_two_tables_that_changed_only_the_first_is_planned_with(
    tiny_run: Run, stockless_and_slow: Path, plans: list[str]
) -> None:
    output = told(tiny_run.out, stockless_and_slow)
    assert output.index("with the new items") < output.index("with the new stock")
    assert plans == ["plan"]


def test_a_table_that_no_order_and_no_day_depends_on_is_told_but_not_planned_with(
    tiny_run: Run, stockless: Path, plans: list[str]
) -> None:
    before, after = whole_run(tiny_run.out), whole_run(stockless)
    suppliers = before.inputs["suppliers"].with_columns(payment_days=90)
    bare = with_tables(before, suppliers=suppliers.head(0))
    found = comparison(bare, with_tables(bare, suppliers=suppliers), silent, True, False)
    assert (list(found.changed_at), plans) == ([("suppliers", 0)], [])
    found = comparison(bare, with_tables(after, suppliers=suppliers), silent, True, False)
    assert [name for name, _ in found.changed_at] == ["stock", "suppliers"]
    assert len(plans) == 1


def test_a_table_after_which_nothing_changes_any_order_or_day_is_not_planned_with(
    tiny_run: Run, stockless: Path, plans: list[str]
) -> None:
    before, after = whole_run(tiny_run.out), whole_run(stockless)
    suppliers = after.inputs["suppliers"].with_columns(payment_days=90)
    found = comparison(before, with_tables(after, suppliers=suppliers), silent, True)
    (stock, some), last = found.changed_at
    assert (stock, some > 0, last) == ("stock", True, ("suppliers", 0))
    assert plans == []
    found = comparison(before, with_tables(before, suppliers=suppliers), silent)
    assert (list(found.changed_at), plans) == ([("suppliers", 0)], [])


def test_what_another_version_of_bomkit_does_is_told_apart_from_what_a_table_does(
    tiny_run: Run, stockless: Path, plans: list[str]
) -> None:
    before, after = whole_run(tiny_run.out), whole_run(stockless)
    found = comparison(with_one_larger_order(before), after, silent)
    assert [name for name, _ in found.changed_at] == ["another version of bomkit", "stock"]
    assert next(orders_by_step(found)) == "     1 order changed with another version of bomkit"
    assert len(plans) == 1
    found = comparison(before, with_one_larger_order(after), silent, True, False)
    assert [name for name, _ in found.changed_at] == ["stock", "another version of bomkit"]


@pytest.mark.parametrize("of", ["bomkit", "polars", "rules"])
def test_a_run_that_other_versions_made_is_planned_again_and_that_is_said_in_plain_words(
    of: str, tiny_run: Run, stockless: Path, tmp_path: Path, plans: list[str]
) -> None:
    earlier = by_another_version(tiny_run.out, tmp_path, of)
    assert compare.planned_now(tiny_run.out)
    assert not compare.planned_now(earlier)
    told(earlier, stockless)
    assert plans == ["plan"]
    told(stockless, earlier)
    assert len(plans) == 2
    words: list[str] = []
    comparison(whole_run(earlier), whole_run(stockless), words.append)
    assert words == ["planning the tables of the old run again, with the bomkit there is now"]


def test_a_plan_since_a_run_speaks_of_no_new_another_version(
    stockless: Path, tmp_path: Path
) -> None:
    earlier, words = by_another_version(stockless, tmp_path, "rules"), list[str]()
    weekly_run(TINY, tmp_path / "run", False, words.append, since=earlier)
    assert any(line.startswith("planning the tables of the old run again") for line in words)
    assert not any("another version" in line for line in words)


def test_a_plan_since_a_run_by_the_same_rules_plans_that_one_no_more(
    stockless: Path, tmp_path: Path
) -> None:
    words: list[str] = []
    weekly_run(TINY, tmp_path / "run", False, words.append, since=stockless)
    assert not any("again" in line for line in words)


def test_the_rules_are_told_apart_by_every_module_and_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("planning", "tables"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "rule.py").write_text("1")
    (tmp_path / "units.py").write_text("1")
    monkeypatch.setattr(bomkit, "__file__", str(tmp_path / "__init__.py"))
    seen = {versions.__wrapped__()["rules"]}
    for change in ("planning/rule.py", "tables/rule.py", "units.py", "planning/more.py"):
        (tmp_path / change).write_text("2")
        seen.add(versions.__wrapped__()["rules"])
    (tmp_path / "planning" / "more.py").rename(tmp_path / "planning" / "other.py")
    seen.add(versions.__wrapped__()["rules"])
    (tmp_path / "screens.py").write_text("what is printed is no rule")
    assert len(seen | {versions.__wrapped__()["rules"]}) == 6


def test_tables_that_ask_for_too_much_are_named_with_those_that_make_it_good(
    tiny_run: Run, stockless_and_slow: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: Any) -> Any:
        raise TooMuch("rudder")

    monkeypatch.setattr(compare, "whole_plan", refused)
    before, after = whole_run(tiny_run.out), whole_run(stockless_and_slow)
    words: list[str] = []
    found = comparison(before, after, words.append, True)
    assert [name for name, _ in found.changed_at] == ["items, stock"]
    assert set(found.causes["cause"]) == {"items and stock"}
    flown = after.inputs["fleet"].with_columns(hours=900.0)
    found = comparison(before, with_tables(after, fleet=flown), words.append, True)
    assert [name for name, _ in found.changed_at] == ["items, stock, fleet"]
    assert set(found.causes["cause"]) == {"items and 2 more"}
    assert all("items and 2 more" in why for why in caused_by(found).values())
    assert words[-1] == "planning with the new items, stock"


def test_the_settings_of_the_plan_are_called_so(tiny_run: Run) -> None:
    run = whole_run(tiny_run.out)
    other = with_tables(run, plan=run.inputs["plan"].with_columns(title=pl.lit("Other")))
    assert list(comparison(run, other, silent, True).changed_at) == [("plan settings", 0)]


def test_the_screen_says_what_its_columns_and_its_orders_are(
    tiny_run: Run, stockless: Path
) -> None:
    lines = told(tiny_run.out, stockless).splitlines()
    names = [whole_run(run).run_id for run in (stockless, tiny_run.out)]
    assert lines[0] == f"run {names[0]} compared with the old run {names[1]}"
    assert lines[2].split() == ["For", "Change", "Was", "Is", "now", "Days", "Because", "of"]
    first = lines[3]
    assert lines[2].index("Because of") == first.index("stock")
    assert lines[2].index("Was") == first.index(first.split()[4])
    assert lines[2].index("Is now") == first.index(first.split()[5])
    assert any(line.startswith("Orders are those that the plan proposes") for line in lines)


def test_an_airframe_that_is_not_planned_any_more_is_said_to_be_no_longer_in_the_plan(
    tiny_run: Run,
) -> None:
    run = whole_run(tiny_run.out)
    gone = {name: run.tables[name].clear() for name in ("forecast", "promises")}
    without = replace(run, tables=run.tables | gone)
    for before, after, words in (
        (run, without, "no longer in the plan"),
        (without, run, "new in the plan"),
    ):
        found = comparison(before, after, silent, True)
        assert compare_sheets(found)[0].lines[0].cells[2] == (words, "text")
        assert words in list(compare_lines(found))[3]


def test_tables_with_which_no_order_changed_are_named_in_one_sentence_at_the_end(
    tiny_run: Run, stockless: Path
) -> None:
    found = comparison(whole_run(tiny_run.out), whole_run(stockless), silent)
    steps = [("plan settings", 0), ("items", 1), ("stock", 20), ("prices", 0)]
    assert list(orders_by_step(replace(found, changed_at=steps))) == [
        "     1 order changed with the new items",
        "    20 orders changed with the new stock",
        "    no order changed with the new plan settings, prices",
    ]
