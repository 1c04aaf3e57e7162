"""The small changes that can be made of a module's code."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

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

    def text(self, root: Path) -> str:
        """The module with the change made; root: the repository."""
        tree = ast.parse((root / self.module).read_text(encoding="utf-8"))
        _make(next(node for place, node in enumerate(ast.walk(tree)) if place == self.node))
        return ast.unparse(ast.fix_missing_locations(tree))


def changes_of(root: Path, module: Path) -> Iterator[Change]:
    """Every small change of a module; module: its path below root, the repository."""
    tree = ast.parse((root / module).read_text(encoding="utf-8"))
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
