"""What docstrings, comments and DEVELOPERS.md point at is there, under the name they give it."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from io import StringIO
from pathlib import Path
from tokenize import COMMENT, generate_tokens

import pytest

import bomkit
from bomkit.tables.columns_and_rules.by_name import INPUTS

PACKAGE = Path(bomkit.__file__).parent
HOUSE = PACKAGE.parent
DATA_FILES = {"csv", "toml", "xlsx", "json", "md"}
CHAIN = re.compile(r"(?<![\w./-])[A-Za-z_]\w*(?:\.[A-Za-z_]\w+)+(?![\w/-])")
QUOTED = re.compile(r"`([^`\n]+)`")


@cache
def files() -> frozenset[str]:
    """Every module and skeleton of the house and their folders, by place."""
    modules = [
        module
        for part in ("bomkit", "tests", "scripts")
        for kind in ("*.py", "*.xml")
        for module in (HOUSE / part).rglob(kind)
    ]
    folders = {folder for module in modules for folder in module.relative_to(HOUSE).parents}
    return frozenset(
        ["/" + module.relative_to(HOUSE).as_posix() for module in modules]
        + [f"/{folder.as_posix()}/" for folder in folders]
    )


def stands(place: str) -> bool:
    """Whether some file or folder has a place that ends so."""
    return any(file.endswith(f"/{place}") for file in files())


@cache
def named() -> dict[str, set[str]]:
    """By module and by class what it names: functions, classes, values and attributes."""
    found: dict[str, set[str]] = {name: set(INPUTS[name].column_names) for name in INPUTS}
    for module in PACKAGE.rglob("*.py"):
        tree = ast.parse(module.read_text())
        classes = [node for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]
        for name, top in [(module.stem, tree), *((node.name, node) for node in classes)]:
            found.setdefault(name, set()).update(names_in(top))
    return found


def names_in(top: ast.AST) -> Iterator[str]:
    """What a module or class defines, or sets of itself."""
    for node in ast.walk(top):
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store):
            yield node.attr


def is_there(chain: str) -> bool:
    """Whether a.b is a module, something that a module or class names, a column, or a data file."""
    owner, name = chain.split(".")[-2:]
    path = chain.replace(".", "/")
    return (
        name in DATA_FILES
        or name in named().get(owner, ())
        or stands(f"{path}.py")
        or (name == "py" and stands(f"{owner}.py"))
    )


def told(module: Path) -> Iterator[str]:
    """The docstrings and comments of a module."""
    text = module.read_text()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef):
            yield ast.get_docstring(node) or ""
    for token in generate_tokens(StringIO(text).readline):
        if token.type == COMMENT:
            yield token.string


@pytest.mark.parametrize("chain", ["pegs.nowhere", "nowhere.peg", "planning.nowhere"])
def test_what_is_not_there_is_found_out(chain: str) -> None:
    assert not is_there(chain)


def test_docstrings_and_comments_point_at_what_is_there() -> None:
    stale = {
        f"{module.relative_to(PACKAGE)}: {chain}"
        for module in PACKAGE.rglob("*.py")
        for text in told(module)
        for chain in CHAIN.findall(text)
        if not is_there(chain)
    }
    assert not stale


def test_the_map_points_at_what_is_there() -> None:
    stale = set()
    for quoted in QUOTED.findall((HOUSE / "DEVELOPERS.md").read_text()):
        if re.fullmatch(r"[\w/]+(?:\.py|/)", quoted):
            stale |= set() if stands(quoted) else {quoted}
        elif CHAIN.fullmatch(quoted):
            stale |= set() if is_there(quoted) else {quoted}
    assert not stale
