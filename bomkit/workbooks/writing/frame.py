"""What stands around the pages of a workbook, from what the library writes around a single page.

The entry that stands there for the one page is repeated for each page of a book, with its own name,
number and cells.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple
from xml.sax.saxutils import escape

from bomkit.workbooks.writing.sheet import Book, Column, Line, Sheet

_BOOK, _TYPES, _LINKS = "xl/workbook.xml", "[Content_Types].xml", "xl/_rels/workbook.xml.rels"
_SHEET_ENTRY = re.compile(r"<sheet [^>]*/>")
_CELLS_ENTRY = re.compile(r"<definedName .*?</definedName>")
_TYPE_ENTRY = re.compile(r'<Override PartName="/xl/worksheets/sheet1\.xml"[^>]*/>')
_LINK_ENTRY = re.compile(r'<Relationship [^>]*"/xl/worksheets/sheet1\.xml"[^>]*/>')
_CORNER = re.compile(r"([A-Z]+)(\d+)")
# the one page, with what pages may have: its table can be filtered, its headings are repeated, and
# not all of it is printed
PAGE = Sheet("x", "x", "", [Column("", 10)], [Line([("x", "text")])], printed=0)
_FILTERED, _HEADINGS, _PRINTED = "'x'!$A$4:$A$5", "'x'!$4:$4", "'x'!$A$1:$A$4"


class Places(NamedTuple):
    """Of a page the cells that can be filtered, the rows of headings, and the cells that are
    printed, as A5:F20 or 4:4; nothing where there are none, or all are."""

    filtered: str
    headings: str
    printed: str


def framed(one_page: Mapping[str, bytes], book: Book, places: Sequence[Places]) -> dict[str, bytes]:
    """The members of a book but its pages.

    one_page: the members of a book of this run that holds PAGE alone; places: of each page.
    """
    members = dict(one_page)
    told, types, links = (members[name].decode() for name in (_BOOK, _TYPES, _LINKS))
    named = (_FILTERED, _HEADINGS, _PRINTED)
    entries = [_entry(told, cells) for cells in named]
    cells = [
        _of_page(entry, number, sheet.name, own, place)
        for number, (sheet, of_page) in enumerate(zip(book.sheets, places, strict=True))
        for entry, own, place in zip(entries, named, of_page, strict=True)
        if place
    ]
    told = told.replace("".join(entries), "".join(cells))
    entry = _SHEET_ENTRY.findall(told)[0]
    members[_BOOK] = told.replace(entry, "".join(_numbered(entry, book))).encode()
    entry = _TYPE_ENTRY.findall(types)[0]
    members[_TYPES] = types.replace(entry, "".join(_numbered(entry, book))).encode()
    entry = _LINK_ENTRY.findall(links)[0]
    styles, theme = len(places) + 1, len(places) + 2  # these two are numbered after the pages
    links = links.replace('Id="rId3"', f'Id="rId{theme}"').replace('Id="rId2"', f'Id="rId{styles}"')
    members[_LINKS] = links.replace(entry, "".join(_numbered(entry, book))).encode()
    return members


def _entry(told: str, cells: str) -> str:
    """The entry that names these cells of the one page."""
    (entry,) = (entry for entry in _CELLS_ENTRY.findall(told) if f">{cells}<" in entry)
    return str(entry)


def _of_page(entry: str, number: int, name: str, cells: str, place: str) -> str:
    """An entry of the one page as that of a page of this name and number, counted from 0."""
    quoted = escape("'" + name.replace("'", "''") + "'")
    fixed = re.sub(r"(?<=:)|^", "$", place) if place[0].isdigit() else _CORNER.sub(r"$\1$\2", place)
    return entry.replace('localSheetId="0"', f'localSheetId="{number}"').replace(
        f">{cells}<", f">{quoted}!{fixed}<"
    )


def _numbered(entry: str, book: Book) -> Iterator[str]:
    """The entry of the one page for each page of a book."""
    for number, sheet in enumerate(book.sheets, 1):
        name = escape(sheet.name, {'"': "&quot;"})
        yield (
            entry.replace('sheetId="1"', f'sheetId="{number}"')
            .replace('"rId1"', f'"rId{number}"')
            .replace("/sheet1.xml", f"/sheet{number}.xml")
            .replace('name="x"', f'name="{name}"')
        )
