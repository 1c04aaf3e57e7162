"""The commands as a person types them: what they print, write and return."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import polars as pl
import pytest

from bomkit.runs.week.plan import Run
from tests.commands import bomkit, written
from tests.samples import FENLARK as FULL
from tests.samples import SAMPLES, TINY


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A copy of the tiny sample that may be spoiled."""
    return Path(shutil.copytree(TINY, tmp_path / "data"))


def spoil(path: Path, old: str, new: str) -> None:
    """Changes a file's text; the old text must be there."""
    words = path.read_text()
    assert old in words
    path.write_text(words.replace(old, new, 1))


@pytest.mark.parametrize("sample", [TINY, FULL], ids=["tiny", "full"])
def test_the_samples_are_clean(sample: Path) -> None:
    result = bomkit("check", sample)
    assert result.exit_code == 0, result.output
    assert "no problems found" in result.output


def test_check_tells_every_problem_with_file_line_column_and_value(data: Path) -> None:
    spoil(data / "items.csv", "rudder-skin,", "rudder-skim,")
    spoil(data / "plan.toml", "horizon_weeks = 6", "horizon_weeks = 0")
    result = bomkit("check", data)
    assert result.exit_code == 1
    assert "plan.toml" in result.output and "horizon_weeks" in result.output
    assert "structure.csv line" in result.output
    assert "'rudder-skin'" in result.output and "rudder-skim" in result.output


def test_a_kit_that_does_not_fit_the_aircraft_is_named() -> None:
    result = bomkit("check", SAMPLES / "wrong_kit")
    assert result.exit_code == 1
    readme = (SAMPLES / "wrong_kit" / "README.md").read_text()
    assert result.output and result.output in readme
    assert "'KIT-BUSH' does not fit GU-009" in result.output
    assert "GU-007" not in result.output


def test_a_loop_is_named_as_a_whole(data: Path) -> None:
    structure = data / "structure.csv"
    heading = structure.read_text().splitlines()[0].split(",")
    cells = {"parent": "hardware-set", "child": "tail-unit", "quantity": "1"}
    row = ",".join(cells.get(name, "") for name in heading)
    structure.write_text(structure.read_text() + row + "\n")
    result = bomkit("check", data)
    assert result.exit_code == 1
    assert "the loop is" in result.output
    assert "hardware-set -> tail-unit" in result.output


@pytest.mark.parametrize(
    "words",
    [
        ("check", "no/such/folder"),
        ("plan", str(TINY)),
        ("plan", str(TINY), "--out"),
        ("chek", str(TINY)),
        ("tree", str(TINY)),
    ],
)
def test_wrong_usage_ends_with_2(words: tuple[str, ...]) -> None:
    assert bomkit(*words).exit_code == 2


def test_a_folder_without_tables_is_a_problem_of_the_data(tmp_path: Path) -> None:
    result = bomkit("check", tmp_path)
    assert result.exit_code == 1
    assert "items.csv" in result.output


def test_plan_prints_the_orders_of_each_week_and_the_latest(tmp_path: Path) -> None:
    result = bomkit("plan", TINY, "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    assert "15 planned orders" in result.output
    assert "2026-W49" in result.output
    assert "3 working days  make-0002  rudder-skin" in result.output


def test_plan_of_bad_data_writes_nothing(data: Path, tmp_path: Path) -> None:
    spoil(data / "plan.toml", "horizon_weeks = 6", "horizon_weeks = -1")
    result = bomkit("plan", data, "--out", tmp_path / "place" / "out")
    assert result.exit_code == 1
    assert "nothing was written" in result.output
    assert not (tmp_path / "place").exists()


def test_an_earlier_run_stays_unless_asked(tmp_path: Path, tiny_run: Run) -> None:
    out = Path(shutil.copytree(tiny_run.out, tmp_path / "out"))
    before = (out / "run.json").read_bytes()
    (out / "mine.txt").write_text("a note")
    refused = bomkit("plan", TINY, "--out", out)
    assert refused.exit_code == 1 and "--replace" in refused.output
    assert (out / "mine.txt").exists() and (out / "run.json").read_bytes() == before
    (out / "mine.txt").unlink()
    assert bomkit("plan", TINY, "--out", out, "--replace").exit_code == 0
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("replace", [False, True])
def test_a_folder_that_is_no_run_is_never_replaced(tmp_path: Path, replace: bool) -> None:
    (tmp_path / "letter.txt").write_text("dear")
    words = ["plan", TINY, "--out", tmp_path, *(["--replace"] if replace else [])]
    result = bomkit(*words)
    assert result.exit_code == 1
    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]


