"""Damages the sample lists in many ways and imports them: no traceback, nothing written on doubt.

    python scripts/fuzz_lists.py --count 5000
    python scripts/fuzz_lists.py --quick

Each damaged list is laid over the undamaged structure. Where the import refuses it, the tables must
be as before, byte for byte; where it takes it, they must hold no error.
"""

import argparse
import io
import random
import re
import sys
import tempfile
import zipfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from bomkit.checks.everything import load_inputs
from bomkit.problems import ProblemsFound
from bomkit.runs.tables.import_list import columns_file, import_lists

LISTS = Path(__file__).parent.parent / "sample_boms" / "lists"
ODD = (
    "",
    "zwei",
    "-3",
    "1,500",
    "1e999",
    "#REF!",
    "=1+1",
    "0",
    "\u00a0",
    "9" * 40,
    "\x1b[2J",
    "TR-1",
)
QUICK, MANY = 150, 5000


def main() -> int:
    """Damages, imports, tells how many were taken and refused; 1 if anything went wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=MANY)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    count = QUICK if asked.quick else asked.count
    with tempfile.TemporaryDirectory() as scratch:
        outcome = fuzz(count, asked.seed, Path(scratch))
    print(", ".join(f"{number} {words}" for words, number in sorted(outcome.items())))
    return 1 if outcome["wrong"] else 0


def fuzz(count: int, seed: int, scratch: Path) -> Counter[str]:
    """How many damaged lists were taken, refused, or went wrong."""
    chance = random.Random(seed)
    sources = sorted(path for path in LISTS.iterdir() if path.suffix in (".csv", ".tsv", ".xlsx"))
    sources.remove(LISTS / "expected.csv")
    data = scratch / "data"
    whole = scratch / "whole.csv"
    whole.write_bytes((LISTS / "5_parent_child.csv").read_bytes())
    import_lists([whole], data, None, None, False, False, _silent)
    before = {path.name: path.read_bytes() for path in data.iterdir()}
    outcome: Counter[str] = Counter()
    for number in range(count):
        source = chance.choice(sources)
        damaged = scratch / f"list{source.suffix}"
        damaged.write_bytes(damage(source.read_bytes(), chance))
        columns_file(damaged).unlink(missing_ok=True)
        outcome[_tried(damaged, data, before, number)] += 1
        for name, content in before.items():
            (data / name).write_bytes(content)
    return outcome


def damage(content: bytes, chance: random.Random) -> bytes:
    """The list with one to four things wrong."""
    binary = content.startswith(b"PK")
    for _ in range(chance.randint(1, 4)):
        ways = (_flip, _cut, *IN_BOOKS) if binary else (_flip, _cut, *IN_TEXTS)
        content = chance.choice(ways)(content, chance)
    return content


def _flip(content: bytes, chance: random.Random) -> bytes:
    place = chance.randrange(len(content) or 1)
    return content[:place] + bytes([chance.randrange(256)]) + content[place + 1 :]


def _cut(content: bytes, chance: random.Random) -> bytes:
    start = chance.randrange(len(content) or 1)
    return content[:start] + content[start + chance.randrange(30) :]


def _rows(change: Callable[[list[bytes], random.Random], None]) -> Callable[..., bytes]:
    def changed(content: bytes, chance: random.Random) -> bytes:
        rows = content.split(b"\n")
        change(rows, chance)
        return b"\n".join(rows)

    return changed


@_rows
def _spoil_cell(rows: list[bytes], chance: random.Random) -> None:
    place = chance.randrange(len(rows))
    mark = next((mark for mark in (b";", b"\t", b",") if mark in rows[place]), b",")
    cells = rows[place].split(mark)
    cells[chance.randrange(len(cells))] = chance.choice(ODD).encode()
    rows[place] = mark.join(cells)


@_rows
def _drop_row(rows: list[bytes], chance: random.Random) -> None:
    del rows[chance.randrange(len(rows))]
    rows.append(b"")


@_rows
def _swap_rows(rows: list[bytes], chance: random.Random) -> None:
    one, other = chance.randrange(len(rows)), chance.randrange(len(rows))
    rows[one], rows[other] = rows[other], rows[one]


def _within(content: bytes, chance: random.Random) -> bytes:
    """A workbook with one of its parts damaged, packed again: it opens, if its parts can be read.

    The same where it can't be unpacked any more.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as book:
            parts = {name: book.read(name) for name in book.namelist()}
    except Exception:  # damaged before, and in any way
        return content
    name = chance.choice(sorted(parts))
    parts[name] = chance.choice((_flip, _cut, _spoil_text, _drop_element))(parts[name], chance)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        for name, part in parts.items():
            book.writestr(name, part)
    return packed.getvalue()


def _spoil_text(part: bytes, chance: random.Random) -> bytes:
    """The text between two marks replaced by an odd one."""
    texts = list(re.finditer(rb">[^<>]+<", part))
    if not texts:
        return part
    spoilt = chance.choice(texts)
    odd = chance.choice(ODD).encode().replace(b"\x1b", b"&#27;")
    return part[: spoilt.start() + 1] + odd + part[spoilt.end() - 1 :]


def _drop_element(part: bytes, chance: random.Random) -> bytes:
    """A cell or row less."""
    dropped = list(re.finditer(rb"<(row|c)\b[^>]*>.*?</\1>", part, re.DOTALL))
    if not dropped:
        return part
    chosen = chance.choice(dropped)
    return part[: chosen.start()] + part[chosen.end() :]


IN_TEXTS = (_spoil_cell, _drop_row, _swap_rows)
IN_BOOKS = (_within, _within, _within)


def _tried(damaged: Path, data: Path, before: dict[str, bytes], number: int) -> str:
    try:
        import_lists([damaged], data, None, None, False, False, _silent)
    except ProblemsFound:
        after = {path.name: path.read_bytes() for path in data.iterdir()}
        if after == before:
            return "refused"
        print(f"list {number}: refused, but the tables changed")
        return "wrong"
    except Exception as error:  # what this script looks for
        print(f"list {number}: {type(error).__name__}: {error}")
        return "wrong"
    told = [problem for problem in load_inputs(data).problems if problem.severity == "error"]
    bad = [problem for problem in told if problem.file in before and problem.place]
    for problem in bad:
        print(f"list {number}: taken, but {problem.sentence()}")
    return "wrong" if bad else "taken"


def _silent(*_: object) -> None:
    """What was guessed is nothing to this script."""


if __name__ == "__main__":
    sys.exit(main())
