"""Native charts over the table of their own sheet (ECMA-376, part 1, 20.5 and 21.2)."""

from itertools import cycle

from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.sheet import Chart, Curve, Sheet
from bomkit.workbooks.writing.xml_parts.text import area, attribute, escaped, filled, on_sheet
from bomkit.workbooks.writing.xml_parts.workbook import relations

_CENTIMETRE = 360_000  # in the unit of drawings


def chart_members(
    sheet: Sheet, chart: Chart | Curve, heading_row: int, numbers: tuple[int, int]
) -> dict[str, str]:
    """The members that the chart of a sheet adds; numbers: of the sheet's page and of the chart."""
    page, number = numbers
    drawing, itself = f"drawings/drawing{number}.xml", f"charts/chart{number}.xml"
    if isinstance(chart, Curve):
        place, told = _beside(sheet, heading_row), _curve(sheet, chart, heading_row)
    else:
        place, told = _below(sheet, chart, heading_row), _columns(sheet, chart, heading_row)
    return {
        f"xl/worksheets/_rels/sheet{page}.xml.rels": relations([("drawing", f"/xl/{drawing}")]),
        f"xl/{drawing}": place,
        f"xl/drawings/_rels/drawing{number}.xml.rels": relations([("chart", f"/xl/{itself}")]),
        f"xl/{itself}": told,
    }


def _below(sheet: Sheet, chart: Chart, heading_row: int) -> str:
    """The place of columns, as wide as the table."""
    across = chart.last_column - chart.first_column + 1
    wide = max(15.0, min(39.0, 4.0 + 1.08 * across))
    return _drawing(0, heading_row + len(sheet.lines) + 1, wide, 12.6)


def _beside(sheet: Sheet, heading_row: int) -> str:
    """The place of a curve."""
    return _drawing(len(sheet.columns), heading_row, 17.0, 11.0)


def _drawing(column: int, row: int, wide: float, high: float) -> str:
    """A place that begins in this column and row, counted from 0, and is so many cm large."""
    size = {"wide": int(wide * _CENTIMETRE), "high": int(high * _CENTIMETRE)}
    return filled("drawing.xml", column=column, row=row, **size)


def _columns(sheet: Sheet, chart: Chart, heading_row: int) -> str:
    """Columns, stacked or side by side, with dashed lines for what there is and to compare with."""
    left, right = chart.first_column + 1, chart.last_column + 1

    def series(skeleton: str, number: int, line: int, **look: str) -> str:
        row = heading_row + 1 + line
        name, up = _cells(sheet, 1, row, 1, row), _cells(sheet, left, row, right, row)
        return filled(skeleton, number=number, name=name, up=up, **look)

    weeks = _cells(sheet, left, heading_row, right, heading_row)
    shown = zip(range(chart.first_line, chart.last_line + 1), cycle(style.SERIES), strict=False)
    columns = [
        series("column.xml", number, line, across=weeks, colour=colour)
        for number, (line, colour) in enumerate(shown)
    ]
    drawn = (chart.limit_line, style.LATE, "dash"), (chart.other_line, style.INK, "sysDot")
    present = [(line, colour, dash) for line, colour, dash in drawn if line is not None]
    lines = [
        series("line.xml", number, line, colour=colour, dash=dash)
        for number, (line, colour, dash) in enumerate(present, len(columns))
    ]
    return filled(
        "columns.xml",
        grouping="stacked" if chart.stacked else "clustered",
        overlap=100 if chart.stacked else 0,
        columns="".join(columns),
        lines="".join(lines),
        hairline=style.HAIRLINE,
        title=escaped(chart.value_title),
    )


def _curve(sheet: Sheet, curve: Curve, heading_row: int) -> str:
    """A line over true values, with a dashed one for the limit; shares run from 0 to 1."""

    def down(column: int) -> str:
        return _cells(sheet, column, heading_row + 1, column, heading_row + len(sheet.lines))

    drawn = (curve.up + 1, style.SERIES[1], "solid"), (curve.limit + 1, style.LATE, "dash")
    lines = [
        filled(
            "curve_line.xml",
            number=number,
            name=_cells(sheet, column, heading_row, column, heading_row),
            across=down(curve.across + 1),
            up=down(column),
            colour=colour,
            dash=dash,
        )
        for number, (column, colour, dash) in enumerate(drawn)
    ]
    return filled(
        "curve.xml",
        lines="".join(lines),
        hairline=style.HAIRLINE,
        across_title=escaped(curve.across_title),
        across_form=attribute(curve.across_form),
        up_title=escaped(curve.up_title),
    )


def _cells(sheet: Sheet, left: int, top: int, right: int, bottom: int) -> str:
    """The cells of these columns and rows of the sheet, as the content of an element."""
    return escaped(on_sheet(sheet.name, area(left, top, right, bottom)))
