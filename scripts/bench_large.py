"""Times a whole `bomkit plan` of a very large random structure, from CSV tables to workbooks.

100 thousand items in layers, 366 thousand structure lines and the airframes of thirty weeks, four a
month if not told otherwise, with stock, open orders, lots and scrap; the command runs by itself, so
that the memory told is its own. Prints the seconds, the greatest memory, and what was written: rows
of the tables, sheets of the workbooks. The numbers of the structure are those of bench_plan.py.
"""

from __future__ import annotations

import argparse
import csv
import datetime as dt
import re
import resource
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np
import polars as pl
from bench_plan import SEED, START, Structure, random_structure

WEEKS = 30
AIRFRAMES = 28  # four a month
SUPPLIERS = 200
PROCESSES = 12

Row = Sequence[object]


def write_tables(folder: Path, structure: Structure, airframes: int) -> None:
    """The structure with airframes, stock and open orders as the CSV tables of a folder."""
    rng = np.random.default_rng(SEED + 3)
    names = [f"P{number:06}" for number in range(len(structure.level))]
    parents = np.zeros(len(names), bool)
    parents[structure.parent] = True
    (folder / "plan.toml").write_text(
        f"start = {START}\nhorizon_weeks = {WEEKS}\nlist_weeks = 4\n", encoding="utf-8"
    )
    suppliers = [f"S{number:03}" for number in range(SUPPLIERS)]
    _write(folder, "suppliers", "supplier,name", ((name, f"Supplier {name}") for name in suppliers))
    processes = [f"process-{number:02}" for number in range(PROCESSES)]
    _write(folder, "processes", "process,hours_per_week", ((name, 2000) for name in processes))
    heads = "item,description,source,process,unit,lead_days,scrap_rate,minimum,multiple,cover_days,"
    items = _items(names, parents, rng, suppliers, processes)
    _write(folder, "items", heads + "supplier,cost,hours_each", items)
    lines = zip(structure.parent, structure.child, structure.factor, strict=True)
    _write(
        folder,
        "structure",
        "parent,child,quantity,position",
        (
            (names[parent], names[child], max(1, int(factor)), 10 * number)
            for number, (parent, child, factor) in enumerate(lines, 1)
        ),
    )
    built = _airframes(names, structure, rng, airframes)
    _write(folder, "build_plan", "serial,item,ready_date", built)
    _write(folder, "stock", "item,quantity,location", _stock(names, structure, rng))
    orders = _open_orders(names, structure, parents, rng)
    _write(folder, "open_orders", "order,item,quantity,due_date", orders)


def _write(folder: Path, name: str, heads: str, rows: Iterable[Row]) -> None:
    """One CSV table."""
    with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as target:
        writer = csv.writer(target, lineterminator="\n")
        writer.writerow(heads.split(","))
        writer.writerows(rows)


def _items(
    names: list[str],
    parents: np.ndarray,
    rng: np.random.Generator,
    suppliers: list[str],
    processes: list[str],
) -> Iterable[Row]:
    """What has parts in it is made, the rest bought."""
    count = len(names)
    draws = zip(
        names,
        parents,
        rng.choice([1, 2, 3, 5], count),
        rng.choice(["", 0.02, 0.05], count),
        rng.choice(["", 5, 20], count),
        rng.choice(["", 4, 10], count),
        rng.choice([1, 5, 10], count),
        rng.integers(0, len(suppliers), count),
        rng.integers(0, len(processes), count),
        rng.integers(1, 90, count),
        strict=True,
    )
    for name, made, days, scrap, least, multiple, cover, supplier, process, amount in draws:
        words = f"{'Assembly' if made else 'Part'} {name}"
        who = ("make", processes[process]) if made else ("buy", "")
        whose = ("", "", amount / 30) if made else (suppliers[supplier], amount, "")
        yield name, words, *who, "pc", days, scrap, least, multiple, cover, *whose


def _airframes(
    names: list[str], structure: Structure, rng: np.random.Generator, count: int
) -> Iterable[Row]:
    """So many of the top items, each as often as the others, ready on some day of the plan."""
    tops = rng.permutation(np.flatnonzero(structure.level == 0))
    for number, top in enumerate(np.resize(tops, count), 1):
        ready = START + dt.timedelta(days=int(rng.integers(20, WEEKS * 7 - 5)))
        yield f"A{number:04}", names[top], ready


def _stock(names: list[str], structure: Structure, rng: np.random.Generator) -> Iterable[Row]:
    """Some of every third item."""
    for item in range(int((structure.level == 0).sum()), len(names), 3):
        yield names[item], int(rng.integers(1, 50)), f"rack {item % 97}"


def _open_orders(
    names: list[str], structure: Structure, parents: np.ndarray, rng: np.random.Generator
) -> Iterable[Row]:
    """One for every tenth item that is bought."""
    for item in np.flatnonzero(~parents)[::10]:
        due = START + dt.timedelta(days=int(rng.integers(0, 60)))
        yield f"PO-{item:06}", names[item], 20 + int(item) % 7, due


def main() -> None:
    """Write the tables, plan them, and tell."""
    arguments = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    arguments.add_argument("--quick", action="store_true", help="a hundredth of the size")
    arguments.add_argument("--part", type=int, default=1, help="one part of so many of the size")
    arguments.add_argument("--airframes", type=int, default=AIRFRAMES, help="in thirty weeks")
    arguments.add_argument("--keep", type=Path, help="a new folder for the tables and the run")
    chosen = arguments.parse_args()
    parts = 100 if chosen.quick else chosen.part
    structure = random_structure(100_000 // parts, 366_000 // parts)
    with tempfile.TemporaryDirectory() as scratch:
        place = chosen.keep or Path(scratch)
        tables, run = place / "tables", place / "run"
        tables.mkdir(parents=True)
        write_tables(tables, structure, chosen.airframes)
        print(f"{len(structure.level):,} items, {len(structure.parent):,} structure lines")
        command = [sys.executable, "-m", "bomkit", "plan", str(tables), "--out", str(run)]
        began = time.perf_counter()
        done = subprocess.run([*command, "--replace"], capture_output=True, text=True, check=False)
        seconds = time.perf_counter() - began
        if done.returncode:
            sys.exit(f"bomkit plan ended with {done.returncode}:\n{done.stdout}{done.stderr}")
        print_run(run, seconds)


def print_run(run: Path, seconds: float) -> None:
    """What a run took, and what it wrote."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    print(f"bomkit plan {seconds:10.1f} s, {used.ru_utime + used.ru_stime:.1f} s CPU")
    print(f"memory      {used.ru_maxrss / 1024**2:10.2f} GB at most")  # Linux gives kB
    for table in sorted((run / "tables").glob("*.parquet")):
        rows = pl.scan_parquet(table).select(pl.len()).collect().item()
        print(f"{table.stem:20} {rows:12,} rows")
    for path in sorted(run.rglob("*.xlsx")):
        sheets, rows = written(path)
        size = path.stat().st_size / 1e6
        print(f"{path.relative_to(run)!s:24} {sheets:8,} sheets {rows:10,} rows {size:8.1f} MB")


def written(path: Path) -> tuple[int, int]:
    """How many sheets and rows a workbook has."""
    with zipfile.ZipFile(path) as book:
        sheets = [name for name in book.namelist() if name.startswith("xl/worksheets/sheet")]
        rows = sum(len(re.findall(b"<row ", book.read(name))) for name in sheets)
    return len(sheets), rows


if __name__ == "__main__":
    main()