def test_a_run_that_is_killed_while_writing_leaves_the_earlier_one(
    data: Path, tmp_path: Path, tiny_run: Run
) -> None:
    out = Path(shutil.copytree(tiny_run.out, tmp_path / "out"))
    # lists of so many weeks take seconds to write
    spoil(data / "plan.toml", "horizon_weeks = 6", "horizon_weeks = 40")
    spoil(data / "plan.toml", "list_weeks = 2", "list_weeks = 26")
    before = {path: path.stat().st_mtime_ns for path in out.rglob("*")}
    words = [sys.executable, "-m", "bomkit", "plan", data, "--out", out, "--replace"]
    running = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        until = time.monotonic() + 60
        while not list(tmp_path.glob(".out.unfinished-*/*")):
            assert running.poll() is None and time.monotonic() < until
            time.sleep(0.005)
    finally:
        os.kill(running.pid, signal.SIGKILL)
        running.wait()
    assert {path: path.stat().st_mtime_ns for path in out.rglob("*")} == before


def test_a_roundabout_path_leaves_nothing_behind(tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    result = bomkit("plan", TINY, "--out", tmp_path / "data" / "x" / ".." / ".." / "out")
    assert result.exit_code == 0, result.output
    assert (tmp_path / "out" / "run.json").exists()
    assert not list((tmp_path / "data").iterdir())


def test_counts_are_told_in_the_singular_and_the_plural(data: Path) -> None:
    spoil(data / "plan.toml", "horizon_weeks = 6", "horizon_weeks = 0")
    assert "1 error, 0 warnings" in bomkit("check", data).output


def test_result_tables_hold_the_declared_columns(tiny_run: Run) -> None:
    from bomkit.tables.results.by_name import RESULTS

    for name, table in RESULTS.items():
        frame = pl.read_parquet(tiny_run.out / "tables" / f"{name}.parquet")
        assert frame.columns == list(table.column_names)
        assert dict(frame.schema) == table.schema


def test_tree_shows_the_indented_structure_of_one_airframe() -> None:
    everything = bomkit("tree", TINY, "tail-unit")
    assert everything.exit_code == 0, everything.output
    assert everything.output.splitlines()[0].startswith("tail-unit")
    assert "resin" in everything.output
    one = bomkit("tree", TINY, "tail-unit", "--serial", "T-021")
    assert one.exit_code == 0
    assert len(one.output.splitlines()) < len(everything.output.splitlines())


def test_tree_up_shows_where_an_item_is_used() -> None:
    result = bomkit("tree", TINY, "resin", "--up")
    assert result.exit_code == 0
    assert result.output.splitlines()[0].startswith("resin")
    assert "tail-unit" in result.output


def test_tree_of_an_unknown_item_suggests_the_nearest() -> None:
    result = bomkit("tree", TINY, "resim")
    assert result.exit_code == 1
    assert "did you mean resin?" in result.output


def test_tree_says_where_it_stops() -> None:
    result = bomkit("tree", TINY, "tail-unit", "--depth", "1")
    assert "more lines below, not shown" in result.output


def test_template_writes_tables_that_read_back_and_overwrites_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    assert bomkit("template", folder).exit_code == 0
    assert (folder / "items.csv").exists() and (folder / "plan.toml").exists()
    assert "Traceback" not in bomkit("check", folder).output
    (folder / "items.csv").write_text("item\nmine\n")
    again = bomkit("template", folder)
    assert again.exit_code == 1
    assert (folder / "items.csv").read_text() == "item\nmine\n"


def test_tree_rolls_up_the_mass_of_one_serial(data: Path) -> None:
    result = bomkit("tree", data, "rudder", "--serial", "T-007", "--roll", "mass")
    assert result.exit_code == 0
    # 480 g of resin in two skins, 45 g in the hardware set, and 45 g of filament in the mount
    assert "Mass of one rudder for T-007, without scrap and waste: 0.570 kg" in result.output
    assert "without a mass, counted as nothing: glass-cloth, screw-new" in result.output


def test_tree_holds_the_mass_of_an_airframe_against_the_limit(data: Path) -> None:
    with (data / "plan.toml").open("a") as settings:
        settings.write("mass_limit_kg = 0.5\n")
    result = bomkit("tree", data, "tail-unit", "--serial", "T-007", "--roll", "mass")
    assert "▲ Limit of the empty mass 0.5 kg: 0.1 kg over" in result.output
    assert "documents rule" in result.output
    checked = bomkit("check", data)
    assert checked.exit_code == 0 and "over the limit of 0.5 kg" in checked.output


def test_tree_asks_for_a_serial_where_the_sum_depends_on_it(data: Path) -> None:
    result = bomkit("tree", data, "rudder", "--roll", "hours")
    assert result.exit_code == 1 and "--serial" in result.output
    assert bomkit("tree", data, "rudder-skin", "--roll", "hours").exit_code == 0


def test_tree_says_over_which_lots_it_spread_what_an_order_takes_once(data: Path) -> None:
    usual = bomkit("tree", data, "rudder-skin", "--roll", "hours").output
    smallest = bomkit("tree", data, "rudder-skin", "--roll", "hours", "--lots", "smallest").output
    assert "over the mean lot planned in the horizon" in usual
    assert "over the smallest order there may be" in smallest
    assert "order takes once" not in bomkit("tree", data, "resin", "--roll", "mass").output


def test_tree_rolls_down_only(data: Path) -> None:
    assert bomkit("tree", data, "resin", "--up", "--roll", "cost").exit_code == 2


TIGHT = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\npull_ahead_weeks = 2\n",
    "items.csv": "item,source,process,unit,lead_days,hours_each\n"
    "KELTO,make,,pc,1,\nSKIN,make,lay-up,pc,1,5\nCLOTH,buy,,m2,,\n",
    "structure.csv": "parent,child,quantity\nKELTO,SKIN,3\nSKIN,CLOTH,2\n",
    "build_plan.csv": "serial,item,ready_date\nKL-1,KELTO,2026-12-24\n",
    "processes.csv": "process,hours_per_week\nlay-up,10\n",
}


