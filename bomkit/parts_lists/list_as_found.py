"""What a list is before anybody knows what its columns mean, and what was found in it."""

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Grid:
    """The cells of one list as text, blanks in front of them kept; rows bear their true number."""

    name: str  # of the sheet, or of the file without its ending
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...]


@dataclass(frozen=True)
class Doubt:
    """Something that the list contradicts itself in, or does not tell."""

    grid: str
    row: int  # 0: the list as a whole
    value: str
    message: str


@dataclass(frozen=True)
class Line:
    """One line of a list: how deep it stands, what and how much."""

    grid: str
    row: int
    depth: int
    item: str
    quantity: float | None
    unit: str = ""
    description: str = ""
    source: str = ""
    material: str = ""
    total: float | None = None  # where the list gives both
    parent: str = ""  # where a column names it
    position: str = ""  # such as 1.2.10, where lines are told apart by it


@dataclass
class ListLines:
    """The lines of one list, and what was passed over or is in doubt."""

    lines: list[Line] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    skipped: list[int] = field(default_factory=list)
