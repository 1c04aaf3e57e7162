"""Sheet descriptions to the bytes of a workbook; the only module that writes with openpyxl."""

import datetime as dt
import io
import os
import re
import zipfile
from dataclasses import dataclass
from functools import cache
from textwrap import wrap
from typing import Any

# one way of writing XML whatever else is installed: the same input gives the same bytes
os.environ["OPENPYXL_LXML"] = "False"

from openpyxl import Workbook
from openpyxl.cell import Cell as LibraryCell
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.writer.excel import ExcelWriter

from bomkit.words import common
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.charts import add_curve, add_stacked_columns
from bomkit.workbooks.writing.rows import sheet_rows
from bomkit.workbooks.writing.sheet import Book, Line, Link, Sheet, with_years

_A3, _A4 = 8, 9  # numbers of the file format (ECMA-376, part 1, 18.3.1.63 pageSetup)
_MOST_ROWS = 1_048_576  # a sheet holds no more
_STYLE_TABLES = (
    *("_fonts", "_fills", "_borders", "_alignments", "_protections", "_number_formats"),
    *("_cell_styles", "_named_styles"),
)
_FIXED = (1980, 1, 1, 0, 0, 0)  # the date of every member of the archive
_TYPES = "[Content_Types].xml"  # first by custom: some readers look for it there
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")
_DIMENSION = re.compile(rb'<dimension ref="[^"]*"\s*/>')
_ROWS = re.compile(rb"<sheetData\s*/>|<sheetData>.*?</sheetData>", re.DOTALL)


def workbook_bytes(book: Book) -> bytes:
    """The workbook as .xlsx; the same book gives the same bytes.

    The library writes everything but the rows; these are put in while the archive is packed again.
    Of sheets that differ in nothing but their rows it writes the first, which the others share.
    """
    workbook: Any = Workbook()
    workbook.remove(workbook.active)
    style_ids, style_tables = _styles()
    for name, table in style_tables.items():
        setattr(workbook, name, table)
    made = dt.datetime.combine(book.made, dt.time())
    workbook.properties.created = made
    workbook.properties.creator, workbook.properties.title = "bomkit", book.run_id
    workbook.custom_doc_props.append(StringProperty(name="run_id", value=book.run_id))
    content: dict[str, _Content] = {}
    patterns: dict[object, str] = {}
    for number, sheet in enumerate(book.sheets, 1):
        target = workbook.create_sheet(sheet.name)
        path = f"xl/worksheets/sheet{number}.xml"
        shared = _shared(sheet) if number > 1 else None  # the first one is shown when opened
        pattern = path if shared is None else patterns.setdefault(shared, path)
        content[path] = _lay_out(target, sheet, book, style_ids, path, pattern)
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_STORED, allowZip64=True) as archive:
        _Writer(workbook, archive, content).save()
    return _repacked(raw, made, content)


@dataclass(frozen=True)
class _Content:
    """A sheet's extent, as A1:F20, its rows as text, and the sheet that it shares the rest with."""

    extent: str
    rows: str
    pattern: str


class _Writer(ExcelWriter):
    """The library's writer, which leaves out what a sheet shares with its pattern."""

    def __init__(self, workbook: Any, archive: zipfile.ZipFile, content: dict[str, _Content]):
        super().__init__(workbook, archive)
        self._target = archive
        self._content = content

    def write_worksheet(self, ws: Any) -> None:
        """Writes a sheet; of one with a pattern only that there is one."""
        path = ws.path[1:]
        if self._content[path].pattern == path:
            super().write_worksheet(ws)
            return
        ws._drawing, ws._rels = None, []
        self._target.writestr(path, b"")
        self.manifest.append(ws)


