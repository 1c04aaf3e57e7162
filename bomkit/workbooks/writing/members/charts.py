"""Native charts over the table of their own sheet (ECMA-376, part 1, 20.5 and 21.2)."""

from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.members.frame import relations
from bomkit.workbooks.writing.members.text import area, attribute, escaped, on_sheet
from bomkit.workbooks.writing.sheet import Chart, Curve, Sheet

_OF_DRAWINGS = "http://schemas.openxmlformats.org/drawingml/2006"
_CENTIMETRE, _POINT = 360_000, 12_700  # in the unit of drawings
_WHITE = "FFFFFF"
_NO_MARKER = (
    '<marker><symbol val="none" /><spPr><a:ln><a:prstDash val="solid" /></a:ln></spPr></marker>'
)


def chart_members(
    sheet: Sheet, chart: Chart | Curve, heading_row: int, numbers: tuple[int, int]
) -> dict[str, str]:
    """The members that the chart of a sheet adds; numbers: of the sheet's page and of the chart."""
    page, number = numbers
    on_page, itself = f"drawings/drawing{number}.xml", f"charts/chart{number}.xml"
    return {
        f"xl/worksheets/_rels/sheet{page}.xml.rels": relations([("drawing", f"/xl/{on_page}")]),
        f"xl/{on_page}": _drawing(sheet, chart, heading_row),
        f"xl/drawings/_rels/drawing{number}.xml.rels": relations([("chart", f"/xl/{itself}")]),
        f"xl/{itself}": _chart(sheet, chart, heading_row),
    }


def _drawing(sheet: Sheet, chart: Chart | Curve, heading_row: int) -> str:
    """Where a chart stands, in columns and rows counted from 0: columns below the table of their
    sheet, a curve beside it."""
    if isinstance(chart, Curve):
        column, row, wide, high = len(sheet.columns), heading_row, 17.0, 11.0  # cm
    else:
        column, row, high = 0, heading_row + len(sheet.lines) + 1, 12.6
        across = chart.last_column - chart.first_column + 1
        wide = max(15.0, min(39.0, 4.0 + 1.08 * across))  # as the table
    return (
        f'<wsDr xmlns:a="{_OF_DRAWINGS}/main" xmlns:c="{_OF_DRAWINGS}/chart"'
        ' xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
        f' xmlns="{_OF_DRAWINGS}/spreadsheetDrawing"><oneCellAnchor><from><col>{column}</col>'
        f"<colOff>0</colOff><row>{row}</row><rowOff>0</rowOff></from>"
        f'<ext cx="{int(wide * _CENTIMETRE)}" cy="{int(high * _CENTIMETRE)}" />'
        '<graphicFrame><nvGraphicFramePr><cNvPr id="1" name="Chart 1" /><cNvGraphicFramePr />'
        f'</nvGraphicFramePr><xfrm /><a:graphic><a:graphicData uri="{_OF_DRAWINGS}/chart">'
        '<c:chart r:id="rId1" /></a:graphicData></a:graphic></graphicFrame><clientData />'
        "</oneCellAnchor></wsDr>"
    )


def _chart(sheet: Sheet, chart: Chart | Curve, heading_row: int) -> str:
    """The member of a chart."""
    if isinstance(chart, Curve):
        look, room = '<style val="13" />', (0.09, 0.04, 0.87)
        plotted = _curve(sheet, chart, heading_row)
    else:
        look, room = "", (0.05, 0.03, 0.93)
        plotted = _columns(sheet, chart, heading_row)
    left, top, wide = room
    return (
        f'<chartSpace xmlns:a="{_OF_DRAWINGS}/main" xmlns="{_OF_DRAWINGS}/chart">{look}<chart>'
        '<plotArea><layout><manualLayout><wMode val="factor" /><hMode val="factor" />'
        f'<x val="{left}" /><y val="{top}" /><w val="{wide}" /><h val="0.72" /></manualLayout>'
        f'</layout>{plotted}</plotArea><legend><legendPos val="b" /></legend>'
        '<plotVisOnly val="1" /><dispBlanksAs val="gap" /></chart></chartSpace>'
    )


