"""The pick lists of a week: for each day one round and one cart list."""

import datetime as dt
from collections import Counter

from bomkit.tables.entries import FURTHER_PICKS
from bomkit.words import common, shortages, weekly
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.shortages import state_words
from bomkit.workbooks.weekly.picks_cart import cart_sheet
from bomkit.workbooks.weekly.picks_parts import Picks, is_there, of_one_day, picks_of
from bomkit.workbooks.weekly.picks_round import round_sheet
from bomkit.workbooks.writing.sheet import (
    Book,
    Cell,
    Line,
    Link,
    Sheet,
    all_to_fill,
    list_columns,
)

_LINES = 60
_ON_PAPER = 15  # of these lines
_FURTHER_WIDTHS = (5, 16, 14, 11, 22, 17, 12)
_WIDTHS = (22, 20, 20, 9.5, 12, 10, 10, 10, 12, 14)


def picks_book(report: Report, week: str) -> Book:
    """What to hand out in a week: the days, then the round and the cart list of each."""
    days = list(of_one_day(picks_of(report, week)))
    sheets = [_contents(report, week, days)]
    for picks in days:
        day = picks.orders[0]["start_date"]
        sheets += [
            round_sheet(report, picks, *_names(weekly.ROUND_NAME, weekly.ROUND_TITLE, day)),
            cart_sheet(report, picks, *_names(weekly.CART_NAME, weekly.CART_TITLE, day)),
        ]
    if days and week == report.list_weeks[0]:
        sheets.append(_further(report, week))
    return report.book(sheets)


def _further(report: Report, week: str) -> Sheet:
    """Lines for what was picked besides the lists of the week that is closed."""
    fills = dict(enumerate(FURTHER_PICKS.column_names))
    del fills[0]
    rest = all_to_fill(FURTHER_PICKS.name, fills.values())
    return Sheet(
        name=weekly.FURTHER_SHEET,
        title=weekly.FURTHER_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            weekly.FURTHER_COLUMNS, _FURTHER_WIDTHS, right=[6], fills=fills, shows=[0]
        ),
        lines=[Line([(line, "faint_count"), *rest], None, [line]) for line in range(1, _LINES + 1)],
        cautions=(weekly.PICK_CAUTION,),
        notes=(weekly.FURTHER_NOTE,),
        filtered=False,
        portrait=True,
        printed=_ON_PAPER,
        entries=FURTHER_PICKS.name,
    )


def _names(name: str, title: str, day: dt.date) -> tuple[str, str]:
    """The name and the title of a day's sheet."""
    return name.format(date=f"{day:%a %d %b}"), title.format(date=f"{day:%A %d %B}")


def _contents(report: Report, week: str, days: list[Picks]) -> Sheet:
    """A line a day: how many orders start, how they stand, and what there is to bring out."""
    return Sheet(
        name=weekly.PICKS_TITLE,
        title=weekly.PICKS_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(weekly.PICK_DAY_COLUMNS, _WIDTHS, right=range(3, 10)),
        lines=[Line(_day_cells(picks), height=22) for picks in days]
        or [Line([(weekly.NOTHING_STARTS_IN.format(week=week), "plain")])],
        cautions=(weekly.PICK_CAUTION,),
        notes=(*weekly.PICKS_NOTES, *shortages.STATES_NOTES),
        filtered=False,
    )


def _day_cells(picks: Picks) -> list[Cell]:
    """The row of one day."""
    day = picks.orders[0]["start_date"]
    stand = Counter(state_words(order) for order in picks.orders)
    parts = [part for order in picks.orders for part in picks.of(order)]
    lots = {
        (part["item"], part["serial"], part["location"], part["supply"])
        for part in parts
        if is_there(part)
    }
    round_name = _names(weekly.ROUND_NAME, "", day)[0]
    cart_name = _names(weekly.CART_NAME, "", day)[0]
    counts = [stand[shortages.STATES["complete"]], stand[shortages.COMES_IN_TIME]]
    counts += [stand[shortages.STATES["waiting"]], stand[shortages.STATES["short"]]]
    counts += [len(lots), sum(not is_there(part) for part in parts)]
    return [
        (day, "strong_full_date"),
        (Link(round_name, round_name), "link"),
        (Link(cart_name, cart_name), "link"),
        (len(picks.orders), "strong_pieces"),
        *((count, "pieces") for count in counts),
    ]