def _shared(sheet: Sheet) -> object:
    """What sheets share that differ in nothing but their rows; None: it is unlike any other."""
    linked = any(
        cell is not None and isinstance(cell[0], Link)
        for line in sheet.lines
        for cell in line.cells
    )
    if linked or sheet.chart is not None or sheet.filtered:
        return None
    above = len(_caution_lines(sheet)), len(sheet.notes)
    return (tuple(sheet.columns), *above, sheet.frozen_columns, sheet.heading_height, sheet.wall)


def _lay_out(
    target: Any, sheet: Sheet, book: Book, style_ids: dict[str, int], path: str, pattern: str
) -> _Content:
    """Sets up a sheet, unless its pattern does, and gives its rows."""
    heads = [(column.heading, column.style) for column in sheet.columns]
    looks = _ON_WALL if sheet.wall else {look: look for look in _ON_WALL}
    above = [
        Line([(sheet.title, "title")], 27),
        Line([(sheet.subtitle, looks["subtitle"])]),
        *(Line([(words, looks["caution"])]) for words in _caution_lines(sheet)),
        *(Line([(note, looks["note"])]) for note in sheet.notes),
        Line([]),
        Line(heads, sheet.heading_height),
    ]
    target.print_title_rows = f"{len(above)}:{len(above)}"
    if path == pattern:
        _set_up_page(target, sheet, book, len(above))
    shown = with_years(sheet.lines)
    usual = [line if line.height else Line(line.cells, style.USUAL_HEIGHT) for line in shown]
    lines = [*above, *usual]
    if len(lines) > _MOST_ROWS:
        cut = common.CUT.format(count=len(lines) - _MOST_ROWS + 1)
        lines = [*lines[: _MOST_ROWS - 1], Line([(cut, "caution")])]
    if path == pattern:
        _link(target, lines)
    if sheet.chart is not None:
        add_stacked_columns(target, sheet, sheet.chart, len(above))
    if sheet.curve is not None:
        add_curve(target, sheet, sheet.curve, len(above))
    extent = f"A1:{get_column_letter(max(1, len(sheet.columns)))}{len(lines)}"
    return _Content(extent, sheet_rows(lines, style_ids), pattern)


def _caution_lines(sheet: Sheet) -> list[str]:
    """The cautions in lines that end within the table, so that none makes the print smaller."""
    width = max(_LEAST_LINE, int(sum(column.width for column in sheet.columns)))
    return [line for words in sheet.cautions for line in wrap(words, width)]


def _link(target: Any, lines: list[Line]) -> None:
    """Gives the cells with links to other sheets to the library, which writes the links."""
    for row, line in enumerate(lines, 1):
        for column, cell in enumerate(line.cells, 1):
            if cell is not None and isinstance(cell[0], Link):
                quoted = cell[0].sheet.replace("'", "''")
                place = f"{get_column_letter(column)}{row}"
                linked = target[place]
                linked.value = cell[0].words  # the library passes over cells without a value
                linked._hyperlink = Hyperlink(ref=place, location=f"'{quoted}'!A1")


_ON_WALL = {"subtitle": "board_note", "caution": "board_caution", "note": "board_note"}
_LEAST_LINE = 40  # characters
_MOST_OF_MAKER = 40  # characters: what fits beside the caution at the foot of a page


@cache
def _styles() -> tuple[dict[str, int], dict[str, Any]]:
    """The number of each style, and a workbook's tables that hold what the numbers mean.

    Made once with a workbook and cells that are thrown away; all workbooks share the tables.
    """
    workbook: Any = Workbook()
    workbook._named_styles["Normal"].font = Font(name=style.FONT, size=10)  # unit of widths
    numbers = {}
    for name, look in style.STYLES.items():
        cell: Any = LibraryCell(workbook.active, row=1, column=1)
        _dress(cell, look)
        numbers[name] = cell.style_id
    return numbers, {name: getattr(workbook, name) for name in _STYLE_TABLES}


