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
    "=1+1", "primary", "\u00a0", "1950-01-01", "2200-12-31", "2027-06-01",
    "1000000000", "1e-9", "2000",
)  # fmt: skip


def spoiled(folder: Path, chance: random.Random) -> None:
    """Changes, drops or doubles a few bytes, cells, rows, columns or files of a data folder."""
    for _ in range(chance.randint(1, 6)):
        path = chance.choice([*sorted(folder.glob("*.csv")), folder / "plan.toml"])
        if not path.exists() or not path.stat().st_size:
            continue
        kind = chance.randrange(14)
        if kind == 0:
            path.unlink()
        elif kind == 1:
            content = bytearray(path.read_bytes())
            content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
            path.write_bytes(content)
        else:
            lines = path.read_text(encoding="latin-1").splitlines() or [""]
            separator = "=" if path.suffix == ".toml" else ","
            _spoil_lines(lines, kind, separator, chance)
            path.write_text("\n".join(lines) + "\n", encoding="latin-1", errors="replace")


def _spoil_lines(lines: list[str], kind: int, separator: str, chance: random.Random) -> None:
    number = chance.randrange(len(lines))
    if kind == 2:
        del lines[number]
    elif kind == 3:
        lines.insert(number, lines[number])
    elif kind == 4:
        lines[number] = lines[number][: chance.randrange(len(lines[number]) + 1)]
    elif kind == 5:
        place = chance.randrange(lines[0].count(separator) + 1)
        for row, line in enumerate(lines):
            cells = line.split(separator)
            lines[row] = separator.join(cells[:place] + cells[place + 1 :])
    else:
        cells = lines[number].split(separator)
        cells[chance.randrange(len(cells))] = chance.choice(CELLS)
        lines[number] = separator.join(cells)


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_no_spoiled_folder_ends_in_a_traceback(first: int, tmp_path: Path) -> None:
    for seed in range(first, first + 10):
        data, out = tmp_path / f"data{seed}", tmp_path / f"out{seed}"
        shutil.copytree(TINY, data)
        spoiled(data, random.Random(seed))
        codes = {}
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
            codes[words[0]] = result.exit_code
            if words[0] == "plan":
                assert codes["check"] == codes["plan"], f"seed {seed}: {result.output}"
                assert out.exists() == (result.exit_code == 0), f"seed {seed}"