def test_plan_levels_if_the_settings_say_so_unless_told_not_to(tmp_path: Path) -> None:
    data = tmp_path / "data"
    written(data, TIGHT)
    for number, words in enumerate(((), ("--no-level",))):
        out = tmp_path / f"run{number}"
        result = bomkit("plan", data, "--out", out, *words)
        assert result.exit_code == 0, result.output
        assert ("pulled forward" in result.output) == (not words)
        loads = pl.read_parquet(out / "tables" / "loads.parquet")
        assert loads["hours_before"].to_list() == [0, 0, 0, 15]
        assert loads["hours"].to_list() == ([0, 0, 0, 15] if words else [0, 0, 5, 10])


def test_rate_names_what_gives_way_first_and_what_one_more_buys(tmp_path: Path) -> None:
    data, out = tmp_path / "data", tmp_path / "study.xlsx"
    written(data, TIGHT)
    asked = ("rate", data, "--per-month", "2", "--per-month", "3", "--out", out)
    result = bomkit(*asked)
    assert result.exit_code == 0, result.output
    # 15 hours an airframe, 10 hours a week: 2.9 a month
    assert "lay-up" in result.output and "First to give way: lay-up, above 2." in result.output
    assert "40 hours a week more in lay-up carry to 1" in result.output
    assert out.is_file()
    again = bomkit(*asked)
    assert again.exit_code == 1 and "--replace" in again.output
    assert bomkit("rate", data, "--out", out).exit_code == 2
    assert bomkit("rate", data, "--per-month", "0").exit_code == 2


