"""The lists of what to ask for: who is rung first, what is asked, and room for the answer."""

from datetime import date

import polars as pl

from bomkit.runs.week.plan import Run
from bomkit.tables.results.buying import MOVES
from bomkit.words.weekly import asking as words
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.asking import ask_shops_sheet, ask_suppliers_sheet
from bomkit.workbooks.writing.sheet import Sheet
from tests.workbooks.other_reports import with_results

FIRST = date(2026, 12, 7)
HEADS = list(words.ASK_COLUMNS)


def asked_of(report: Report, *moves: tuple[str, str, str, int, str]) -> Report:
    """The report with moves of (order, item, kind, days, who waits)."""
    rows = [
        {
            "order": order,
            "item": item,
            "serial": "",
            "kind": kind,
            "due_date": FIRST,
            "right_date": None if kind == "not needed" else FIRST,
            "days": days,
            "quantity": 4.0,
            "right_quantity": {"less": 3.0, "not needed": 0.0}.get(kind, 4.0),
            "value": None,
            "demand": waits,
            "meant_for": "",
        }
        for order, item, kind, days, waits in moves
    ]
    return with_results(report, moves=pl.DataFrame(rows, schema=MOVES.schema))


def shown(sheet: Sheet, column: str) -> list[object]:
    """What stands in a column, of the rows of moves."""
    place = HEADS.index(column)
    return [line.cells[place][0] for line in sheet.lines if len(line.cells) == len(HEADS)
            and line.cells[1] and line.cells[1][0]]  # fmt: skip


def bought(report: Report, count: int) -> list[str]:
    """Items of different suppliers."""
    items = report.tables["items"].filter((pl.col("source") == "buy") & (pl.col("supplier") != ""))
    return items.unique("supplier", keep="first", maintain_order=True)["item"].to_list()[:count]


def test_the_supplier_for_whose_part_somebody_waits_the_longest_is_rung_first(
    full_run: Run,
) -> None:
    one, two, three = bought(full_run.report, 3)
    report = asked_of(
        full_run.report,
        ("A-1", one, "sooner", 30, ""),
        ("A-2", two, "sooner", 4, "FN-070"),
        ("A-3", three, "sooner", 9, "FN-066"),
    )
    [sheet] = ask_suppliers_sheet(report, report.list_weeks[0])
    assert shown(sheet, "order") == ["A-3", "A-2", "A-1"]
    assert shown(sheet, "waits") == ["FN-066", "FN-070", ""]


def test_of_one_supplier_what_is_waited_for_comes_first_and_what_is_not_needed_last(
    full_run: Run,
) -> None:
    [one] = bought(full_run.report, 1)
    report = asked_of(
        full_run.report,
        ("A-1", one, "not needed", 0, ""),
        ("A-2", one, "less", 0, ""),
        ("A-3", one, "later", -9, ""),
        ("A-4", one, "overdue", 2, ""),
        ("A-5", one, "sooner", 1, ""),
        ("A-6", one, "sooner", 1, "FN-070"),
    )
    [sheet] = ask_suppliers_sheet(report, report.list_weeks[0])
    assert shown(sheet, "order") == ["A-6", "A-5", "A-4", "A-3", "A-2", "A-1"]
    assert shown(sheet, "ask") == [
        *["▲ sooner"] * 2,
        "▲ overdue: when?",
        "later will do",
        "less will do",
        "not needed",
    ]
    assert shown(sheet, "right_quantity")[-2:] == [3.0, 0.0]


def test_shops_are_asked_for_what_they_make_and_suppliers_for_the_rest(full_run: Run) -> None:
    items = full_run.report.tables["items"]
    made, printed = (items.filter(source=source)["item"][0] for source in ("make", "print"))
    [one] = bought(full_run.report, 1)
    report = asked_of(
        full_run.report,
        ("W-1", made, "sooner", 3, ""),
        ("W-2", printed, "sooner", 3, ""),
        ("P-1", one, "sooner", 3, ""),
    )
    week = report.list_weeks[0]
    [shops] = ask_shops_sheet(report, week, ["make", "kit"])
    [printers] = ask_shops_sheet(report, week, ["print"])
    [suppliers] = ask_suppliers_sheet(report, week)
    assert [shown(sheet, "order") for sheet in (shops, printers, suppliers)] == [
        ["W-1"],
        ["W-2"],
        ["P-1"],
    ]
    assert "cure" in shops.cautions[0]


def test_where_nothing_is_to_be_asked_and_in_later_weeks_there_is_no_such_sheet(
    full_run: Run,
) -> None:
    [one] = bought(full_run.report, 1)
    assert ask_suppliers_sheet(asked_of(full_run.report), full_run.report.list_weeks[0]) == []
    some = asked_of(full_run.report, ("A-1", one, "sooner", 30, ""))
    assert ask_suppliers_sheet(some, full_run.report.list_weeks[1]) == []


def test_every_move_of_the_sample_stands_on_one_of_the_lists(full_run: Run) -> None:
    report, week = full_run.report, full_run.report.list_weeks[0]
    sheets = [
        *ask_suppliers_sheet(report, week),
        *ask_shops_sheet(report, week, ["make", "kit"]),
        *ask_shops_sheet(report, week, ["print"]),
    ]
    listed = sorted(str(order) for sheet in sheets for order in shown(sheet, "order"))
    assert listed == sorted(report["moves"]["order"])


def test_of_an_order_that_makes_nobody_late_yet_it_says_for_whom_it_is_needed_first(
    full_run: Run,
) -> None:
    report = full_run.report
    served = (
        report["pegs"]
        .filter((pl.col("supply_kind") == "open order") & (pl.col("demand_kind") == "airframe"))
        .sort("need_date", "demand")
    )
    order, item = served.row(0, named=True)["supply"], served.row(0, named=True)["item"]
    own = served.filter((pl.col("supply") == order) & (pl.col("item") == item))
    asked = asked_of(report, (order, item, "sooner", 3, ""), ("P-0", item, "sooner", 3, "FN-1"))
    sheets = [
        *ask_suppliers_sheet(asked, report.list_weeks[0]),
        *ask_shops_sheet(asked, report.list_weeks[0], ["make", "kit", "print"]),
    ]
    told = [waits for sheet in sheets for waits in shown(sheet, "waits")]
    assert sorted(map(str, told)) == ["FN-1", f"for {own['demand'][0]}"]
    later = asked_of(report, (order, item, "later", -9, ""))
    sheets = [
        *ask_suppliers_sheet(later, report.list_weeks[0]),
        *ask_shops_sheet(later, report.list_weeks[0], ["make", "kit", "print"]),
    ]
    assert [waits for sheet in sheets for waits in shown(sheet, "waits")] == [""]
