"""Sheet descriptions to the bytes of a workbook; the only module that writes with openpyxl."""

import datetime as dt
import io
import os
import re
import zipfile
from collections.abc import Iterator, Sequence
from typing import Any

# one way of writing XML whatever else is installed: the same input gives the same bytes
os.environ["OPENPYXL_LXML"] = "False"

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._write_only import WriteOnlyWorksheet
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.writer.excel import ExcelWriter

from bomkit import labels
from bomkit.workbooks import style
from bomkit.workbooks.charts import add_stacked_columns
from bomkit.workbooks.sheet import Book, Cell, Link, Sheet

_EPOCH = dt.date(1899, 12, 30)
_FIXED = (1980, 1, 1, 0, 0, 0)
_LONGEST_TEXT = 32_767  # a cell holds no more
_TYPES = "[Content_Types].xml"  # first by custom: some readers look for it there
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")
_FORBIDDEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def workbook_bytes(book: Book) -> bytes:
    """The workbook as .xlsx; the same book gives the same bytes."""
    workbook: Any = Workbook(write_only=True)
    normal = workbook._named_styles["Normal"]
    normal.font = Font(name=style.FONT, size=10)  # the unit of column widths
    stamped = dt.datetime.combine(book.made, dt.time())
    workbook.properties.created = stamped
    workbook.properties.creator = "bomkit"
    workbook.properties.title = book.run_id
    workbook.custom_doc_props.append(StringProperty(name="run_id", value=book.run_id))
    writer = _SheetWriter(workbook, book)
    for sheet in book.sheets:
        writer.write(sheet)
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_STORED, allowZip64=True) as archive:
        ExcelWriter(workbook, archive).save()
    return _repacked(raw, stamped)


class _SheetWriter:
    """Writes sheets with one prepared cell a style: setting its value is all that is left to do."""

    def __init__(self, workbook: Workbook, book: Book) -> None:
        self.workbook = workbook
        self.book = book
        self.styles: dict[str, Any] = {}

    def write(self, sheet: Sheet) -> None:
        """Adds the sheet with its page setup, headings, rows and chart."""
        target = self.workbook.create_sheet(sheet.name)
        assert isinstance(target, WriteOnlyWorksheet)
        heads = [(column.heading, column.style) for column in sheet.columns]
        above: list[Sequence[Cell]] = [[(sheet.title, "title")], [(sheet.subtitle, "subtitle")]]
        above += [[(note, "note")] for note in sheet.notes]
        heading_row = len(above) + 2
        _set_up_page(target, sheet, self.book, heading_row)
        _set_heights(target, sheet, heading_row)
        pens = {name: self._pen(target, name) for name in style.STYLES}
        rows = [*above, [], heads, *(line.cells for line in sheet.lines)]
        for number, cells in enumerate(rows, 1):
            target.append(_inked(cells, number, pens, target))
        if sheet.chart is not None:
            add_stacked_columns(target, sheet, sheet.chart, heading_row)

    def _pen(self, target: WriteOnlyWorksheet, name: str) -> Any:
        """A cell of the sheet in a style; the style is made once for the workbook."""
        pen: Any = WriteOnlyCell(target)
        if name not in self.styles:
            _dress(pen, style.STYLES[name])
            self.styles[name] = pen._style
        pen._style = self.styles[name]
        return pen


def _inked(
    cells: Sequence[Cell], row: int, pens: dict[str, Any], target: WriteOnlyWorksheet
) -> Iterator[Any]:
    """The cells of one row, with each style's one cell filled again and again.

    The library writes a row cell by cell as it takes them, so a taken cell may be used again.
    """
    for column, cell in enumerate(cells, 1):
        if cell is None:
            yield None
            continue
        value, name = cell
        pen = pens[name]
        if isinstance(value, Link):
            pen = _linking(target, pen, f"{get_column_letter(column)}{row}", value)
        elif isinstance(value, str):
            # set past the library's guessing: a text that begins with = stays a text
            pen._value, pen.data_type = _FORBIDDEN.sub(" ", value)[:_LONGEST_TEXT], "s"
        elif isinstance(value, dt.date):
            pen._value, pen.data_type = (value - _EPOCH).days, "n"
        else:
            pen._value, pen.data_type = value, "n"
        yield pen