@pytest.mark.parametrize("option", ["--assure", "--budget", "--mass-kg"])
@pytest.mark.parametrize("value", ["nan", "inf"])
def test_spares_refuse_what_is_no_finite_number(tmp_path: Path, option: str, value: str) -> None:
    result = bomkit("spares", FULL, "--out", tmp_path / "s.xlsx", option, value)
    assert result.exit_code == 2
    assert not (tmp_path / "s.xlsx").exists()


def test_a_fresh_template_is_checked_without_a_warning_of_the_programs_own(tmp_path: Path) -> None:
    assert bomkit("template", tmp_path / "new").exit_code == 0
    command = [sys.executable, "-W", "error", "-m", "bomkit", "check", str(tmp_path / "new")]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (told.returncode, told.stderr) == (1, "")
    assert "plan.toml, column start: must not be empty" in told.stdout


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('rudder-skin,"Rudder skin, laid up",make,lay-up,pc,3,,', "0.9999999999999999"),
        ('resin,"Resin, mixed weight",buy,,kg,5,2,,,', "0.000000001"),
        ('screw-new,"Screw, new head",buy,,pc,8,1,,', "1000000000"),
    ],
)
def test_lots_of_more_pieces_or_multiples_than_are_told_apart_are_refused(
    data: Path, tmp_path: Path, old: str, new: str
) -> None:
    items = (data / "items.csv").read_text()
    start = items.index(old) + len(old)
    end = min(items.index(mark, start) for mark in ",\n")
    (data / "items.csv").write_text(items[:start] + new + items[end:])
    if "resin" in old:  # few in pieces, many in multiples
        spoil(data / "structure.csv", "rudder-skin,resin,240,g", "rudder-skin,resin,100000000,kg")
    if "screw" in old:
        spoil(data / "items.csv", "1000000000,4", "1000000000,0.00000001")
    for words in (["check", data], ["plan", data, "--out", tmp_path / "out"]):
        result = bomkit(*words)
        assert result.exit_code == 1 and "than can be counted" in result.output


def test_check_finds_what_would_stop_the_plan(data: Path, tmp_path: Path) -> None:
    for name, old, new in (
        ("structure.csv", "tail-unit,rudder,1", "tail-unit,rudder,900000000"),
        ("structure.csv", "rudder,rudder-skin,2", "rudder,rudder-skin,900000000"),
    ):
        spoil(data / name, old, new)
    for words in (["check", data], ["plan", data, "--out", tmp_path / "out"]):
        result = bomkit(*words)
        assert result.exit_code == 1
        assert "than can be counted" in result.output


def test_more_plates_than_can_be_laid_out_are_said_before_planning(
    data: Path, tmp_path: Path
) -> None:
    (data / "printers.csv").write_text("kind,count,hours_per_week,plate_parts\nsmall,1,70,4\n")
    (data / "prints.csv").write_text("item,hours,per_plate,printers\nlamp-mount,1,5,small\n")
    for quantity, code in ((60_000, 0), (64_000, 1), (900_000_000, 1)):  # with 20 % scrapped
        rows = f"order,item,quantity,need_date\nS-1,lamp-mount,{quantity},2026-12-15\n"
        (data / "spares_orders.csv").write_text(rows)
        result = bomkit("check", data)
        assert result.exit_code == code, result.output
        assert ("'lamp-mount' is the most part of a plan that fills" in result.output) == bool(code)
    result = bomkit("plan", data, "--out", tmp_path / "out")
    assert result.exit_code == 1 and "20,000 plates" in result.output


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("plan.toml", "horizon_weeks = 6", "horizon_weeks = 100000000", "must be at most 156"),
        ("plan.toml", "horizon_weeks = 6", "horizon_weeks = 157", "must be at most 156"),
        ("plan.toml", "list_weeks = 2", "list_weeks = 27", "must be at most 26"),
        ("stock.csv", "filament,", "filament,1e20", "must be at most 1000000000"),
        ("stock.csv", "filament,", "filament,1e-20", "is too small to count with"),
    ],
)
def test_what_is_too_much_is_said_before_planning(
    data: Path, tmp_path: Path, file: str, old: str, new: str, said: str
) -> None:
    if file == "stock.csv":
        lines = (data / file).read_text().splitlines()
        cells = next(line for line in lines if line.startswith(old)).split(",")
        old, new = ",".join(cells[:2]), new
    spoil(data / file, old, new)
    for words in (["check", data], ["plan", data, "--out", tmp_path / "out"]):
        result = bomkit(*words)
        assert result.exit_code == 1 and said in result.output


