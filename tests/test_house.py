"""The house: which way the code may import."""

import ast
from pathlib import Path

import bomkit

PACKAGE = Path(bomkit.__file__).parent
# each part may import from itself and from the parts named
MAY_IMPORT = {
    "inputs": {"tables", "problems", "units", "schema", "labels"},
    "planning": {"tables", "result_tables", "problems", "units", "schema", "labels"},
    "workbooks": {"tables", "problems", "units", "schema", "labels"},
    "tables": {"shop_tables", "result_tables", "schema", "problems", "units", "labels"},
    "result_tables": {"schema", "units"},
    "shop_tables": {"schema"},
    "schema": {"problems"},
    "problems": set(),
    "units": set(),
    "labels": set(),
    "batch": {
        *("inputs", "planning", "workbooks"),
        *("out_folder", "run_files", "tables", "problems", "labels", "units"),
    },
    "spares_run": {
        *("batch", "inputs", "planning", "workbooks"),
        *("out_folder", "tables", "problems", "labels", "units"),
    },
    "kit_run": {"batch", "workbooks", "out_folder", "problems"},
    "kit_screen": {"workbooks", "labels"},
    "out_folder": {"problems"},
    "run_files": {"inputs", "workbooks", "out_folder", "tables", "problems"},
    "questions": {"batch", "inputs", "run_files", "planning", "problems"},
    "studies": {"batch", "inputs", "planning", "workbooks", "problems", "labels"},
    "screens": {"workbooks", "labels"},
    "why_screen": {"planning", "labels"},
    "spares_screen": {"workbooks", "labels"},
    "cli": {
        *("batch", "spares_run", "kit_run", "questions", "studies", "inputs", "problems"),
        *("screens", "why_screen", "spares_screen", "kit_screen"),
    },
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
    for module in (PACKAGE / "planning").glob("*.py"):
        for node in ast.walk(ast.parse(module.read_text())):
            if isinstance(node, ast.Import):
                assert not {alias.name for alias in node.names} & forbidden, module
            if isinstance(node, ast.ImportFrom):
                assert node.module not in forbidden, module


def test_the_start_of_the_commands_imports_only_click() -> None:
    tree = ast.parse((PACKAGE / "cli.py").read_text())
    at_the_top = {
        node.module if isinstance(node, ast.ImportFrom) else node.names[0].name
        for node in tree.body
        if isinstance(node, ast.Import | ast.ImportFrom)
    }
    standard = {"__future__", "math", "sys", "time", "collections.abc", "pathlib", "typing"}
    assert at_the_top - standard == {"click", "bomkit"}


def test_every_label_is_said_once_and_used() -> None:
    tree = ast.parse((PACKAGE / "labels.py").read_text())
    said = [
        name.id
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        for name in ast.walk(target)
        if isinstance(name, ast.Name)
    ]
    assert len(said) == len(set(said)), sorted({name for name in said if said.count(name) > 1})
    used = {
        node.attr
        for module in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(module.read_text()))
        if isinstance(node, ast.Attribute)
    }
    assert set(said) - used == set()
