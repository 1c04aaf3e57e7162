"""The house: which way the code may import."""

import ast
from collections.abc import Iterator
from pathlib import Path

import bomkit

PACKAGE = Path(bomkit.__file__).parent
MOST_MODULES = 14  # in a folder, with its __init__.py; a dozen is better
MOST_LINES = 250  # of a module
LONGEST_FUNCTION = 30  # lines, with its docstring
# each part may import from itself and from the parts named; a file at the top is its own part
MAY_IMPORT = {
    "problems": set(),
    "units": set(),
    "words": set(),
    "tables": {"problems", "units", "words"},
    "parts_lists": {"units"},
    "inputs": {"parts_lists", "tables", "problems", "units", "words"},
    "planning": {"tables", "problems", "units", "words"},
    "checks": {"inputs", "planning", "tables", "problems", "units", "words"},
    "workbooks": {"tables", "problems", "units", "words"},
    "runs": {
        "inputs",
        "parts_lists",
        "checks",
        "planning",
        "workbooks",
        "tables",
        "problems",
        "units",
        "words",
    },
    "screens": {"parts_lists", "planning", "workbooks", "tables", "words", "units"},
    "commands": {"parts_lists", "runs", "screens", "inputs", "checks", "tables", "problems"},
    "cli": {"commands"},
    "__main__": {"cli"},
    "__init__": set(),
}


def imported_parts(module: Path) -> set[str]:
    """The parts of bomkit that a module imports, wherever in it the import stands."""
    parts = set()
    for node in ast.walk(ast.parse(module.read_text())):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = (
                [f"bomkit.{alias.name}" for alias in node.names]
                if node.module == "bomkit"
                else [node.module]
            )
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        parts |= {name.split(".")[1] for name in names if name.startswith("bomkit.")}
    return parts - {"__version__"}


def test_every_module_imports_only_what_the_house_allows() -> None:
    for module in PACKAGE.rglob("*.py"):
        part = module.relative_to(PACKAGE).parts[0].removesuffix(".py")
        beyond = imported_parts(module) - MAY_IMPORT[part] - {part}
        assert not beyond, f"{module.relative_to(PACKAGE)} imports {sorted(beyond)}"


def test_planning_touches_no_files_clock_or_chance() -> None:
    forbidden = {"pathlib", "os", "time", "random", "io", "sys", "openpyxl"}
    for module in (PACKAGE / "planning").rglob("*.py"):
        for node in ast.walk(ast.parse(module.read_text())):
            if isinstance(node, ast.Import):
                assert not {alias.name for alias in node.names} & forbidden, module
            if isinstance(node, ast.ImportFrom):
                assert node.module not in forbidden, module


def test_the_start_of_the_commands_imports_only_click() -> None:
    at_the_top = {
        node.module if isinstance(node, ast.ImportFrom) else node.names[0].name
        for module in (PACKAGE / "cli.py", *(PACKAGE / "commands").rglob("*.py"))
        for node in ast.parse(module.read_text()).body
        if isinstance(node, ast.Import | ast.ImportFrom)
    }
    standard = {"__future__", "gc", "math", "sys", "time", "typing"}
    standard |= {"atexit", "collections.abc", "contextlib", "io", "os"}
    assert {name for name in at_the_top - standard if not _is_of_the_commands(name)} == {"click"}


def _is_of_the_commands(name: str) -> bool:
    """Whether a module is bomkit's version alone, or one of its commands."""
    return name == "bomkit" or name.startswith("bomkit.commands")


def test_every_word_is_said_once_and_used() -> None:
    said = [
        name.id
        for module in (PACKAGE / "words").rglob("*.py")
        for node in ast.parse(module.read_text()).body
        if isinstance(node, ast.Assign)
        for target in node.targets
        for name in ast.walk(target)
        if isinstance(name, ast.Name)
    ]
    assert len(said) == len(set(said)), sorted({name for name in said if said.count(name) > 1})
    used = {
        getattr(node, "attr", None) or getattr(node, "id", None)
        for module in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(module.read_text()))
        if isinstance(node, ast.Attribute | ast.Name) and isinstance(node.ctx, ast.Load)
    }
    assert set(said) - used == set()


def test_no_folder_holds_more_modules_than_a_reader_takes_in() -> None:
    for folder in {module.parent for module in PACKAGE.rglob("*.py")}:
        assert len(list(folder.glob("*.py"))) <= MOST_MODULES, folder.relative_to(PACKAGE)


def _modules() -> Iterator[tuple[str, str]]:
    """Every module, by its place in the package, with its text."""
    for module in PACKAGE.rglob("*.py"):
        yield module.relative_to(PACKAGE).as_posix(), module.read_text()


def test_modules_are_short_enough_to_be_read_in_one_go() -> None:
    long = {place for place, text in _modules() if len(text.splitlines()) > MOST_LINES}
    assert not long


def _lines_of(function: ast.FunctionDef) -> int:
    """How many lines a function has, without what decorates it."""
    return (function.end_lineno or 0) - function.lineno + 1


def test_functions_are_short() -> None:
    long = {
        f"{place}: {function.name}"
        for place, text in _modules()
        for function in ast.walk(ast.parse(text))
        if isinstance(function, ast.FunctionDef) and _lines_of(function) > LONGEST_FUNCTION
    }
    assert not long
