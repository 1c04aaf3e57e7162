"""The charts of sheets as openpyxl writes them."""

from typing import Any

from openpyxl.chart import BarChart, LineChart, Reference, ScatterChart, Series
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.data_source import StrRef
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.series import SeriesLabel
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.utils import get_column_letter

from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.sheet import Chart, Curve, Sheet


def add_stacked_columns(target: Any, sheet: Sheet, chart: Chart, heading_row: int) -> None:
    """Adds stacked columns below the sheet's table, with a dashed line for what there is."""
    bars: Any = BarChart()  # the stubs know too little of charts
    grouping, overlap = ("stacked", 100) if chart.stacked else ("clustered", 0)
    bars.type, bars.grouping, bars.overlap, bars.gapWidth = "col", grouping, overlap, 45
    weeks = _across(target, chart, heading_row)
    first = heading_row + 1
    for number in range(chart.first_line, chart.last_line + 1):
        series = _series(target, chart, first + number)
        colour = style.SERIES[(number - chart.first_line) % len(style.SERIES)]
        series.graphicalProperties.solidFill = colour
        series.graphicalProperties.line.solidFill = "FFFFFF"
        bars.series.append(series)
    bars.set_categories(weeks)
    if chart.limit_line is not None:
        bars += _line(target, chart, first + chart.limit_line, style.LATE, "dash")
    if chart.other_line is not None:
        bars += _line(target, chart, first + chart.other_line, style.INK, "sysDot")
    bars.y_axis.title, bars.y_axis.number_format = chart.value_title, "0"
    bars.x_axis.delete = bars.y_axis.delete = False
    hair = GraphicalProperties()
    hair.line.solidFill = style.HAIRLINE
    bars.y_axis.majorGridlines = ChartLines(spPr=hair)
    bars.legend.position = "b"
    bars.layout = Layout(ManualLayout(x=0.05, y=0.03, w=0.93, h=0.72))
    across = chart.last_column - chart.first_column + 1
    bars.width, bars.height = max(15.0, min(39.0, 4.0 + 1.08 * across)), 12.6  # cm, as the table
    target.add_chart(bars, f"A{first + len(sheet.lines) + 1}")


def _across(target: Any, chart: Chart, row: int) -> Reference:
    """The chart's columns of one row."""
    return Reference(
        target,
        min_col=chart.first_column + 1,
        max_col=chart.last_column + 1,
        min_row=row,
        max_row=row,
    )


def _series(target: Any, chart: Chart, row: int) -> Any:
    """One row of the table as a series named by its first cell."""
    series = Series(_across(target, chart, row))
    quoted = target.title.replace("'", "''")
    name = f"'{quoted}'!$A${row}"
    series.tx = SeriesLabel(strRef=StrRef(name))
    return series


def _line(target: Any, chart: Chart, row: int, colour: str, dashes: str) -> Any:
    """A row of the table as a dashed line."""
    lines = LineChart()
    series = _series(target, chart, row)
    series.graphicalProperties.line.solidFill = colour
    series.graphicalProperties.line.dashStyle = dashes
    series.graphicalProperties.line.width = 19050  # 1.5 pt in the format's own unit
    series.smooth = False
    lines.series.append(series)
    return lines


def add_curve(target: Any, sheet: Sheet, curve: Curve, heading_row: int) -> None:
    """Adds a line over true values beside the sheet's table, with a dashed one for the limit."""
    drawn: Any = ScatterChart()
    drawn.style, drawn.scatterStyle = 13, "lineMarker"
    last = heading_row + len(sheet.lines)
    across = _down(target, curve.across, heading_row + 1, last)
    for column, colour, dash in (
        (curve.up, style.SERIES[1], "solid"),
        (curve.limit, style.LATE, "dash"),
    ):
        series = Series(_down(target, column, heading_row + 1, last), across)
        quoted = target.title.replace("'", "''")
        heading = f"'{quoted}'!${get_column_letter(column + 1)}${heading_row}"
        series.tx = SeriesLabel(strRef=StrRef(heading))
        series.marker.symbol, series.smooth = "none", False
        line = series.graphicalProperties.line
        line.solidFill, line.dashStyle, line.width = colour, dash, 22225  # 1.75 pt
        drawn.series.append(series)
    _dress_axes(drawn, curve)
    drawn.legend.position = "b"
    drawn.layout = Layout(ManualLayout(x=0.09, y=0.04, w=0.87, h=0.72))
    drawn.width, drawn.height = 17.0, 11.0
    target.add_chart(drawn, f"{get_column_letter(len(sheet.columns) + 1)}{heading_row + 1}")


def _dress_axes(drawn: Any, curve: Curve) -> None:
    """Titles, number formats and hairlines of both axes; shares run from 0 to 1."""
    drawn.x_axis.title, drawn.y_axis.title = curve.across_title, curve.up_title
    drawn.x_axis.number_format, drawn.y_axis.number_format = curve.across_form, "0%"
    drawn.x_axis.delete = drawn.y_axis.delete = False
    drawn.y_axis.scaling.min, drawn.y_axis.scaling.max = 0, 1
    drawn.x_axis.scaling.min = 0
    hair = GraphicalProperties()
    hair.line.solidFill = style.HAIRLINE
    drawn.x_axis.majorGridlines = None
    drawn.y_axis.majorGridlines = ChartLines(spPr=hair)


def _down(target: Any, column: int, first: int, last: int) -> Reference:
    """One column of the table, from row to row."""
    return Reference(target, min_col=column + 1, min_row=first, max_row=last)
