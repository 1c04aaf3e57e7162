"""What is wrong with the input, said so that a person can put it right."""

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

Severity = Literal["error", "warning"]


@dataclass(frozen=True)
class Problem:
    """One thing wrong in one place: where it stands, what stands there and what must hold."""

    file: str
    place: str  # "line 12", "sheet items cell C12", or "" for the file as a whole
    column: str  # "" where no single column is meant
    value: str  # the text found, "" where nothing was found
    message: str  # what must hold, and what to try
    severity: Severity = "error"

    def sentence(self) -> str:
        """The problem on one line: file, place, column, value, what must hold."""
        where = ", ".join(
            part
            for part in (
                f"{self.file} {self.place}".strip(),
                f"column {self.column}" if self.column else "",
            )
            if part
        )
        found = f" '{_shortened(self.value)}'" if self.value else ""
        return visible(f"{self.severity}: {where}:{found} {self.message}")


@dataclass(frozen=True)
class Finding:
    """A problem in a row of a table, before it is known in which file the table stands."""

    table: str
    row: int  # true line of the file or row of the sheet; 0 for the table as a whole
    column: str
    value: str
    message: str
    severity: Severity = "error"


@dataclass(frozen=True)
class Source:
    """The file, and in a workbook the sheet, that a table was read from."""

    file: str
    sheet: str = ""  # "" for a text file
    letters: Mapping[str, str] = field(default_factory=dict)  # column name -> "C" in a sheet

    def problem(self, finding: Finding) -> Problem:
        """The finding as a problem of this file."""
        place = f"sheet {self.sheet}" if self.sheet else ""
        if finding.row and self.sheet:
            cell = f"{self.letters.get(finding.column, '')}{finding.row}"
            place += f" cell {cell}" if finding.column in self.letters else f" row {finding.row}"
        elif finding.row:
            place = f"line {finding.row}"
        return Problem(
            self.file, place, finding.column, finding.value, finding.message, finding.severity
        )


class ProblemsFound(Exception):  # noqa: N818 - reads as what happened
    """Raised where work can't go on because of problems in the user's data."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = list(problems)
        super().__init__(f"{len(self.problems)} problems")


def of_whole(file: object, message: str, value: str = "") -> Problem:
    """The problem that a file or folder has as a whole."""
    return Problem(str(file), "", "", value, message)


def refusal(file: object, message: str, value: str = "") -> ProblemsFound:
    """To be raised where a file or folder as a whole stands in the way of all else."""
    return ProblemsFound([of_whole(file, message, value)])


def has_errors(problems: Iterable[Problem]) -> bool:
    """Whether any of the problems forbids planning."""
    return any(problem.severity == "error" for problem in problems)


def refuse_errors(problems: Sequence[Problem]) -> None:
    """Raises ProblemsFound with all of the problems where one of them forbids planning."""
    if has_errors(problems):
        raise ProblemsFound(problems)


def visible(words: str) -> str:
    """The words with control and escape characters spelt out, so that no terminal obeys them."""
    return "".join(
        char
        if char.isprintable() or char == "\n" or unicodedata.category(char) == "Zs"
        else char.encode("unicode_escape").decode()
        for char in words
    )


def _shortened(value: str, longest: int = 80) -> str:
    """The value without line breaks, cut where it gets too long to read."""
    flat = visible(" ".join(value.split()))
    return flat if len(flat) <= longest else flat[: longest - 3] + "..."