def _columns(sheet: Sheet, chart: Chart, heading_row: int) -> str:
    """Columns, stacked or side by side, with a dashed line for what there is."""
    grouping, overlap = ("stacked", 100) if chart.stacked else ("clustered", 0)
    weeks = _cells(sheet, chart, heading_row)
    bars, first = "", heading_row + 1
    count = chart.last_line - chart.first_line + 1
    for number in range(count):
        row = first + chart.first_line + number
        inside, edge = _filled(style.SERIES[number % len(style.SERIES)]), _stroke(_WHITE)
        values = f"<cat>{weeks}</cat><val>{_cells(sheet, chart, row)}</val>"
        bars += _series(sheet, number, (1, row), f"{inside}{edge}", values)
    lines, axes = "", '<axId val="10" /><axId val="100" />'
    for line, colour, dash in (
        (chart.limit_line, style.LATE, "dash"),
        (chart.other_line, style.INK, "sysDot"),
    ):
        if line is not None:
            values = (
                f'{_NO_MARKER}<val>{_cells(sheet, chart, first + line)}</val><smooth val="0" />'
            )
            pen = _stroke(colour, dash, 1.5)
            told = _series(sheet, count, (1, first + line), pen, values)
            lines += f'<lineChart><grouping val="standard" />{told}{axes}</lineChart>'
            count += 1
    return (
        f'<barChart><barDir val="col" /><grouping val="{grouping}" />{bars}<gapWidth val="45" />'
        f'<overlap val="{overlap}" />{axes}</barChart>{lines}<catAx>{_axis(10)}{_crossing(100)}'
        f'<lblOffset val="100" /></catAx><valAx>{_axis(100)}{_HAIRLINES}'
        f"{_titled(chart.value_title, '0')}{_crossing(10)}</valAx>"
    )


def _curve(sheet: Sheet, curve: Curve, heading_row: int) -> str:
    """A line over true values, with a dashed one for the limit; shares run from 0 to 1."""
    first, last = heading_row + 1, heading_row + len(sheet.lines)
    across, up, limit = (
        _numbers(sheet, area(column + 1, first, column + 1, last))
        for column in (curve.across, curve.up, curve.limit)
    )
    lines = "".join(
        _series(
            *(sheet, number, (column + 1, heading_row), _stroke(colour, dash, 1.75)),
            f'{_NO_MARKER}<xVal>{across}</xVal><yVal>{values}</yVal><smooth val="0" />',
        )
        for number, (column, values, colour, dash) in enumerate(
            (
                (curve.up, up, style.SERIES[1], "solid"),
                (curve.limit, limit, style.LATE, "dash"),
            )
        )
    )
    beginning = _axis(10, '<min val="0" />'), _axis(20, '<max val="1" /><min val="0" />')
    return (
        f'<scatterChart><scatterStyle val="lineMarker" />{lines}<axId val="10" />'
        f'<axId val="20" /></scatterChart><valAx>{beginning[0]}'
        f"{_titled(curve.across_title, curve.across_form)}{_crossing(20)}</valAx>"
        f"<valAx>{beginning[1]}{_HAIRLINES}"
        f"{_titled(curve.up_title, '0%')}{_crossing(10)}</valAx>"
    )


def _cells(sheet: Sheet, chart: Chart, row: int) -> str:
    """The chart's columns of one row."""
    return _numbers(sheet, area(chart.first_column + 1, row, chart.last_column + 1, row))


def _numbers(sheet: Sheet, place: str) -> str:
    return f"<numRef><f>{escaped(on_sheet(sheet.name, place))}</f></numRef>"


def _series(sheet: Sheet, number: int, named: tuple[int, int], look: str, values: str) -> str:
    """A series with this number, named by the cell in a column and row."""
    name = escaped(on_sheet(sheet.name, area(*named, *named)))
    return (
        f'<ser><idx val="{number}" /><order val="{number}" /><tx><strRef><f>{name}</f></strRef>'
        f"</tx><spPr>{look}</spPr>{values}</ser>"
    )


def _filled(colour: str) -> str:
    return f'<a:solidFill><a:srgbClr val="{colour}" /></a:solidFill>'


def _stroke(colour: str, dash: str = "solid", points: float = 0) -> str:
    """A line; of the usual width without points."""
    wide = f' w="{points * _POINT:.0f}"' if points else ""
    return f'<a:ln{wide}>{_filled(colour)}<a:prstDash val="{dash}" /></a:ln>'


_HAIRLINES = f"<majorGridlines><spPr>{_stroke(style.HAIRLINE)}</spPr></majorGridlines>"


def _axis(number: int, bounds: str = "") -> str:
    """The beginning of an axis."""
    return (
        f'<axId val="{number}" /><scaling><orientation val="minMax" />{bounds}</scaling>'
        '<delete val="0" /><axPos val="l" />'
    )


def _titled(title: str, form: str) -> str:
    """The title of an axis, and the format of its numbers."""
    return (
        "<title><tx><rich><a:bodyPr /><a:p><a:pPr><a:defRPr /></a:pPr><a:r>"
        f"<a:t>{escaped(title)}</a:t></a:r></a:p></rich></tx></title>"
        f'<numFmt formatCode={attribute(form)} sourceLinked="0" />'
    )


def _crossing(other: int) -> str:
    """The end of an axis that another one crosses."""
    return f'<majorTickMark val="none" /><minorTickMark val="none" /><crossAx val="{other}" />'
