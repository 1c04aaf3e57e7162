"""Makes small changes of the planning rules at random, one at a time, and counts what tests notice.

Comparisons are turned, constants moved, sums and products swapped, steps left out. Each change is
made in a copy of the tree; the tests that mirror the changed folder run there. What no test
notices is printed with its place: a rule without a test, or a change that changes nothing. The
latter are declared with their reasons in change_parts/unseen_changes.toml, and left out.

    python scripts/try_changes.py --changes 30 --seed 7 --only shops/moulds/worn.py
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from change_parts.unseen import Unseen, declared
from setup_venv import ROOT, clean_environment, ready_python

RULES = Path("bomkit/planning")
LONGEST = 600  # seconds; a change that makes the tests run for ever is noticed
QUICK = ("comparing/moved_forecasts.py", 2)  # its tests take a second or two
TURNED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.And: ast.Or,
    ast.Or: ast.And,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
OTHERS = {
    "min": "max",
    "max": "min",
    "min_horizontal": "max_horizontal",
    "max_horizontal": "min_horizontal",
    "first": "last",
    "last": "first",
    "floor": "ceil",
    "ceil": "floor",
    "head": "tail",
}


@dataclass(frozen=True)
class Change:
    """One small change: the module, the line, the node (by its place in a walk), what it does."""

    module: Path
    line: int
    node: int
    what: str

    def text(self) -> str:
        """The module with the change made."""
        tree = ast.parse((ROOT / self.module).read_text(encoding="utf-8"))
        _make(next(node for place, node in enumerate(ast.walk(tree)) if place == self.node))
        return ast.unparse(ast.fix_missing_locations(tree))


def main() -> int:
    """Tries the changes and prints the share that was noticed."""
    wish = _arguments()
    python = ready_python("test")
    chosen = _chosen(wish.only, wish.changes, random.Random(wish.seed))
    missed = []
    with tempfile.TemporaryDirectory() as scratch:
        copy = _copied(Path(scratch) / "tree")
        for number, change in enumerate(chosen, 1):
            noticed = _noticed(python, copy, change)
            print(f"{number:4} {'noticed' if noticed else 'MISSED ':8} {_told(change)}", flush=True)
            missed += [] if noticed else [change]
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
    parser.add_argument("--only", default="", help="a folder or module below bomkit/planning")
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
        for path in (ROOT / RULES).rglob("*.py")
        if path.relative_to(ROOT / RULES).as_posix().startswith(only)
    )
    if not modules:
        raise SystemExit(f"there is no module {RULES / only}")
    unseen = declared(ROOT / RULES)
    possible = [change for module in modules for change in _seen_changes(module, unseen)]
    drawn = chance.sample(possible, min(count, len(possible)))
    return sorted(drawn, key=lambda change: (change.module, change.line, change.node))


def _seen_changes(module: Path, unseen: list[Unseen]) -> Iterator[Change]:
    """The small changes of a module that somebody could see."""
    name = module.relative_to(RULES).as_posix()
    lines = (ROOT / module).read_text(encoding="utf-8").splitlines()
    for change in _changes(module):
        if not any(each.means(name, change.what, lines[change.line - 1]) for each in unseen):
            yield change


def _changes(module: Path) -> Iterator[Change]:
    """Every small change of a module."""
    tree = ast.parse((ROOT / module).read_text(encoding="utf-8"))
    types = {id(part) for note in _annotations(tree) for part in ast.walk(note)}
    for place, node in enumerate(ast.walk(tree)):
        what = _way(node)
        if what and id(node) not in types:
            yield Change(module, getattr(node, "lineno", 0), place, what)


def _annotations(tree: ast.AST) -> Iterator[ast.AST]:
    """What is said of types: nothing is done by it."""
    for node in ast.walk(tree):
        for name in ("annotation", "returns"):
            said = getattr(node, name, None)
            if said is not None:
                yield said


def _way(node: ast.AST) -> str:
    """How a node can be changed; "" if it can't."""
    if isinstance(node, ast.Compare) and type(node.ops[0]) in TURNED:
        return f"{type(node.ops[0]).__name__} -> {TURNED[type(node.ops[0])].__name__}"
    if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in TURNED:
        return f"{type(node.op).__name__} -> {TURNED[type(node.op)].__name__}"
    if isinstance(node, ast.Constant) and isinstance(node.value, bool | int | float):
        return f"{node.value} -> {_moved(node.value)}"
    if isinstance(node, ast.Attribute) and node.attr in OTHERS:
        return f"{node.attr} -> {OTHERS[node.attr]}"
    if isinstance(node, ast.Name) and node.id in OTHERS and isinstance(node.ctx, ast.Load):
        return f"{node.id} -> {OTHERS[node.id]}"
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.Invert):
        return "not left out"
    if isinstance(node, ast.AugAssign) and isinstance(node.op, ast.Add | ast.Sub):
        return "step left out"
    return ""


def _moved(value: bool | float) -> bool | float:
    """A constant beside the one that is there."""
    if isinstance(value, bool):
        return not value
    return value + 1 if isinstance(value, int) else value * 2 + 0.001


def _make(node: ast.AST) -> None:
    """Makes the change that `_way` tells of."""
    if isinstance(node, ast.Compare):
        node.ops[0] = TURNED[type(node.ops[0])]()  # type: ignore[call-overload]
    elif isinstance(node, ast.BinOp | ast.BoolOp):
        node.op = TURNED[type(node.op)]()  # type: ignore[assignment]
    elif isinstance(node, ast.Constant):
        node.value = _moved(node.value)  # type: ignore[arg-type]
    elif isinstance(node, ast.Attribute):
        node.attr = OTHERS[node.attr]
    elif isinstance(node, ast.Name):
        node.id = OTHERS[node.id]
    elif isinstance(node, ast.UnaryOp):
        node.operand = ast.UnaryOp(node.op, node.operand)  # twice is as if it were not there
    elif isinstance(node, ast.AugAssign):
        node.value = ast.Constant(0)


def _copied(tree: Path) -> Path:
    """A copy of what the repository holds, without its history and environments."""
    hidden = shutil.ignore_patterns(".git", ".venv", "__pycache__", "out", ".*_cache")
    shutil.copytree(ROOT, tree, ignore=hidden)
    return tree


def _noticed(python: Path, tree: Path, change: Change) -> bool:
    """Whether the tests that mirror the module's folder fail with the change."""
    module = tree / change.module
    before = module.read_text(encoding="utf-8")
    module.write_text(change.text(), encoding="utf-8")
    own = tree / "tests" / "planning" / change.module.relative_to(RULES).parent
    tests = own if own.is_dir() else tree / "tests" / "planning"
    run = [python, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", tests]
    environment = {**clean_environment(), "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            [str(word) for word in run],
            cwd=tree,
            env={**os.environ, **environment},
            capture_output=True,
            timeout=LONGEST,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return True
    finally:
        module.write_text(before, encoding="utf-8")
    return done.returncode != 0


if __name__ == "__main__":
    sys.exit(main())
