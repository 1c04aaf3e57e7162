"""Makes small changes of the planning rules at random, one at a time, and counts what tests notice.

Comparisons are turned, constants moved, sums and products swapped, steps left out. Each change is
made in a copy of the tree; the tests that mirror the changed folder run there, those first that
call what was changed (change_parts/nearest.py), until one fails. What no test notices is printed
with its place: a rule without a test, or a change that changes nothing. The latter are declared
with their reasons in change_parts/unseen_changes.toml, and left out.

    python scripts/try_changes.py --changes 30 --seed 7 --only shops/moulds/pulls_left.py
    python scripts/try_changes.py --only checks
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from change_parts.changes import Change, changes_of
from change_parts.tests import Tests
from change_parts.unseen import Unseen, declared
from setup_venv import ROOT, ready_python

PLANNING = Path("bomkit/planning")
CHECKS = Path("bomkit/checks")
QUICK = ("comparing/moved_forecasts.py", 2)  # its tests take a second or two


def main() -> int:
    """Tries the changes and prints the share that was noticed."""
    wish = _arguments()
    python = ready_python("test")
    chosen = _chosen(wish.only, wish.changes, random.Random(wish.seed))
    missed = []
    with tempfile.TemporaryDirectory() as scratch:
        tests = Tests(python, Path(scratch))
        for number, change in enumerate(chosen, 1):
            noticed = tests.notice(change)
            print(f"{number:4} {'noticed' if noticed else 'MISSED ':8} {_told(change)}", flush=True)
            missed += [] if noticed else [change]
        tests.stop()
    share = 1 - len(missed) / len(chosen) if chosen else 1.0
    print(f"\nnoticed {len(chosen) - len(missed)} of {len(chosen)} ({share:.0%})")
    for change in missed:
        print(f"  not noticed: {_told(change)}")
    return 0 if share >= wish.at_least else 1


def _arguments() -> argparse.Namespace:
    """What was asked for on the command line."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--changes", type=int, default=20, help="how many changes to try")
    parser.add_argument("--seed", type=int, default=1, help="draws other changes")
    parser.add_argument("--only", default="", help="a folder or module of planning, or checks")
    parser.add_argument("--at-least", type=float, default=0.0, help="share that must be noticed")
    parser.add_argument("--quick", action="store_true", help="two changes of one small module")
    wish = parser.parse_args()
    if wish.quick:
        wish.only, wish.changes = QUICK
    return wish


def _told(change: Change) -> str:
    """Place and kind of a change."""
    return f"{change.module}:{change.line} {change.what}"


def _chosen(only: str, count: int, chance: random.Random) -> list[Change]:
    """Some of all changes that could be made, in the order of their places."""
    modules = sorted(
        path.relative_to(ROOT)
        for folder in (PLANNING, CHECKS)
        for path in (ROOT / folder).rglob("*.py")
        if _name(path.relative_to(ROOT)).startswith(only)
    )
    if not modules:
        raise SystemExit(f"there is no module {only}")
    unseen = declared([ROOT / PLANNING, ROOT / CHECKS.parent])
    possible = [change for module in modules for change in _seen_changes(module, unseen)]
    drawn = chance.sample(possible, min(count, len(possible)))
    return sorted(drawn, key=lambda change: (change.module, change.line, change.node))


def _name(module: Path) -> str:
    """A module as --only and the declarations name it: shops/in_work.py, checks/row_check.py."""
    above = PLANNING if module.is_relative_to(PLANNING) else CHECKS.parent
    return module.relative_to(above).as_posix()


def _seen_changes(module: Path, unseen: list[Unseen]) -> Iterator[Change]:
    """The small changes of a module that somebody could see."""
    name = _name(module)
    lines = (ROOT / module).read_text(encoding="utf-8").splitlines()
    for change in changes_of(ROOT, module):
        if not any(each.means(name, change.what, lines[change.line - 1]) for each in unseen):
            yield change


if __name__ == "__main__":
    sys.exit(main())
