"""Workbooks as openpyxl writes them, from the same descriptions: the judge of bomkit's own."""

import datetime as dt
import io
import os
import re
import zipfile
from functools import cache
from typing import Any

# one way of writing XML whatever else is installed: the same input gives the same bytes
os.environ["OPENPYXL_LXML"] = "False"

from openpyxl import Workbook
from openpyxl.cell import Cell as LibraryCell
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.protection import SheetProtection
from openpyxl.writer.excel import ExcelWriter

from bomkit.tables.entry_keys import LISTS_WRITTEN, RUN_NAME
from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.words import common
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.hidden_keys import count_of_lists, is_filled_in, keyed
from bomkit.workbooks.writing.layout import Laid, laid_out
from bomkit.workbooks.writing.sheet import Book, Chart, Curve, Link, Sheet
from bomkit.workbooks.writing.typing_limits import limit_of
from bomkit.workbooks.writing.xml_parts.rows import sheet_rows
from tests.workbooks.writing.charts_by_library import add_curve, add_stacked_columns

_CORE = "docProps/core.xml"  # with the time of saving, which is taken out
_MODIFIED = re.compile("(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")
_DIMENSION = re.compile('<dimension ref="[^"]*"\\s*/>')
_ROWS = re.compile(r"<sheetData\s*/>|<sheetData>.*?</sheetData>", re.DOTALL)
_A3, _A4 = 8, 9  # numbers of the file format (ECMA-376, part 1, 18.3.1.63 pageSetup)
_MOST_OF_MAKER = 40  # characters: what fits beside the caution at the foot of a page
_STYLE_TABLES = (
    *("_fonts", "_fills", "_borders", "_alignments", "_protections", "_number_formats"),
    *("_cell_styles", "_named_styles"),
)


def by_library(book: Book) -> dict[str, str]:
    """The members of the workbook; the rows of its sheets are those that bomkit writes."""
    book = keyed(book)
    members = {name: member.decode() for name, member in _written(book).items()}
    for number, sheet in enumerate(book.sheets, 1):
        path, laid = f"xl/worksheets/sheet{number}.xml", laid_out(sheet)
        rows = sheet_rows(laid.lines, styles()[0]).told
        extent = f'<dimension ref="{laid.extent.replace("$", "")}"/>'
        told = _DIMENSION.sub(lambda _, extent=extent: extent, members[path])
        members[path] = _ROWS.sub(lambda _, rows=rows: rows, told)
    stamp = f"{dt.datetime.combine(book.made, dt.time()).isoformat()}Z"
    members[_CORE] = _MODIFIED.sub(rf"\g<1>{stamp}\g<2>", members[_CORE])
    return members


def _written(book: Book) -> dict[str, bytes]:
    """The members of the workbook, all but the rows of its sheets."""
    workbook = _empty()
    made = dt.datetime.combine(book.made, dt.time())
    workbook.properties.created = made
    workbook.properties.creator, workbook.properties.title = "bomkit", book.run_id
    workbook.custom_doc_props.append(StringProperty(name=RUN_NAME, value=book.run_id))
    lists = str(count_of_lists(book))
    workbook.custom_doc_props.append(StringProperty(name=LISTS_WRITTEN, value=lists))
    for sheet in book.sheets:
        _add(workbook, sheet, laid_out(sheet), book)
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_STORED, allowZip64=True) as archive:
        ExcelWriter(workbook, archive).save()
    with zipfile.ZipFile(raw) as archive:
        return {name: _broken(archive.read(name)) for name in archive.namelist()}


def _broken(member: bytes) -> bytes:
    """A member with real line breaks at the foot of its page: the library writes them as a mark
    that other programs print as it stands."""
    return member.replace(b"_x000a_", b"&#10;")


def _empty() -> Any:
    """A workbook without sheets that has the styles."""
    workbook: Any = Workbook()
    workbook.remove(workbook.active)
    for name, table in styles()[1].items():
        setattr(workbook, name, table)
    return workbook


def _add(workbook: Any, sheet: Sheet, laid: Laid, book: Book) -> None:
    """Sets up a sheet with all but its rows."""
    target = workbook.create_sheet(sheet.name)
    target.print_title_rows = f"{laid.heading_row}:{laid.heading_row}"
    _set_up_page(target, sheet, book, laid.heading_row)
    if is_filled_in(book):
        target.protection = _protected()
    _limit(target, sheet, laid)
    _link(target, laid)
    if isinstance(sheet.chart, Chart):
        add_stacked_columns(target, sheet, sheet.chart, laid.heading_row)
    if isinstance(sheet.chart, Curve):
        add_curve(target, sheet, sheet.chart, laid.heading_row)


