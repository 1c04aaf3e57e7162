"""The pick lists of a week: the round and the cart list, day by day, and room for further picks."""

from bomkit.tables.entries import FURTHER_PICKS
from bomkit.words import common
from bomkit.words.weekly import picks as pick_words
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.cart import cart_sheet
from bomkit.workbooks.weekly.picks.drawn import of_one_day, picks_of
from bomkit.workbooks.weekly.picks.round import round_sheet
from bomkit.workbooks.writing.sheet import Book, Line, Sheet, all_to_fill, list_columns

_LINES = 60
_ON_PAPER = 15  # of these lines
_WIDTHS = (5, 18, 14, 11, 22, 17, 12)


def picks_book(report: Report, week: str) -> Book:
    """What to hand out in a week: the round, the cart list, and in the first week further picks."""
    days = list(of_one_day(picks_of(report, week)))
    sheets = [round_sheet(report, week, days), cart_sheet(report, week, days)]
    if days and week == report.list_weeks[0]:
        sheets.append(_further(report, week))
    return report.book(sheets)


def _further(report: Report, week: str) -> Sheet:
    """Lines for what was picked besides the lists of the week that is closed."""
    fills = dict(enumerate(FURTHER_PICKS.column_names))
    del fills[0]
    rest = all_to_fill(FURTHER_PICKS.name, fills.values())
    return Sheet(
        name=pick_words.FURTHER_SHEET,
        title=pick_words.FURTHER_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            pick_words.FURTHER_COLUMNS, _WIDTHS, right=[6], fills=fills, shows=[0]
        ),
        lines=[Line([(line, "faint_count"), *rest], 20, [line]) for line in range(1, _LINES + 1)],
        cautions=(pick_words.PICK_CAUTION,),
        notes=(pick_words.FURTHER_NOTE,),
        filtered=False,
        portrait=True,
        printed=_ON_PAPER,
        entries=FURTHER_PICKS.name,
    )
