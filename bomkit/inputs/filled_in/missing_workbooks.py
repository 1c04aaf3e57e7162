"""Workbooks to fill in that a run wrote and that are not where it wrote them."""

import re
from collections.abc import Collection, Iterator
from pathlib import Path, PurePosixPath

from bomkit.problems import Problem
from bomkit.words.problems import filling as said

_BESIDE_THE_WEEKS = "shortages"  # where deliveries of airframes are filled in
_PACKING = "kits"  # the folder of packing lists, and of consignments
_WEEK = re.compile(r"\d{4}-W\d\d")
_OF_PAPER = "pick_sheets"  # in a week: only written on with a pen
_CONSIGNMENT = re.compile(r".*-\d{4}-\d\d-\d\d(_\d+)?")  # all that leaves on a day: likewise


def not_there(folder: Path, written: Collection[str]) -> Iterator[Problem]:
    """Says which workbooks to fill in for the run's first week are gone, each by its name.

    written: the files of the run by name within its folder; none of a run that did not list them.
    """
    for name in to_fill_in(written):
        if not (folder / name).exists():
            yield Problem(name, "", "", "", said.WORKBOOK_GONE, "warning")


def to_fill_in(written: Collection[str]) -> list[str]:
    """Of the files of a run the workbooks that are filled in during its first week, by name."""
    books = [path for path in map(PurePosixPath, sorted(written)) if path.suffix == ".xlsx"]
    weeks = [path.parts[0] for path in books if _WEEK.fullmatch(path.parts[0])]
    return [str(path) for path in books if _is_filled_in(path, min(weeks, default=""))]


def _is_filled_in(path: PurePosixPath, week: str) -> bool:
    """Whether a workbook has lists to fill in; week: the folder of the first week."""
    if path.parent == PurePosixPath():
        return path.stem == _BESIDE_THE_WEEKS
    if path.parts[0] == _PACKING:
        return not _CONSIGNMENT.fullmatch(path.stem)
    return path.parts[0] == week and path.stem != _OF_PAPER
