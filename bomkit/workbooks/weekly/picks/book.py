"""The pick lists of a week: the round and the cart list, day by day, and room for further picks."""

from bomkit.tables.filled_in_tables import FURTHER_PICKS
from bomkit.words import common
from bomkit.words.weekly import picks as pick_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.cart import cart_sheet
from bomkit.workbooks.weekly.picks.handed_out import of_one_day, picks_of
from bomkit.workbooks.weekly.picks.round import round_sheet
from bomkit.workbooks.writing.sheet import Book, Column, Sheet

_LINES = 60
_ON_PAPER = 15  # of these lines
_HEADS = pick_words.FURTHER_COLUMNS
_FORM = ListForm(
    {
        "line": Column(_HEADS["line"], 5, shows=True),
        "order": Column(_HEADS["order"], 18, fills="order"),
        "item": Column(_HEADS["item"], 14, fills="item"),
        "serial": Column(_HEADS["serial"], 11, fills="serial"),
        "location": Column(_HEADS["location"], 22, fills="location"),
        "lot": Column(_HEADS["lot"], 17, fills="lot"),
        "picked": Column(_HEADS["picked"], 12, "head_right", fills="picked"),
    },
    FURTHER_PICKS.name,
)


def picks_book(report: Report, week: str) -> Book:
    """What to hand out in a week: the round, the cart list, and in the first week further picks."""
    days = list(of_one_day(picks_of(report, week)))
    sheets = [round_sheet(report, week, days), cart_sheet(report, week, days)]
    if days and week == report.list_weeks[0]:
        sheets.append(_further(report, week))
    return report.book(sheets)


def _further(report: Report, week: str) -> Sheet:
    """Lines for what was picked besides the lists of the week that is closed."""
    return Sheet(
        name=pick_words.FURTHER_SHEET,
        title=pick_words.FURTHER_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=[
            _FORM.line({"line": (line, "faint_count"), **_FORM.to_fill()}, 20, [line])
            for line in range(1, _LINES + 1)
        ],
        cautions=(pick_words.PICK_CAUTION,),
        notes=(pick_words.FURTHER_NOTE,),
        filtered=False,
        portrait=True,
        printed=_ON_PAPER,
        entries=_FORM.entries,
    )