def test_the_longest_horizon_can_be_planned(data: Path, tmp_path: Path) -> None:
    spoil(data / "plan.toml", "horizon_weeks = 6", "horizon_weeks = 156")
    assert bomkit("plan", data, "--out", tmp_path / "out").exit_code == 0


def test_a_folder_named_as_a_table_is_not_passed_over(data: Path) -> None:
    (data / "stock.csv").unlink()
    (data / "stock.csv").mkdir()
    result = bomkit("check", data)
    assert result.exit_code == 1 and "stock.csv: is a folder" in result.output


def test_former_names_are_refused_with_the_new_one(data: Path) -> None:
    spoil(data / "items.csv", "structure_class", "structure")
    spoil(data / "items.csv", "longest_cover_days", "shelf_life_days")
    spoil(data / "plan.toml", "list_weeks", "release_weeks")
    (data / "upkeep.csv").write_text("item\n")
    result = bomkit("check", data)
    assert result.exit_code == 1
    for name in ("structure_class", "longest_cover_days", "list_weeks", "inspection_rules"):
        assert f"it is called {name} now; rename it" in result.output


def test_the_former_option_is_refused_with_the_new_one(tmp_path: Path) -> None:
    result = bomkit("plan", TINY, "--out", tmp_path / "out", "--with-upkeep")
    assert result.exit_code == 2 and "--with-inspections" in result.output


def test_no_name_can_command_the_terminal(data: Path, tiny_run: Run) -> None:
    spoil(data / "items.csv", "Tail lamp mount", "Tail \x1b[31mlamp mount")
    result = bomkit("check", data)
    assert result.exit_code == 1 and "\x1b" not in result.output
    assert "holds control characters" in result.output and "\\x1b[31m" in result.output
    result = bomkit("why", tiny_run.out, "zz\x1b[31mz")
    assert result.exit_code == 1 and "\x1b" not in result.output


def test_a_name_unlike_any_other_ends_its_sentence(tiny_run: Run) -> None:
    result = bomkit("why", tiny_run.out, "zzzzzz")
    assert "'zzzzzz' is no item of this run; look at how it is written there" in result.output


@pytest.mark.parametrize("damage", ["cut", "changed", "emptied", "gone"])
def test_a_damaged_result_table_is_named(tmp_path: Path, tiny_run: Run, damage: str) -> None:
    shutil.copytree(tiny_run.out, tmp_path / "out")
    path = tmp_path / "out" / "tables" / "pegs.parquet"
    content = bytearray(path.read_bytes())
    if damage == "changed":
        for place in range(4, len(content), 7):
            content[place] ^= 0x55
    path.write_bytes({"cut": content[:-9], "emptied": b""}.get(damage, bytes(content)))
    if damage == "gone":
        path.unlink()
    result = bomkit("why", tmp_path / "out", "resin")
    assert result.exit_code == 1 and "pegs.parquet" in result.output


def test_why_reads_the_earlier_run_that_a_broken_off_one_had_moved_away(
    tmp_path: Path, tiny_run: Run
) -> None:
    out = Path(shutil.copytree(tiny_run.out, tmp_path / "out"))
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    out.rename(tmp_path / f".out.earlier-{ended.pid}")
    result = bomkit("why", out, "resin")
    assert result.exit_code == 0 and "put back" in result.output
    assert bomkit("why", tmp_path / "nowhere", "resin").exit_code == 2
