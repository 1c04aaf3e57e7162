"""Native charts over the table of their own sheet."""

from typing import Any

from openpyxl.chart import BarChart, LineChart, Reference, Series
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.data_source import StrRef
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.series import SeriesLabel
from openpyxl.chart.shapes import GraphicalProperties

from bomkit.workbooks import style
from bomkit.workbooks.sheet import Chart, Sheet


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
    bars.width, bars.height = max(15.0, min(39.0, 4.0 + 1.08 * across)), 14.0  # cm, as the table
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
    name = f"'{target.title}'!$A${row}"
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
