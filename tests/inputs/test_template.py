import errno
import re
from pathlib import Path
from typing import Any

import pytest

from bomkit.checks.everything import load_inputs
from bomkit.inputs.template import write_template
from bomkit.problems import ProblemsFound
from bomkit.tables.columns_and_rules.by_name import INPUTS
from tests.commands import bomkit
from tests.inputs.builders import load_files, sentences
from tests.samples import TINY


def test_the_template_has_a_file_for_every_table_and_a_guide(tmp_path: Path) -> None:
    paths = write_template(tmp_path / "new" / "folder")
    names = {path.name for path in paths}
    assert names == {"plan.toml", "GUIDE.md"} | {f"{name}.csv" for name in INPUTS if name != "plan"}
    assert all(path.is_file() for path in paths)


def test_every_file_holds_the_headings_of_its_table_only(tmp_path: Path) -> None:
    write_template(tmp_path)
    for name, table in INPUTS.items():
        if name != "plan":
            assert (tmp_path / f"{name}.csv").read_text() == ",".join(table.column_names) + "\n"


def test_the_template_can_be_read_and_lacks_only_the_settings(tmp_path: Path) -> None:
    write_template(tmp_path)
    assert sentences(load_inputs(tmp_path)) == [
        "error: plan.toml, column start: must not be empty",
        "error: plan.toml, column horizon_weeks: must not be empty",
    ]


def test_the_settings_make_sense_once_their_comment_marks_are_removed(tmp_path: Path) -> None:
    write_template(tmp_path)
    settings = (tmp_path / "plan.toml").read_text()
    made = re.sub(r"^# (\w+ = )", r"\1", settings, flags=re.MULTILINE)
    assert made != settings
    (tmp_path / "plan.toml").write_text(made)
    inputs = load_inputs(tmp_path)
    assert inputs.problems == []
    assert inputs.tables["plan"]["list_weeks"].to_list() == [4]


def test_the_template_filled_in_is_planned_with(tmp_path: Path) -> None:
    write_template(tmp_path)
    assert load_files(tmp_path).problems == []


def test_the_guide_tells_every_column_with_its_help_and_conditions(tmp_path: Path) -> None:
    write_template(tmp_path)
    guide = (tmp_path / "GUIDE.md").read_text()
    rows = [line for line in guide.splitlines() if line.startswith("| ")]
    for table in INPUTS.values():
        assert table.help in guide
        for column in table.columns:
            name = f"**{column.name}**" if column.required else column.name
            (row, *_) = [row for row in rows if row.startswith(f"| {name} | {column.help} |")]
            assert all(choice in row for choice in column.choices)
            assert all(target in row for target in column.refers_to)
            if column.default is not None:
                assert f"| {column.default} |" in row


def test_nothing_is_overwritten_and_nothing_written_beside_it(tmp_path: Path) -> None:
    (tmp_path / "items.csv").write_text("mine")
    with pytest.raises(ProblemsFound) as raised:
        write_template(tmp_path)
    (problem,) = raised.value.problems
    assert problem.file == "items.csv"
    assert "already; nothing was written" in problem.message
    assert [path.name for path in tmp_path.iterdir()] == ["items.csv"]
    assert (tmp_path / "items.csv").read_text() == "mine"


def test_a_folder_that_cannot_be_made_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(ProblemsFound) as raised:
        write_template(tmp_path / "file" / "folder")
    assert "can't be written" in raised.value.problems[0].sentence()


def test_the_guide_tells_the_limits_of_all_numbers_and_one_least_value_for_a_column(
    tmp_path: Path,
) -> None:
    write_template(tmp_path)
    guide = (tmp_path / "GUIDE.md").read_text()
    assert "Numbers are 1,000,000,000 at most" in guide and "0.000000001; dates" in guide
    assert "20,000 plates" in guide
    for row in guide.splitlines():
        assert len(set(re.findall(r"at least (\d+)", row))) <= 1, row


def test_on_a_full_disk_no_part_of_it_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = Path.open

    def full(path: Path, *how: Any, **more: Any) -> Any:
        if path.name == "GUIDE.md":
            raise OSError(errno.ENOSPC, "No space left on device")
        return whole(path, *how, **more)

    monkeypatch.setattr(Path, "open", full)
    with pytest.raises(ProblemsFound) as refused:
        write_template(tmp_path)
    assert "No space left on device" in refused.value.problems[0].message
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("words", [["template"], ["convert", TINY]])
@pytest.mark.parametrize("name", ["t.ods", "t.CSV", "t.xls"])
def test_no_folder_gets_the_name_of_another_kind_of_file(
    words: list[str | Path], name: str, tmp_path: Path
) -> None:
    refused = bomkit(*words, tmp_path / name)
    assert refused.exit_code == 2 and "names neither a folder nor a workbook" in refused.output
    assert list(tmp_path.iterdir()) == []


def test_a_study_of_rates_is_a_workbook_by_its_name(tmp_path: Path) -> None:
    refused = bomkit("rate", TINY, "--per-month", "3", "--out", tmp_path / "r3.csv")
    assert refused.exit_code == 2 and "let its name end in .xlsx" in refused.output