def _linking(target: WriteOnlyWorksheet, pen: Any, place: str, link: Link) -> Any:
    """A cell of its own that leads to another sheet of the workbook."""
    cell: Any = WriteOnlyCell(target, link.words)
    cell.data_type = "s"
    cell._style = pen._style
    quoted = link.sheet.replace("'", "''")
    cell._hyperlink = Hyperlink(ref=place, location=f"'{quoted}'!A1")
    return cell


def _dress(pen: Any, look: style.Look) -> None:
    """Gives a cell the look's font, ground, lines, alignment and number format."""
    pen.font = Font(name=style.FONT, size=look.size, bold=look.bold, color=look.colour)
    if look.ground:
        pen.fill = PatternFill("solid", fgColor=look.ground)
    hair, rule = Side("hair", color=style.HAIRLINE), Side("thin", color=style.RULE)
    frame = Side("thin", color=style.HAIRLINE)
    if look.framed:
        pen.border = Border(left=frame, right=frame, top=frame, bottom=frame)
    else:
        pen.border = Border(bottom={"hair": hair, "rule": rule, "none": None}[look.below])
    pen.alignment = Alignment(
        horizontal=look.across or None, vertical="center", wrap_text=look.wrap, indent=look.indent
    )
    pen.number_format = look.form
    if look.quoted:
        pen.number_format = "@"
        pen._style.quotePrefix = 1


def _set_up_page(target: Any, sheet: Sheet, book: Book, heading_row: int) -> None:
    """A4 landscape, one page wide, headings on every page, frozen panes, filter and foot."""
    for number, column in enumerate(sheet.columns, 1):
        target.column_dimensions[get_column_letter(number)].width = column.width
    last = get_column_letter(max(1, len(sheet.columns)))
    target.sheet_view.showGridLines = False
    target.freeze_panes = f"{get_column_letter(sheet.frozen_columns + 1)}{heading_row + 1}"
    if sheet.filtered and sheet.lines:
        target.auto_filter.ref = f"A{heading_row}:{last}{heading_row + len(sheet.lines)}"
    target.print_title_rows = f"{heading_row}:{heading_row}"
    target.page_setup.orientation = "landscape"
    target.page_setup.paperSize = 9  # A4
    target.page_setup.fitToWidth, target.page_setup.fitToHeight = 1, 0
    target.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    margins = target.page_margins
    margins.left = margins.right = margins.top = 0.43
    margins.bottom, margins.header, margins.footer = 0.6, 0.2, 0.28
    foot = target.oddFooter
    foot.left.text = f"{book.maker}  |  run {book.run_id}".replace("&", "&&")
    foot.center.text, foot.right.text = "&A", f"{labels.PAGE} &P {labels.OF} &N"
    for part in (foot.left, foot.center, foot.right):
        part.size, part.font = 8, style.FONT


def _set_heights(target: Any, sheet: Sheet, heading_row: int) -> None:
    """Row heights and page breaks; a streamed sheet wants them before its rows."""
    target.row_dimensions[1].height = 27
    target.row_dimensions[heading_row].height = sheet.heading_height
    for number, line in enumerate(sheet.lines, heading_row + 1):
        target.row_dimensions[number].height = line.height or style.USUAL_HEIGHT
        if line.new_page:
            target.row_breaks.append(Break(id=number - 1))


def _repacked(raw: io.BytesIO, made: dt.datetime) -> bytes:
    """The archive with members in order, fixed dates, and the time of saving taken out."""
    packed = io.BytesIO()
    with zipfile.ZipFile(raw) as source, zipfile.ZipFile(packed, "w") as target:
        for name in sorted(source.namelist(), key=lambda name: (name != _TYPES, name)):
            content = source.read(name)
            if name == "docProps/core.xml":
                stamp = f"{made.isoformat()}Z".encode()
                content = _MODIFIED.sub(rb"\g<1>" + stamp + rb"\g<2>", content)
            member = zipfile.ZipInfo(name, _FIXED)
            member.external_attr = 0o644 << 16
            member.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(member, content, compresslevel=6)
    return packed.getvalue()
