"""A look at a workbook's bytes before anything opens it, so that no file can overwhelm us."""

import io
import itertools
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass

from bomkit.inputs.text_table import Unreadable

MOST_MEMBERS = 5_000
LARGEST_MEMBER = 200_000_000  # bytes unpacked
LARGEST_TOTAL = 400_000_000  # bytes unpacked
HIGHEST_RATIO = 200  # unpacked to packed; a sheet of figures comes to 10 or 30
RATIO_MATTERS_FROM = 5_000_000  # bytes unpacked
MOST_ROWS = 1_000_000
MOST_COLUMNS = 1_000
MOST_EMPTY_ROWS = 100_000  # beside ten for each row that holds something
MOST_MERGED_CELLS = 100_000
MOST_TEXTS = 2_000_000
LARGEST_TEXTS = 60_000_000  # bytes unpacked of the member that holds the shared texts
_START = 2_000  # bytes in which the first tag of a member stands
LONGEST_TEXT = 1_000_000  # bytes without any tag

_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"
_SHEET = re.compile(rb"<(?:\w+:)?sheetData[\s/>]")
_SHARED_TEXTS = re.compile(rb"<(?:\w+:)?sst[\s/>]")
_SHARED_TEXT = re.compile(rb"<(?:\w+:)?si[\s/>]")
_FORMULA = re.compile(rb"<(?:\w+:)?f[\s/>]")
_ROW = re.compile(rb"<(?:\w+:)?row(?:[\s/][^<>]*)?>")
_ROW_NUMBER = re.compile(rb"\sr\s*=\s*[\"']([^\"']*)[\"']")
_CELL = re.compile(rb"<(?:\w+:)?c[\s/>]")
_CELL_COLUMN = re.compile(rb"<(?:\w+:)?c\s(?:[^<>]*?\s)?r\s*=\s*[\"']([A-Za-z]+)[0-9]")
_MERGED = re.compile(
    rb"<(?:\w+:)?mergeCell\s(?:[^<>]*?\s)?ref\s*=\s*[\"']([A-Z]{1,3})(\d+):([A-Z]{1,3})(\d+)[\"']"
)


@dataclass(frozen=True)
class MergedCells:
    """A block of merged cells: its rows and columns, both counted from 1, and its name."""

    name: str
    rows: range
    columns: range


@dataclass(frozen=True)
class SheetLook:
    """What the bytes of a sheet tell: its width, its merged cells, whether it holds formulas."""

    widest: int | None  # highest column number; None if no cell says in which column it stands
    merged: tuple[MergedCells, ...]
    has_formulas: bool


def look_into(content: bytes) -> dict[str, SheetLook]:
    """A look at each sheet, by the name of its member in the archive.

    Raises Unreadable, with one sentence, for whatever is no workbook or too much to open.
    """
    if content.startswith(_OLD_WORKBOOK):
        raise Unreadable("is an old or protected workbook; save it as .xlsx without a password")
    if not content.startswith(b"PK\x03\x04"):
        raise Unreadable("is no .xlsx workbook; open it in the spreadsheet program, save as .xlsx")
    looks = {}
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        members = archive.infolist()
        _refuse_too_much(members)
        for member in members:
            _refuse_large_texts(archive, member)
            unpacked = archive.read(member)
            _refuse_unusual_xml(member.filename, unpacked)
            if _SHARED_TEXTS.search(unpacked):
                _refuse_long_texts(unpacked)
                _refuse_many_texts(unpacked)
            if _SHEET.search(unpacked):
                _refuse_long_texts(unpacked)
                looks[member.filename] = _look_at_sheet(unpacked)
    return looks


