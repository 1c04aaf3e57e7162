"""Eleven lists of one trolley, each imported into the structure that they were made from."""

import csv
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from bomkit.cli import main
from bomkit.runs.tables.convert import convert
from scripts.fuzz_lists import fuzz

LISTS = Path(__file__).parents[2] / "sample_boms" / "lists"
NAMES = sorted(
    path.name for path in LISTS.iterdir() if path.name not in ("README.md", "expected.csv")
)
Line = tuple[str, str, float, str]


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def structure(data: Path) -> list[Line]:
    """The lines of a folder's structure with the unit that each is in."""
    units = {row["item"]: row["unit"] for row in rows(data / "items.csv")}
    return sorted(
        (row["parent"], row["child"], float(row["quantity"]), row["unit"] or units[row["child"]])
        for row in rows(data / "structure.csv")
    )


def expected() -> list[Line]:
    return sorted(
        (row["parent"], row["child"], float(row["quantity"]), row["unit"])
        for row in rows(LISTS / "expected.csv")
    )


def copied(name: str, folder: Path) -> Path:
    """A copy of the list, as the columns file is written beside it."""
    if (LISTS / name).is_dir():
        return Path(shutil.copytree(LISTS / name, folder / name))
    return Path(shutil.copy(LISTS / name, folder / name))


def imported(*words: object) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["import", *map(str, words)])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.output
    return result.exit_code, result.output


def test_there_are_at_least_eight_lists_and_the_readme_names_each() -> None:
    assert len(NAMES) >= 8
    said = (LISTS / "README.md").read_text(encoding="utf-8")
    assert all(f"`{name}`" in said for name in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_every_list_gives_the_structure_it_was_made_from(name: str, tmp_path: Path) -> None:
    code, said = imported(copied(name, tmp_path), "--into", tmp_path / "data")
    assert code == 0, said
    assert structure(tmp_path / "data") == expected()
    assert "sure: " in said and "new: 31" in said  # 12 items and 19 lines


@pytest.mark.parametrize("name", NAMES)
def test_the_second_import_with_the_columns_written_is_silent_and_changes_nothing(
    name: str, tmp_path: Path
) -> None:
    path, data = copied(name, tmp_path), tmp_path / "data"
    imported(path, "--into", data)
    before = {file.name: file.read_bytes() for file in data.iterdir()}
    columns = path.with_name(f"{path.stem}.columns.toml")
    code, said = imported(path, "--into", data, "--columns", columns)
    assert code == 0, said
    assert "sure:" not in said and "new: 0\nchanged: 0\n" in said
    assert {file.name: file.read_bytes() for file in data.iterdir()} == before


def test_three_sample_rows_are_shown_with_what_each_column_was_taken_for(tmp_path: Path) -> None:
    _, said = imported(copied("2_positions_totals.csv", tmp_path), "--into", tmp_path / "data")
    assert "total        Gesamtmenge" in said and "quantities total" in said
    assert "3  0  TR-1  1 pc" in said and "5  2  TB-50  3.6 m" in said
    assert "rows passed over" in said


def test_what_the_tables_know_and_the_list_does_not_is_kept(tmp_path: Path) -> None:
    path, data = copied("1_levels.csv", tmp_path), tmp_path / "data"
    imported(path, "--into", data)
    items = (data / "items.csv").read_text()
    head, *lines = items.splitlines()
    more = [f"{head},lead_days", *(f"{line},7" for line in lines), "SPARE,,buy,pc,3"]
    (data / "items.csv").write_text("\n".join(more) + "\n")
    with (data / "structure.csv").open("a") as file:
        file.write("TR-1,SPARE,1,\n")
    text = path.read_text().replace("3.6,metre", "4.8,metre").replace("Wheel", "Wheel 200")
    path.write_text(text)
    code, said = imported(path, "--into", data)
    assert code == 0, said
    assert "line FR-10 -> TB-50: 3.6 m -> 4.8 m" in said
    assert "item WH-21, description: 'Wheel' -> 'Wheel 200'" in said
    assert "not in the list, kept: 1\n  line TR-1 -> SPARE" in said
    kept = {row["item"]: row for row in rows(data / "items.csv")}
    assert {row["lead_days"] for row in kept.values()} == {"7", "3"}
    assert ("TR-1", "SPARE", 1.0, "pc") in structure(data)
    code, said = imported(path, "--into", data, "--drop-gone")
    assert code == 0 and "taken out: 1" in said
    assert ("TR-1", "SPARE", 1.0, "pc") not in structure(data)


def test_with_show_nothing_is_written(tmp_path: Path) -> None:
    code, said = imported(copied("1_levels.csv", tmp_path), "--into", tmp_path / "data", "--show")
    assert code == 0 and said.endswith("nothing was written\n")
    assert not (tmp_path / "data").exists()


def test_a_workbook_is_not_written_to_but_the_way_is_told(tmp_path: Path) -> None:
    imported(copied("1_levels.csv", tmp_path), "--into", tmp_path / "data")
    (tmp_path / "data" / "plan.toml").write_text("start = 2026-11-30\nhorizon_weeks = 8\n")
    (tmp_path / "data" / "build_plan.csv").write_text(
        "serial,item,ready_date\n01,TR-1,2027-01-15\n"
    )
    convert(tmp_path / "data", tmp_path / "book.xlsx")
    before = (tmp_path / "book.xlsx").read_bytes()
    code, said = imported(tmp_path / "1_levels.csv", "--into", tmp_path / "book.xlsx")
    assert code == 1 and "bomkit convert" in said
    assert (tmp_path / "book.xlsx").read_bytes() == before


def test_damaged_lists_are_refused_whole_or_taken_and_never_end_in_a_traceback(
    tmp_path: Path,
) -> None:
    outcome = fuzz(60, 3, tmp_path)
    assert outcome["wrong"] == 0
    assert outcome["refused"] > 10 and outcome["taken"] > 5
