"""Sheet descriptions to the bytes of a workbook."""

import io
import zipfile

from bomkit.workbooks.writing.hidden_keys import keyed
from bomkit.workbooks.writing.layout import laid_out
from bomkit.workbooks.writing.sheet import Book
from bomkit.workbooks.writing.xml_parts.charts import chart_members
from bomkit.workbooks.writing.xml_parts.workbook import around_worksheets, worksheet_name
from bomkit.workbooks.writing.xml_parts.worksheet import worksheet

_PRESSED = 3  # of 9: half the time of the usual 6, for files that are a sixth larger
_FIXED = (1980, 1, 1, 0, 0, 0)  # the date of every member of the archive


def workbook_bytes(book: Book) -> bytes:
    """The workbook as .xlsx; the same book gives the same bytes."""
    return _packed(workbook_members(book))


def workbook_members(book: Book) -> dict[str, str]:
    """The members of the archive by name."""
    book = keyed(book)
    laid = [laid_out(sheet) for sheet in book.sheets]
    members: dict[str, str] = {}
    charts = 0
    for number, (sheet, own) in enumerate(zip(book.sheets, laid, strict=True), 1):
        members[worksheet_name(number)] = worksheet(sheet, own, book)
        if sheet.chart is not None:
            charts += 1
            members |= chart_members(sheet, sheet.chart, own.heading_row, (number, charts))
    return members | around_worksheets(book, laid, members)


def _packed(members: dict[str, str]) -> bytes:
    """The archive: members in order, each with a fixed date."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as target:
        for name in sorted(members):  # [Content_Types].xml first, where some readers look for it
            member = zipfile.ZipInfo(name, _FIXED)
            member.external_attr = 0o644 << 16
            member.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(member, members[name], compresslevel=_PRESSED)
    return packed.getvalue()