def _limit(target: Any, sheet: Sheet, laid: Laid) -> None:
    """What may be typed into the cells of a sheet, column by column."""
    last = laid.heading_row + len(sheet.lines)
    for number, column in enumerate(sheet.columns, 1):
        limit = limit_of(ENTRIES[sheet.entries].column(column.fills)) if column.fills else None
        if limit is not None and sheet.lines:
            letter = get_column_letter(number)
            validation: Any = DataValidation(limit.kind, formula1=limit.first)
            if limit.second:
                validation.operator, validation.formula2 = "between", limit.second
            validation.allow_blank = validation.showErrorMessage = True
            validation.error, validation.errorTitle = limit.words, "bomkit"
            validation.add(f"{letter}{laid.heading_row + 1}:{letter}{last}")
            target.add_data_validation(validation)


def _link(target: Any, laid: Laid) -> None:
    """Gives the cells with links to other sheets to the library, which writes the links."""
    for row, line in enumerate(laid.lines, 1):
        for column, cell in enumerate(line.cells, 1):
            if cell is not None and isinstance(cell[0], Link):
                quoted = cell[0].sheet.replace("'", "''")
                place = f"{get_column_letter(column)}{row}"
                linked = target[place]
                linked.value = cell[0].words  # the library passes over cells without a value
                linked._hyperlink = Hyperlink(ref=place, location=f"'{quoted}'!A1")


def _protected() -> SheetProtection:
    """Nothing but open cells can be changed; columns, rows and order may be. There is no password:
    it keeps slips out, not people."""
    return SheetProtection(
        sheet=True, formatColumns=False, formatRows=False, sort=False, autoFilter=False
    )


@cache
def styles() -> tuple[dict[str, int], dict[str, Any]]:
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


def _with_room(form: str) -> str:
    """A number format that leaves room at the right, as an indent would.

    Some programs forget the indent of a number beside another one, so that it touches what follows.
    """
    return ";".join(f"{part}_0_ " for part in form.split(";"))


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
    form = _with_room(look.form) if spaced else look.form
    pen.number_format = "@" if look.quoted else form
    if look.open:
        pen.protection = Protection(locked=False)
    if look.quoted:
        pen._style.quotePrefix = 1


def _set_up_page(target: Any, sheet: Sheet, book: Book, heading_row: int) -> None:
    """A4, one page wide, headings on every page, frozen panes, filter and foot."""
    for number, column in enumerate(sheet.columns, 1):
        target.column_dimensions[get_column_letter(number)].width = column.width
        if column.hidden:
            target.column_dimensions[get_column_letter(number)].hidden = True
    last = get_column_letter(max(1, len(sheet.columns)))
    target.sheet_view.showGridLines = False
    target.freeze_panes = f"{get_column_letter(sheet.frozen_columns + 1)}{heading_row + 1}"
    if sheet.filtered and sheet.lines:
        target.auto_filter.ref = f"A{heading_row}:{last}{heading_row + len(sheet.lines)}"
    target.page_setup.orientation = "portrait" if sheet.portrait else "landscape"
    target.page_setup.paperSize = _A3 if sheet.wall else _A4
    target.page_setup.fitToWidth, target.page_setup.fitToHeight = 1, int(sheet.wall)
    target.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    if sheet.printed is not None and sheet.printed < len(sheet.lines):
        target.print_area = f"A1:{last}{heading_row + sheet.printed}"
    margins = target.page_margins
    margins.left = margins.right = 0.35
    margins.top, margins.bottom, margins.header, margins.footer = 0.3, 0.5, 0.15, 0.17
    _set_up_foot(target, sheet, book)


def _set_up_foot(target: Any, sheet: Sheet, book: Book) -> None:
    """What stands at the foot of every page, in two lines so that the three parts fit abreast."""
    foot = target.oddFooter
    target.HeaderFooter.scaleWithDoc = False
    named = f"{book.maker[:_MOST_OF_MAKER]}\nrun {book.run_id}"
    foot.left.text = named.replace("&", "&&")
    foot.center.text = common.FOOT_CAUTION if sheet.cautions else ""
    foot.right.text = f"&A\n{common.PAGE} &P {common.OF} &N"
    for part in (foot.left, foot.center, foot.right):
        part.size, part.font = (10 if sheet.wall else 9), style.FONT