def _dress(pen: Any, look: style.Look) -> None:
    """Gives a cell the look's font, ground, lines, alignment and number format."""
    pen.font = Font(name=style.FONT, size=look.size, bold=look.bold, color=look.colour)
    if look.ground:
        pen.fill = PatternFill("solid", fgColor=look.ground)
    hair, rule = Side("hair", color=style.HAIRLINE), Side("thin", color=style.RULE)
    frame = Side("thin", color=style.HAIRLINE)
    if look.framed:
        left = Side("thick", color=style.RULE) if look.today else frame
        pen.border = Border(left=left, right=frame, top=frame, bottom=frame)
    else:
        pen.border = Border(bottom={"hair": hair, "rule": rule, "none": None}[look.below])
    spaced = look.across == "right" and look.indent > 0 and look.form != "General"
    pen.alignment = Alignment(
        horizontal=look.across or None,
        vertical="center",
        wrap_text=look.wrap,
        indent=0 if spaced else look.indent,
    )
    pen.number_format = _with_room(look.form) if spaced else look.form
    if look.quoted:
        pen.number_format = "@"
        pen._style.quotePrefix = 1


def _with_room(form: str) -> str:
    """A number format that leaves room at the right, as an indent would.

    Some programs forget the indent of a number beside another one, so that it touches what follows.
    """
    return ";".join(f"{part}_0_ " for part in form.split(";"))


def _set_up_page(target: Any, sheet: Sheet, book: Book, heading_row: int) -> None:
    """A4 landscape, one page wide, headings on every page, frozen panes, filter and foot."""
    for number, column in enumerate(sheet.columns, 1):
        target.column_dimensions[get_column_letter(number)].width = column.width
    last = get_column_letter(max(1, len(sheet.columns)))
    target.sheet_view.showGridLines = False
    target.freeze_panes = f"{get_column_letter(sheet.frozen_columns + 1)}{heading_row + 1}"
    if sheet.filtered and sheet.lines:
        target.auto_filter.ref = f"A{heading_row}:{last}{heading_row + len(sheet.lines)}"
    target.page_setup.orientation = "landscape"
    target.page_setup.paperSize = _A3 if sheet.wall else _A4
    target.page_setup.fitToWidth, target.page_setup.fitToHeight = 1, int(sheet.wall)
    target.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    margins = target.page_margins
    margins.left = margins.right = margins.top = 0.43
    margins.bottom, margins.header, margins.footer = 0.6, 0.2, 0.28
    foot = target.oddFooter
    named = f"{book.maker[:_MOST_OF_MAKER]}  |  run {book.run_id}"
    foot.left.text = named.replace("&", "&&")
    foot.center.text = common.FOOT_CAUTION if sheet.cautions else ""
    foot.right.text = f"&A  |  {common.PAGE} &P {common.OF} &N"
    for part in (foot.left, foot.center, foot.right):
        part.size, part.font = (10 if sheet.wall else 8), style.FONT


def _repacked(raw: io.BytesIO, made: dt.datetime, sheets: dict[str, _Content]) -> bytes:
    """The archive with its rows, members in order, fixed dates, and the time of saving taken out.

    sheets: the content by the name of the sheet's member.
    """
    packed = io.BytesIO()
    with zipfile.ZipFile(raw) as source, zipfile.ZipFile(packed, "w") as target:
        for name in sorted(source.namelist(), key=lambda name: (name != _TYPES, name)):
            content = source.read(name)
            if name == "docProps/core.xml":
                stamp = f"{made.isoformat()}Z".encode()
                content = _MODIFIED.sub(rb"\g<1>" + stamp + rb"\g<2>", content)
            elif name in sheets:
                sheet = sheets[name]
                content = content or source.read(sheet.pattern)
                content = _DIMENSION.sub(f'<dimension ref="{sheet.extent}"/>'.encode(), content)
                before, after = _ROWS.split(content, maxsplit=1)
                content = before + sheet.rows.encode() + after
            member = zipfile.ZipInfo(name, _FIXED)
            member.external_attr = 0o644 << 16
            member.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(member, content, compresslevel=6)
    return packed.getvalue()
