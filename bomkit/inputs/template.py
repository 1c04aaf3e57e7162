"""An empty set of input files to fill in, with a guide; all of it from the declared tables."""

from pathlib import Path

from bomkit.problems import ProblemsFound, of_whole, refusal
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.columns_and_rules.plan_settings import PLAN
from bomkit.tables.columns_and_rules.shops_and_calendar import MOST_PLATES
from bomkit.tables.schema import (
    FIRST_YEAR,
    LAST_YEAR,
    LEAST_COUNTED,
    MOST_ASKED,
    MOST_COUNTED,
    Column,
    Kind,
    Table,
)

GUIDE_FILE = "GUIDE.md"
_EXAMPLES: dict[Kind, str] = {"date": "2026-11-30", "whole": "26", "number": "1.5", "rate": "0.08"}
_KIND_WORDS: dict[Kind, str] = {
    "name": "name",
    "text": "text",
    "names": "names, separated by spaces",
    "choice": "one of",
    "number": "number",
    "whole": "whole number",
    "rate": "rate, such as 0.08",
    "date": "date, such as 2026-11-30",
}
_GUIDE_START = """\
# The input tables

Each table is a CSV file of this folder, or else a sheet of one workbook; the first line holds the
names of the columns. Columns that are not required may be left out, and so may whole tables that
are not. An empty cell means the default. Names are compared letter by letter, and a leading zero
counts. Write decimals with a point; with a comma only where semicolons or tabs separate the
columns. Save CSV files as UTF-8.

Numbers are {most:,.0f} at most where no other limit is given, and one with decimals is 0 or at
least {least:.9f}; dates lie between {first} and {last}. What goes beyond is refused as a slip,
and so is a plan whose structure multiplies to more than {counted:,.0f} of an item or whose
printed parts fill more than {plates:,} plates.
"""


def write_template(folder: Path) -> list[Path]:
    """Write the empty input files and the guide into the folder, and return their paths.

    Raises ProblemsFound, and writes nothing, if any of them is there already or can't be written.
    """
    texts = {f"{name}.csv": ",".join(t.column_names) + "\n" for name, t in _tables_of_rows()}
    texts["plan.toml"] = _settings_text(PLAN)
    texts[GUIDE_FILE] = guide_text()
    taken = [name for name in texts if (folder / name).exists()]
    if taken:
        message = f"is in {folder} already; nothing was written, choose an empty folder"
        raise ProblemsFound(of_whole(name, message) for name in taken)
    try:
        return _write_new_files(folder, texts)
    except OSError as error:
        message = f"can't be written: {error.strerror or error}"
        raise refusal(folder, message) from error


def guide_text() -> str:
    """Every table and column in words, in Markdown."""
    start = _GUIDE_START.format(
        most=MOST_COUNTED,
        least=LEAST_COUNTED,
        first=FIRST_YEAR,
        last=LAST_YEAR,
        counted=MOST_ASKED,
        plates=MOST_PLATES,
    )
    return "\n".join([start, *(_table_section(table) for table in INPUTS.values())])


def _write_new_files(folder: Path, texts: dict[str, str]) -> list[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    paths = [folder / name for name in texts]
    begun: list[Path] = []
    try:
        for path in paths:
            with path.open("x", encoding="utf-8", newline="\n") as file:
                begun.append(path)
                file.write(texts[path.name])
    except OSError:  # such as a full disk
        for path in begun:
            path.unlink(missing_ok=True)
        raise
    return paths


def _tables_of_rows() -> list[tuple[str, Table]]:
    return [(name, table) for name, table in INPUTS.items() if table is not PLAN]


def _settings_text(table: Table) -> str:
    """plan.toml with every setting explained and none made: nobody plans from an example."""
    lines = ["# The settings of the plan. Remove the # before a line to make it count.", ""]
    for column in table.columns:
        need = "required" if column.required else "may be left out"
        lines += [f"# {column.help} ({need})", f"# {column.name} = {_example(column)}", ""]
    return "\n".join(lines)


def _example(column: Column) -> str:
    if column.default is not None:
        return f'"{column.default}"' if isinstance(column.default, str) else f"{column.default}"
    return _EXAMPLES.get(column.kind, '""')


def _table_section(table: Table) -> str:
    file = "plan.toml" if table is PLAN else f"{table.name}.csv"
    need = "required" if table.required else "may be missing"
    lines = [f"## {file}", "", f"{table.help} ({need})", ""]
    if table.key:
        several = "Each combination of " if len(table.key) > 1 else "Each "
        lines += [f"{several}{_listed(table.key)} only once.", ""]
    lines += ["| column | what it is | kind | empty means |", "|---|---|---|---|"]
    lines += [_column_row(column) for column in table.columns]
    return "\n".join([*lines, ""])


def _column_row(column: Column) -> str:
    name = f"**{column.name}**" if column.required else column.name
    cells = (name, column.help, _kind_text(column), _empty_text(column))
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _kind_text(column: Column) -> str:
    """The kind of the values and every condition on them."""
    parts = [_KIND_WORDS[column.kind]]
    if column.choices:
        parts[0] += " " + ", ".join(column.choices)
    if column.at_least is not None and column.above is None:
        parts.append(f"at least {column.at_least:g}")
    if column.above is not None:
        parts.append(f"more than {column.above:g}")
    if column.at_most is not None:
        parts.append(f"at most {column.at_most:g}")
    if column.refers_to:
        parts.append(f"must stand in {' or '.join(column.refers_to)}")
    return "; ".join(parts)


def _empty_text(column: Column) -> str:
    if column.required:
        return "not allowed"
    return "" if column.default is None else f"{column.default}"


def _listed(words: tuple[str, ...]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
