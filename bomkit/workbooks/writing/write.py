"""Sheet descriptions to the bytes of a workbook."""

import dataclasses
import datetime as dt
import io
import re
import zipfile
from functools import lru_cache

from bomkit.workbooks.writing.frame import PAGE, Places, framed
from bomkit.workbooks.writing.keyed import count_of_lists, is_filled_in, keyed, limits_written
from bomkit.workbooks.writing.layout import Laid, laid_out
from bomkit.workbooks.writing.library import page_of, style_numbers, written
from bomkit.workbooks.writing.rows import sheet_rows
from bomkit.workbooks.writing.sheet import Book, Column, Sheet

_PRESSED = 3  # of 9: half the time of the usual 6, for files that are a sixth larger
_FIXED = (1980, 1, 1, 0, 0, 0)  # the date of every member of the archive
_CORE = "docProps/core.xml"  # with the time of saving, which is taken out
_CUSTOM = "docProps/custom.xml"
_LISTS = b"<vt:lpwstr>%d</vt:lpwstr>"
_NO_LISTS = _LISTS % 0  # of the one page that the library writes
_TYPES = "[Content_Types].xml"  # first by custom: some readers look for it there
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")
_DIMENSION = re.compile(rb'<dimension ref="[^"]*"\s*/>')
_PROTECTION = re.compile(rb"<sheetProtection [^>]*>")
_ROWS = re.compile(rb"<sheetData\s*/>|<sheetData>.*?</sheetData>", re.DOTALL)
# what pages made from one of their kind may have; whatever else a sheet is given the library writes
_OF_KINDS = {
    *("name", "title", "subtitle", "columns", "lines", "notes", "cautions"),
    *("filtered", "frozen_columns", "heading_height", "wall", "portrait", "printed", "entries"),
}


def workbook_bytes(book: Book) -> bytes:
    """The workbook as .xlsx; the same book gives the same bytes."""
    return _packed(workbook_members(book))


def workbook_members(book: Book) -> dict[str, bytes]:
    """The members of the archive by name.

    The library writes everything but the rows. Of books without charts it writes one page of each
    kind, once: that is most of the time that a book takes. Its members are the same either way.
    """
    return _by_kinds(keyed(book)) if all(map(_is_plain, book.sheets)) else by_library(book)


def _is_plain(sheet: Sheet) -> bool:
    """Whether a sheet has nothing but what pages of its kind have."""
    return all(
        getattr(sheet, field.name) == field.default
        for field in dataclasses.fields(sheet)
        if field.name not in _OF_KINDS
    )


def by_library(book: Book) -> dict[str, bytes]:
    """The members as the library writes them, with the rows put in."""
    book = keyed(book)
    members = written(book)
    for number, sheet in enumerate(book.sheets, 1):
        path, laid = f"xl/worksheets/sheet{number}.xml", laid_out(sheet)
        before, after_extent, after = _split(members[path])
        rows = sheet_rows(laid.lines, style_numbers()).told
        members[path] = _joined(before, laid.extent, after_extent, rows, after)
    stamp = f"{dt.datetime.combine(book.made, dt.time()).isoformat()}Z".encode()
    members[_CORE] = _MODIFIED.sub(rb"\g<1>" + stamp + rb"\g<2>", members[_CORE])
    return members


def _by_kinds(book: Book) -> dict[str, bytes]:
    """The members with each page made from one of its kind."""
    laid = [laid_out(sheet) for sheet in book.sheets]
    places = [_places(sheet, page) for sheet, page in zip(book.sheets, laid, strict=True)]
    members = framed(_around(book.run_id, book.maker, book.made), book, places)
    members[_CUSTOM] = members[_CUSTOM].replace(_NO_LISTS, _LISTS % count_of_lists(book))
    for number, (sheet, page, own) in enumerate(zip(book.sheets, laid, places, strict=True), 1):
        widths = tuple((column.width, column.hidden) for column in sheet.columns)
        look = (
            *(bool(sheet.cautions), sheet.wall, sheet.portrait),
            *(sheet.frozen_columns, is_filled_in(book)),
        )
        before, after_extent, after = _kind(widths, look, page.heading_row, book.maker, book.run_id)
        protection, after = _protection(after)
        more = f'<autoFilter ref="{own.filtered}" />' if own.filtered else ""
        rows = sheet_rows(page.lines, style_numbers())
        after = b"".join(
            (protection, f"{more}{limits_written(sheet, page)}{rows.links}".encode(), after)
        )
        told = _joined(before, page.extent, after_extent, rows.told, after)
        members[f"xl/worksheets/sheet{number}.xml"] = told
    return members


@lru_cache(maxsize=8)
def _around(run_id: str, maker: str, made: dt.date) -> dict[str, bytes]:
    """The members of a book with a single page, without the page."""
    members = by_library(Book([PAGE], run_id, maker, made))
    return {name: content for name, content in members.items() if "/sheet1.xml" not in name}


def _places(sheet: Sheet, laid: Laid) -> Places:
    """The cells that can be filtered, none of an empty table; headings; and what is printed."""
    row = laid.heading_row
    last = laid.extent.split(":")[1].rstrip("0123456789")
    filtered = sheet.filtered and len(sheet.lines) > 0
    part = sheet.printed is not None and sheet.printed < len(sheet.lines)
    return Places(
        f"A{row}:{last}{row + len(sheet.lines)}" if filtered else "",
        f"{row}:{row}",
        f"A1:{last}{row + (sheet.printed or 0)}" if part else "",
    )


@lru_cache(maxsize=256)
def _kind(
    widths: tuple[tuple[float, bool], ...],
    look: tuple[bool, bool, bool, int, bool],
    heading_row: int,
    maker: str,
    run_id: str,
) -> tuple[bytes, bytes, bytes]:
    """A page by the library: what stands before its extent, between that and the rows, and after.

    widths: of each column, and whether it is hidden; look: whether there are cautions, whether it
    is for the wall, or upright, how many columns are frozen, whether the book is filled in.
    """
    cautions, wall, portrait, frozen, filled_in = look
    columns = [Column("", width, hidden=hidden) for width, hidden in widths]
    sheet = Sheet("x", "x", "", columns, [], wall=wall, portrait=portrait, filtered=False,
                  cautions=("x",) * cautions, frozen_columns=frozen,
                  entries="x" * filled_in)  # fmt: skip
    book = Book([sheet], run_id, maker, dt.date(2000, 1, 1))
    return _split(page_of(sheet, Laid((), heading_row, ""), book))


def _protection(after: bytes) -> tuple[bytes, bytes]:
    """What protects a page, if anything does, and what follows."""
    found = _PROTECTION.match(after)
    return (found[0], after[found.end() :]) if found else (b"", after)


def _split(page: bytes) -> tuple[bytes, bytes, bytes]:
    """A page before its extent, from there to its rows, and after them."""
    before, rest = _DIMENSION.split(page, maxsplit=1)
    between, after = _ROWS.split(rest, maxsplit=1)
    return before, between, after


def _joined(before: bytes, extent: str, between: bytes, rows: str, after: bytes) -> bytes:
    """A page with its extent and its rows."""
    return b"".join(
        (before, f'<dimension ref="{extent}"/>'.encode(), between, rows.encode(), after)
    )


def _packed(members: dict[str, bytes]) -> bytes:
    """The archive: members in order, each with a fixed date."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as target:
        for name in sorted(members, key=lambda name: (name != _TYPES, name)):
            member = zipfile.ZipInfo(name, _FIXED)
            member.external_attr = 0o644 << 16
            member.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(member, members[name], compresslevel=_PRESSED)
    return packed.getvalue()
