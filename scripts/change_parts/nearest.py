"""Which tests are nearest to a change."""

from __future__ import annotations

import ast
from typing import Any

REACH = "TRY_CHANGES_REACH"  # names the file for what each test calls (reach.py writes it)
ORDER = "TRY_CHANGES_ORDER"  # names the file that has the tests to be run first


def nearest(reached: dict[str, Any], text: str, module: str, line: int) -> list[str]:
    """The tests that call the function on that line, the quickest first; all, if it is in none."""
    first = _first_line(ast.parse(text), line)
    near = [
        (told["seconds"], test)
        for test, told in reached.items()
        if not first or first in told["calls"].get(module, ())
    ]
    return [test for _, test in sorted(near)]


def _first_line(tree: ast.Module, line: int) -> int:
    """The first line of the outermost function in which a line stands; 0 if it stands in none."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):  # walked from the outside inwards
            first = min([node.lineno, *(each.lineno for each in node.decorator_list)])
            if first <= line <= (node.end_lineno or first):
                return first
    return 0
