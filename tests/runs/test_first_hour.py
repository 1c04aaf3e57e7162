"""The guide in README.md from an empty folder to the first workbook, tried word for word."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from bomkit.cli import main

README = Path(__file__).parents[2] / "README.md"
_BLOCK = re.compile(r"([^\n]*)\n\n```(sh|csv|toml|text)\n(.*?)```", re.DOTALL)


def guide() -> list[tuple[str, str, str]]:
    """The line before each block of the guide, what it is, and its text."""
    _, _, rest = README.read_text(encoding="utf-8").partition("\n## The first hour\n")
    return _BLOCK.findall(rest.split("\n## ")[0])


def test_the_first_hour_works_as_it_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said, commands, files, shown = "", [], [], 0
    for before, kind, text in guide():
        if kind == "sh":
            (command,) = text.splitlines()
            program, *words = shlex.split(command)
            assert program == "bomkit"
            result = CliRunner().invoke(main, words)
            assert result.exit_code == 0, (command, result.output)
            said = result.output
            commands.append(words[0])
        elif kind == "text":
            for line in text.splitlines():
                assert line in said, (line, said)
                shown += 1
        else:
            (name,) = re.findall(r"`([\w/]+\.(?:csv|toml))`:$", before)
            Path(name).write_text(text, encoding="utf-8")
            files.append(name)
    assert commands == ["template", "import", "check", "plan", "why"]
    assert len(files) == 4 and shown >= 4
    assert (tmp_path / "week_1" / "overview.xlsx").is_file()
    assert (tmp_path / "week_1" / "2026-W49" / "buy.xlsx").is_file()
    assert CliRunner().invoke(main, ["convert", "trolley", "trolley.xlsx"]).exit_code == 0


def test_the_guide_names_no_item_of_the_samples() -> None:
    text = "".join(text for _, kind, text in guide() if kind == "csv")
    for sample in ("tail-unit", "lamp-mount", "FENLARK", "TR-1"):
        assert sample not in text
