"""A sheet as text (ECMA-376, part 1, 18.3.1.99 worksheet): panes, widths, paper and foot."""

from collections.abc import Iterator

from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.words import common
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.hidden_keys import is_filled_in
from bomkit.workbooks.writing.layout import Laid
from bomkit.workbooks.writing.sheet import Book, Sheet
from bomkit.workbooks.writing.typing_limits import limit_of
from bomkit.workbooks.writing.xml_parts.rows import sheet_rows
from bomkit.workbooks.writing.xml_parts.styles import styles
from bomkit.workbooks.writing.xml_parts.text import area, attribute, column_letter, escaped, filled

_A3, _A4 = 8, 9  # numbers of the file format (18.3.1.63 pageSetup)
_MOST_OF_MAKER = 40  # characters: what fits beside the caution at the foot of a page
# Nothing but open cells can be changed; columns, rows and order may be. There is no password: it
# keeps slips out, not people.
_PROTECTION = (
    '<sheetProtection selectLockedCells="0" selectUnlockedCells="0" sheet="1" objects="0"'
    ' insertRows="1" insertHyperlinks="1" autoFilter="0" scenarios="0" formatColumns="0"'
    ' deleteColumns="1" insertColumns="1" pivotTables="1" deleteRows="1" formatCells="1"'
    ' formatRows="0" sort="0" />'
)
_OTHER_PANES = '<selection pane="topRight" /><selection pane="bottomLeft" />'
_DRAWING = (
    '<drawing xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
    ' r:id="rId1" />'
)


def worksheet(sheet: Sheet, laid: Laid, book: Book) -> str:
    """The member of a sheet: no grid, panes frozen below the headings and after the first columns,
    one page wide. Its chart is the only thing that it leads to."""
    rows = sheet_rows(laid.lines, styles().numbers)
    beside = sheet.frozen_columns
    return filled(
        "worksheet.xml",
        extent=_near(laid.extent),
        split=f'xSplit="{beside}" ' if beside else "",
        heading_row=laid.heading_row,
        first=f"{column_letter(beside + 1)}{laid.heading_row + 1}",
        pane="bottomRight" if beside else "bottomLeft",
        other_panes=_OTHER_PANES if beside else "",
        columns=_columns(sheet),
        rows=rows.told,
        protection=_PROTECTION if is_filled_in(book) else "",
        filtered=f'<autoFilter ref="{_near(laid.filtered)}" />' if laid.filtered else "",
        limits=_limits(sheet, laid),
        links=rows.links,
        upright="portrait" if sheet.portrait else "landscape",
        paper=_A3 if sheet.wall else _A4,
        pages_high=int(sheet.wall),  # 0: as many as it takes
        foot=_foot(sheet, book),
        drawing=_DRAWING if sheet.chart else "",
    )


def _near(place: str) -> str:
    """A place as it is named on its own sheet."""
    return place.replace("$", "")


def _columns(sheet: Sheet) -> str:
    """How wide the columns are, and which are hidden."""
    hidden = {True: 'hidden="1" ', False: ""}
    told = "".join(
        f'<col {hidden[column.hidden]}width="{column.width:.16g}" customWidth="1"'
        f' min="{number}" max="{number}" />'
        for number, column in enumerate(sheet.columns, 1)
    )
    return f"<cols>{told}</cols>" if told else ""


def _limits(sheet: Sheet, laid: Laid) -> str:
    """What may be typed into the cells of a sheet; nothing where all may be."""
    told = list(_limits_by_column(sheet, laid))
    return f'<dataValidations count="{len(told)}">{"".join(told)}</dataValidations>' if told else ""


def _limits_by_column(sheet: Sheet, laid: Laid) -> Iterator[str]:
    first, last = laid.heading_row + 1, laid.heading_row + len(sheet.lines)
    for number, column in enumerate(sheet.columns, 1):
        limit = limit_of(ENTRIES[sheet.entries].column(column.fills)) if column.fills else None
        if limit is not None and sheet.lines:
            cells = _near(area(number, first, number, last))
            between = ' operator="between"' if limit.second else ""
            second = f"<formula2>{limit.second}</formula2>" if limit.second else ""
            yield (
                f'<dataValidation sqref="{cells}" showDropDown="0" showInputMessage="0"'
                ' showErrorMessage="1" allowBlank="1" errorTitle="bomkit"'
                f' error={attribute(limit.words)} type="{limit.kind}"{between}>'
                f"<formula1>{escaped(limit.first)}</formula1>{second}</dataValidation>"
            )


def _foot(sheet: Sheet, book: Book) -> str:
    """What stands at the foot of every page, in two lines so that the three parts fit abreast."""
    look = f'&"{style.FONT}"&{10 if sheet.wall else 9} '
    named = f"{book.maker[:_MOST_OF_MAKER]}\nrun {book.run_id}".replace("&", "&&")
    caution = common.FOOT_CAUTION if sheet.cautions else ""
    paged = f"&A\n{common.PAGE} &P {common.OF} &N"
    return escaped(f"&L{look}{named}&C{look}{caution}&R{look}{paged}").replace("\n", "&#10;")
