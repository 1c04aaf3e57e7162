"""What a line says of how deep it stands: its level, such as 2, or its position, such as 1.2.10."""

import re

_LEVEL = re.compile(r"[.\s]*([0-9]{1,2})(?:\.0)?")  # ..2 as well, and 2.0 as spreadsheets keep it
_POSITION = re.compile(r"([0-9]+(?:\.[0-9]+)*)\.?")


def level_of(text: str) -> int | None:
    """The level that a cell says; None if it says none."""
    level = _LEVEL.fullmatch(text.strip())
    return int(level[1]) if level else None


def position_of(text: str) -> str:
    """The position that a cell says, without a point behind it; empty if it says none."""
    position = _POSITION.fullmatch(text.strip())
    return position[1] if position else ""


def depth_of(position: str) -> int:
    """How deep a position stands: 1.2.10 two below the highest."""
    return position.count(".")


def position_above(position: str) -> str:
    """The position of what a position goes into: 1.2 of 1.2.10; empty on the highest level."""
    return position.rpartition(".")[0]


def is_below(position: str, other: str) -> bool:
    """Whether a position stands somewhere below another one."""
    return position.startswith(f"{other}.")
