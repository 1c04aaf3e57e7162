"""Whatever the input looks like, a command ends with sentences and an exit code."""

import random
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from bomkit.cli import main
from tests.samples import TINY

CELLS = (
    "", "x", "0", "-1", "1e30", "1e308", "0.99999999", "nan", "#REF!", "2026-13-01", "2200-01-01",
    "rudder", "tail-unit", "resin", "T-021", "phantom", "print", "kit", "g", "order", "a b;c",
    "999999999999999999999", "1e-300", "1e20", "100000000", "156", "\x1b[31m",
    "=1+1", "primary", "\u00a0",
)  # fmt: skip


def spoiled(folder: Path, chance: random.Random) -> None:
    """Changes, drops or doubles a few rows, cells or files of a data folder."""
    for _ in range(chance.randint(1, 6)):
        path = chance.choice([*sorted(folder.glob("*.csv")), folder / "plan.toml"])
        if not path.exists():
            continue
        lines = path.read_text().splitlines()
        kind = chance.randrange(12)
        number = chance.randrange(len(lines))
        if kind == 0:
            path.unlink()
            continue
        if kind == 1:
            del lines[number]
        elif kind == 2:
            lines.insert(number, lines[number])
        elif kind == 3:
            lines[number] = lines[number][: chance.randrange(len(lines[number]) + 1)]
        else:
            separator = "=" if path.suffix == ".toml" else ","
            cells = lines[number].split(separator)
            cells[chance.randrange(len(cells))] = chance.choice(CELLS)
            lines[number] = separator.join(cells)
        path.write_text("\n".join(lines) + "\n")


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_no_spoiled_folder_ends_in_a_traceback(first: int, tmp_path: Path) -> None:
    for seed in range(first, first + 10):
        data, out = tmp_path / f"data{seed}", tmp_path / f"out{seed}"
        shutil.copytree(TINY, data)
        spoiled(data, random.Random(seed))
        for words in (
            ["check", data],
            ["plan", data, "--out", out],
            ["tree", data, "tail-unit"],
            ["tree", data, "resin", "--up", "--serial", "T-021"],
        ):
            result = CliRunner().invoke(main, [str(word) for word in words])
            unexpected = result.exception and not isinstance(result.exception, SystemExit)
            assert not unexpected, f"seed {seed}: {words[0]}: {result.exception!r}"
            assert result.exit_code in (0, 1), f"seed {seed}"
            if words[0] == "plan":
                assert out.exists() == (result.exit_code == 0), f"seed {seed}"
