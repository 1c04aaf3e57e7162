"""Times how long bomkit takes to start, to plan the full-size sample from files to workbooks, and
to study two rates of it, one of which does not fit into the shops.

The start is held against a bare interpreter that imports click, which every command needs anyhow.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SAMPLES = Path(__file__).resolve().parent.parent / "sample_boms"


def best_seconds(command: list[str], times: int) -> float:
    """The shortest wall time of some runs of a command; stops if one fails."""
    found = []
    for _ in range(times):
        began = time.perf_counter()
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        found.append(time.perf_counter() - began)
        if done.returncode:
            sys.exit(f"{' '.join(command)} failed:\n{done.stderr}")
    return min(found)


def main() -> None:
    """Time and print."""
    arguments = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    arguments.add_argument("--quick", action="store_true", help="once each, with the tiny sample")
    quick = arguments.parse_args().quick
    times, sample = (1, "tiny_glider_tail") if quick else (3, "fenlark")
    python = sys.executable
    bare = best_seconds([python, "-c", "import click"], times)
    start = best_seconds([python, "-m", "bomkit", "--help"], times)
    with tempfile.TemporaryDirectory() as scratch:
        out = str(Path(scratch, "run"))
        plan = [python, "-m", "bomkit", "plan", str(SAMPLES / sample), "--out", out, "--replace"]
        whole = best_seconds(plan, times)
        book = str(Path(scratch, "rates.xlsx"))
        rate = [python, "-m", "bomkit", "rate", str(SAMPLES / sample), "--out", book, "--replace"]
        rates = best_seconds([*rate, "--per-month", "3", "--per-month", "4"], times)
    print(f"bare interpreter, import click     {bare:7.3f} s")
    print(f"bomkit --help                      {start:7.3f} s")
    print(f"bomkit plan {sample:<22} {whole:7.3f} s")
    print(f"bomkit rate {sample:<22} {rates:7.3f} s")


if __name__ == "__main__":
    main()
