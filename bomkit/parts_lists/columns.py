"""What the columns of a list mean: guessed, or told in a small TOML file that can be mended."""

import json
import tomllib
from dataclasses import dataclass, field
from typing import Literal, get_args

Shape = Literal["levels", "stepped", "positions", "indents", "flat", "matrix"]
Means = Literal["each", "total", "?"]
ROLES = (
    *("level", "position", "parent", "item", "description"),
    *("quantity", "total", "unit", "source", "material"),
)
_START = """\
# What the columns of a parts list mean. Mend what was guessed wrongly, and give this file again:
#   bomkit import LIST --into DATA --columns THIS_FILE
# shape: levels (a number says how deep), stepped (the item stands in the column of its level),
#        positions (1.2.10), indents (blanks in front of the item), flat (a parent in a column, or
#        the list's own name), matrix (parents across, items down)
# level_columns: for stepped the column of each level, the highest first; where [columns] names
#        one for the item, they may hold mere marks
# quantity_means: each (for one of the parent) or total (for one of the whole); "?" is asked for
# decimal: "." or ","; "" where no number of the list has decimals
# top: what the rows of the highest level go into, if the list does not say so itself
# skip_rows: rows that are no lines of the list; [units]: words of the list, and bomkit's unit
"""


@dataclass(frozen=True)
class Columns:
    """What is where in a list; the columns are known by their heading, or as '#3' without one."""

    shape: Shape
    heading_row: int
    where: dict[str, str]  # role -> heading
    means: Means = "each"
    decimal: str = ""
    top: str = ""
    skip_rows: tuple[int, ...] = ()
    level_columns: tuple[str, ...] = ()  # headings, the highest level first
    units: dict[str, str] = field(default_factory=dict)
    sure: float = 1.0  # of the guess, 0 to 1


def columns_text(columns: Columns) -> str:
    """The TOML file that says it."""
    lines = [
        f"shape = {_quoted(columns.shape)}",
        f"heading_row = {columns.heading_row}",
        f"quantity_means = {_quoted(columns.means)}",
        f"decimal = {_quoted(columns.decimal)}",
        f"top = {_quoted(columns.top)}",
        f"skip_rows = {list(columns.skip_rows)}",
        f"level_columns = [{', '.join(map(_quoted, columns.level_columns))}]",
        "\n[columns]",
        *(f"{role} = {_quoted(heading)}" for role, heading in columns.where.items()),
        "\n[units]",
        *(f"{_quoted(word)} = {_quoted(unit)}" for word, unit in columns.units.items()),
    ]
    return _START + "\n" + "\n".join(lines) + "\n"


def read_columns(content: bytes) -> Columns:
    """What the TOML file says; raises ValueError with a sentence where it can't be understood."""
    try:
        told = tomllib.loads(content.decode("utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise ValueError(f"is not written as 'name = value': {error}") from error
    shape, means = told.get("shape", ""), told.get("quantity_means", "each")
    where, units = told.get("columns", {}), told.get("units", {})
    skip, row = told.get("skip_rows", []), told.get("heading_row", -1)
    steps = told.get("level_columns", [])
    _must(shape in get_args(Shape), f"shape must be one of {', '.join(get_args(Shape))}")
    _must(means in get_args(Means), "quantity_means must be each or total")
    _must(isinstance(row, int) and row >= 0, "heading_row must be the number of a row, or 0")
    _must(_is_words(where), '[columns] must hold lines such as item = "Part no."')
    _must(set(where) <= set(ROLES), f"[columns] knows only {', '.join(ROLES)}")
    _must(_is_words(units), '[units] must hold lines such as "Stk" = "pc"')
    _must(_is_rows(skip), "skip_rows must hold numbers of rows, such as [12, 40]")
    _must(_is_headings(steps), 'level_columns must hold headings, such as ["L1", "L2"]')
    _must(told.get("decimal", "") in ("", ".", ","), 'decimal must be "." or ","')
    _must(isinstance(told.get("top", ""), str), "top must be an item in quotation marks")
    decimal, top = told.get("decimal", ""), told.get("top", "")
    return Columns(shape, row, where, means, decimal, top, tuple(skip), tuple(steps), units)


def _must(holds: bool, message: str) -> None:
    if not holds:
        raise ValueError(message)


def _is_words(value: object) -> bool:
    return isinstance(value, dict) and all(isinstance(word, str) for word in value.values())


def _is_rows(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(row, int) for row in value)


def _is_headings(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(heading, str) for heading in value)


def _quoted(words: str) -> str:
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")