def column_number(letters: str) -> int:
    """The number of the column with these letters: 1 for A, 27 for AA."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def _refuse_too_much(members: list[zipfile.ZipInfo]) -> None:
    if len(members) > MOST_MEMBERS:
        raise Unreadable(f"holds {len(members)} parts, which no workbook of tables needs")
    for member in members:
        if member.flag_bits & 1:
            raise Unreadable("is protected; save it without a password")
        if member.file_size > LARGEST_MEMBER:
            raise Unreadable("has a sheet too large to read; delete what is not needed")
        ratio = member.file_size / max(member.compress_size, 1)
        if ratio > HIGHEST_RATIO and member.file_size > RATIO_MATTERS_FROM:
            raise Unreadable("unpacks to far more than its size; delete the empty rows and columns")
    if sum(member.file_size for member in members) > LARGEST_TOTAL:
        raise Unreadable("is too large to read when unpacked; delete what is not needed")


def _refuse_large_texts(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> None:
    """By the start of the member, whatever its name, so that the rest is not even unpacked."""
    if member.file_size > LARGEST_TEXTS:
        with archive.open(member) as packed:
            start = packed.read(_START)
        if _SHARED_TEXTS.search(start):
            raise Unreadable(
                f"holds more than {LARGEST_TEXTS // 1_000_000} MB of texts; delete old sheets"
            )


def _refuse_unusual_xml(name: str, unpacked: bytes) -> None:
    start = unpacked[:200].removeprefix(b"\xef\xbb\xbf").lstrip()
    is_xml = start.startswith(b"<")
    if name.lower().endswith((".xml", ".rels")) and not is_xml and unpacked:
        raise Unreadable("is damaged or written in an unusual way; open it and save it again")
    if is_xml and (b"<!DOCTYPE" in unpacked or b"<!ENTITY" in unpacked):
        raise Unreadable("holds definitions that no workbook needs; it is not opened")


def _refuse_many_texts(unpacked: bytes) -> None:
    texts = itertools.islice(_SHARED_TEXT.finditer(unpacked), MOST_TEXTS, None)
    if next(texts, None):
        raise Unreadable(f"holds more than {MOST_TEXTS:,} different texts; delete old sheets")


def _refuse_long_texts(unpacked: bytes) -> None:
    """Jump from tag to tag by the longest stride allowed; a stride without a tag is too long."""
    place = 0
    while place + LONGEST_TEXT < len(unpacked):
        tag = unpacked.rfind(b"<", place, place + LONGEST_TEXT)
        if tag < 0:
            raise Unreadable("holds a cell with far too long a text; shorten it")
        place = tag + 1


def _look_at_sheet(unpacked: bytes) -> SheetLook:
    _refuse_far_rows(unpacked)
    return SheetLook(
        _find_widest(unpacked),
        tuple(_find_merged(unpacked)),
        _FORMULA.search(unpacked) is not None,
    )


def _refuse_far_rows(unpacked: bytes) -> None:
    """Rows must come in order, as others are lost in reading, and not leave huge gaps."""
    highest = count = 0
    for row in _ROW.finditer(unpacked):
        written = _ROW_NUMBER.search(row[0])
        number = int(float(written[1])) if written else highest + 1
        if number <= highest:
            raise Unreadable("has rows in disorder; open it and save it again")
        highest = number
        count += 1
    if highest > MOST_ROWS:
        raise Unreadable(f"has something in row {highest:,}; delete the rows below the table")
    if highest > MOST_EMPTY_ROWS + 10 * count:
        raise Unreadable(f"has empty rows down to row {highest:,}; delete those below the table")


def _find_widest(unpacked: bytes) -> int | None:
    letters = _CELL_COLUMN.findall(unpacked)
    if not letters:
        return None
    if len(letters) != sum(1 for _ in _CELL.finditer(unpacked)):
        raise Unreadable("has cells without a place; open it and save it again")
    widest = max(column_number(column.decode()) for column in set(letters))
    if widest > MOST_COLUMNS:
        raise Unreadable(f"has something in column {widest:,}; delete the columns beside the table")
    return widest


def _find_merged(unpacked: bytes) -> Iterator[MergedCells]:
    cells = 0
    for first, top, last, bottom in _MERGED.findall(unpacked):
        rows = range(int(top), int(bottom) + 1)
        columns = range(column_number(first.decode()), column_number(last.decode()) + 1)
        cells += len(rows) * len(columns)
        if cells > MOST_MERGED_CELLS:
            raise Unreadable("has huge blocks of merged cells; unmerge them")
        yield MergedCells(f"{(first + top).decode()}:{(last + bottom).decode()}", rows, columns)
