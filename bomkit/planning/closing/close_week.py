"""The way in: a run and what was filled into its workbooks, to the tables of the week after.

What happened in a week is booked in one order, whatever was filled in first: answers, orders
placed, arrivals, work begun and finished, picks, boxes packed and sent, deliveries, and last of all
counts, which have the last word. So what came or was finished in the week can be picked in it.
"""

import datetime as dt
from dataclasses import dataclass

import polars as pl

from bomkit.planning.closing.account_of_week import account, not_closed
from bomkit.planning.closing.bought import book_answers, book_arrivals, book_orders_placed
from bomkit.planning.closing.counted import book_counts
from bomkit.planning.closing.handed_over import book_deliveries
from bomkit.planning.closing.ledger import Ledger, Week
from bomkit.planning.closing.moulds import book_pulls
from bomkit.planning.closing.packed import book_packing
from bomkit.planning.closing.picks_and_lacks import book_picks
from bomkit.planning.closing.shared_among_orders import served_in_spite, unfolded, unread_picks
from bomkit.planning.closing.worked import book_work, close_finished
from bomkit.planning.workdays import workdays_of
from bomkit.problems import Problem
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import week_of
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import as_typed

_MOST_WEEKS_CLOSED = 52  # in a row; a calendar that closes more has no next working week


@dataclass(frozen=True)
class Closed:
    """The tables of the week after, the account of the week, and what is doubtful or to be told.

    Use tables and account only if no problem is an error.
    """

    tables: dict[str, pl.DataFrame]
    account: pl.DataFrame
    problems: list[Problem]


def close_week(
    inputs: Tables, results: Tables, entries: Tables, unread: Tables | None = None
) -> Closed:
    """Books what was filled in; inputs and results: the tables of the run; unread: rows of entries
    of which a cell could not be read, so that nothing is said of what follows from that."""
    name, ends = week_of(inputs["plan"]["start"][0]), next_week(inputs) - dt.timedelta(days=1)
    booked = unfolded(entries, results)
    days = inputs["plan"]["start"][0], _last_day(inputs), ends
    week = Week(name, *days, inputs, results, booked, unread_picks(unread or {}))
    ledger = Ledger(week)
    refuse_doubled(ledger, entries)
    for row, items in served_in_spite(entries):
        ledger.note(row, "waits", said.PICKED_IN_SPITE.format(items=", ".join(items)))
    book_answers(ledger)
    book_orders_placed(ledger)
    book_arrivals(ledger)
    worked = book_work(ledger)
    book_picks(ledger, worked)
    close_finished(ledger)
    book_packing(ledger)
    book_deliveries(ledger)
    book_counts(ledger)
    book_pulls(ledger, worked)
    tables = {**{name: inputs[name] for name in INPUTS}, **ledger.frames()}
    tables["plan"] = inputs["plan"].with_columns(start=pl.lit(ends + dt.timedelta(days=1)))
    made = account(ledger, tables)
    problems = list(ledger.problems)
    if not any(problem.severity == "error" for problem in problems):
        problems += [_open_account(*row) for row in not_closed(made)]
    return Closed(tables, made, problems)


def refuse_doubled(ledger: Ledger, entries: Tables) -> None:
    """Says where one row of a list was filled in twice, say in two copies of a workbook."""
    for name, frame in entries.items():
        table = ENTRIES[name]
        seen: dict[tuple[object, ...], str] = {}
        for entry in frame.iter_rows(named=True):
            key = tuple(entry[column] for column in table.key)
            first: str = seen.setdefault(key, entry["where"])
            if first != entry["where"]:
                ledger.refuse(entry, table.key[0], said.FILLED_IN_TWICE.format(first=first))


def _open_account(item: str, opening: float, booked: float, closing: float) -> Problem:
    figures = {"opening": opening, "changes": booked, "closing": closing}
    words = said.DID_NOT_CLOSE.format(**{name: as_typed(each) for name, each in figures.items()})
    return Problem("account", "", "", item, words)


def _monday_after(day: dt.date) -> dt.date:
    return day + dt.timedelta(days=7 - day.weekday())


def _last_day(inputs: Tables) -> dt.date:
    """The last working day of the run's first week; its last day if nobody works in it."""
    end = _monday_after(inputs["plan"]["start"][0])
    days = workdays_of(inputs).dates
    within = days.filter(days < end)
    last: dt.date = within[-1] if len(within) else end - dt.timedelta(days=1)
    return last


def next_week(inputs: Tables) -> dt.date:
    """The Monday of the next week in which somebody works."""
    monday = _monday_after(inputs["plan"]["start"][0])
    days = workdays_of(inputs).dates
    for _ in range(_MOST_WEEKS_CLOSED):
        after = monday + dt.timedelta(days=7)
        if ((days >= monday) & (days < after)).any():
            break
        monday = after
    return monday
