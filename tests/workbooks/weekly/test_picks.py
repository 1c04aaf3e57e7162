"""Pick lists: rounds, cart lists and pick sheets hold the same, and what the pegs say."""

import re
from collections import Counter
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest

from bomkit.runs.week.plan import Choices, Run, weekly_run
from bomkit.tables.weeks import iso_week
from bomkit.words.progress import silent
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.book import picks_book
from bomkit.workbooks.weekly.picks.order_of_places import by_number
from bomkit.workbooks.weekly.picks.order_sheets import pick_sheets_book
from bomkit.workbooks.writing.sheet import Sheet
from tests.commands import written

Taken = dict[tuple[str, str], float]  # by order and item

ITEMS = "item,description,source,unit,lead_days,structure_class,hazard\n"
FILES = {
    "items.csv": f"{ITEMS}craft,Craft,make,pc,2,,\ntail,Tail,make,pc,2,,\n"
    "old,Old bolt,buy,pc,3,,\nnew,New bolt,buy,pc,3,,\nglue,Glue,buy,l,3,,UN 1133\n"
    "late,Late part,buy,pc,60,,\n",
    "structure.csv": "parent,child,quantity,offset_days\n"
    "craft,tail,1,0\ncraft,old,4,0\ncraft,glue,0.0002,1\ncraft,late,1,0\ntail,glue,0.25,0\n",
    "build_plan.csv": "serial,item,ready_date\nX-1,craft,2026-12-04\nX-2,craft,2026-12-04\n",
    "replacements.csv": "old,new\nold,new\n",
    "stock.csv": "item,quantity,location,lot,expires\nold,3,rack 11,,\nnew,9,rack 2,,\n"
    "glue,1,cool store,G-7,2026-12-31\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 8\nlist_weeks = 2\n",
}


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Run:
    folder = tmp_path_factory.mktemp("picks")
    written(folder / "data", FILES)
    choices = Choices(pick_sheets=True)
    return weekly_run(folder / "data", folder / "out", False, silent, choices)


def number(words: str) -> float:
    return float(words.replace(",", ""))


def needs_of_week(report: Report, week: str) -> pl.DataFrame:
    """The pegs of orders that start in a week, and of what those in work lack in it."""
    starting = report["ready"].filter(iso_week("start_date") == week)["order"]
    lacked = pl.max_horizontal("need_date", pl.lit(report.start)).dt.strftime("%G-W%V") == week
    in_work = (pl.col("demand_kind") == "in work") & (pl.col("from_order") == "") & lacked
    return report["pegs"].filter(
        pl.col("from_order").is_in(starting.implode()) | in_work,
        pl.col("supply_kind") != "passed on",
    )


def asked_for(report: Report, week: str, there: bool) -> Taken:
    """What the pegs give the orders of a week, from stock or not."""
    from_stock = pl.col("supply_kind") == "stock"
    pegs = needs_of_week(report, week).filter(from_stock if there else ~from_stock)
    sums = pegs.group_by("need", "item").agg(pl.col("quantity").sum())
    return {(order, item): quantity for order, item, quantity in sums.iter_rows()}


def cells(sheet: Sheet) -> list[list[Any]]:
    return [[cell[0] if cell else None for cell in line.cells] for line in sheet.lines]


def on_rounds(report: Report, week: str) -> tuple[Taken, Any]:
    """What the round of a week gives each order of what goes to one, or is measured out to several;
    and by item all that is to be brought out."""
    taken: Taken = {}
    totals: Any = Counter()
    item, begins = "", ""
    for row in cells(picks_book(report, week).sheets[0]):
        if row[0] == "To come within the week":
            break
        if str(row[0]).startswith("☐"):
            item = row[2].split(" ")[0]
            totals[item] += row[4]
            if not row[6].endswith(" orders"):
                add(taken, row[6], item, row[4])
        elif row[0] is None:  # "resin: make-0001 2.5  -0002 3", and maybe more below
            for share in row[1].removeprefix(f"{item}: ").split("  "):
                name, quantity = share.split("\u00a0")
                order = f"{begins}{name}" if name.startswith("-") else name
                begins = order.rpartition("-")[0]
                add(taken, order, item, number(quantity))
    return taken, totals


def add(taken: Taken, order: str, item: str, quantity: float) -> None:
    taken[order, item] = taken.get((order, item), 0.0) + quantity


def on_carts(report: Report, week: str) -> tuple[Taken, Taken, set[tuple[str, str]]]:
    """What the cart list of a week names for each order: pieces in stores, what is not there, and
    what is measured out and named alone."""
    there: Taken = {}
    absent: Taken = {}
    named: set[tuple[str, str]] = set()
    order = ""
    for row in cells(picks_book(report, week).sheets[1]):
        if not row[3] or "□" not in row[3]:
            continue
        order = row[1] or order
        comes, *parts = re.split("□\u00a0", row[3])
        for words in parts:
            told = words.split("\u00a0(")[0].strip().replace("◆", "").split("\u00a0")
            if told[0] in report.items:
                named.add((order, told[0]))
            else:
                item = told[1] if told[1] in report.items else told[2]
                add(absent if comes else there, order, item, number(told[0]))
    return there, absent, named


@pytest.mark.parametrize("number", [0, 1, 2, 3])
def test_rounds_and_cart_lists_add_up_to_each_other_and_to_the_pegs(
    full_run: Run, number: int
) -> None:
    report = full_run.report
    week = report.list_weeks[number]
    of_rounds, totals = on_rounds(report, week)
    on_cart, absent, named = on_carts(report, week)
    counted = {item: row["unit"] == "pc" for item, row in report.items.items()}
    pieces: Any = Counter()
    for (_, item), quantity in on_cart.items():
        pieces[item] += quantity
    assert pieces == {item: total for item, total in totals.items() if counted[item]}
    assert all(counted[item] for _, item in on_cart)
    in_pegs = asked_for(report, week, there=True)
    measured = {key: value for key, value in in_pegs.items() if not counted[key[1]]}
    shared = {key: value for key, value in of_rounds.items() if not counted[key[1]]}
    assert shared == pytest.approx(measured, abs=0.0021)
    assert named == set(measured)
    assert {key: on_cart[key] for key in of_rounds if counted[key[1]]} == {
        key: value for key, value in of_rounds.items() if counted[key[1]]
    }
    # shares of a piece are rounded along a need, so pieces are held to the need as a whole
    wanted = Counter(in_pegs)
    wanted.update(asked_for(report, week, there=False))
    found = Counter(on_cart)
    found.update(absent)
    whole = {key: round(value) for key, value in wanted.items() if counted[key[1]]}
    assert {key: value for key, value in found.items() if counted[key[1]]} == whole
    assert absent and of_rounds


def test_every_order_stands_on_the_cart_list_of_its_day(full_run: Run) -> None:
    report = full_run.report
    week = report.list_weeks[1]
    starting = report["ready"].filter(iso_week("start_date") == week).select("order", "start_date")
    needs = needs_of_week(report, week).filter(pl.col("from_order") == "")
    lacking = needs.select(order="need", start_date="need_date").unique()
    days = pl.concat([starting, lacking])
    assert len(lacking)
    orders: dict[str, list[str]] = {}
    day = ""
    for row in cells(picks_book(report, week).sheets[1]):
        if row[0] and not row[0].startswith("☐"):
            day = row[0]
        if row[1]:
            orders.setdefault(day, []).append(row[1])
    expected = days.with_columns(day=pl.col("start_date").dt.strftime("%A %d %B")).sort("order")
    assert orders == dict(expected.group_by("day").agg("order").iter_rows())


def test_pick_sheets_hold_what_rounds_and_cart_lists_hold(small: Run) -> None:
    report = small.report
    for week in report.list_weeks:
        in_sheets: Taken = {}
        for sheet in pick_sheets_book(report, week).sheets[1:]:
            for row in cells(sheet):
                if row and row[0] == "☐":
                    key = sheet.name, row[4]
                    in_sheets[key] = in_sheets.get(key, 0.0) + row[7]
        on_cart, absent, named = on_carts(report, week)
        both = Counter(on_cart)
        both.update(absent)
        both.update(
            {key: value for key, value in on_rounds(report, week)[0].items() if key in named}
        )
        assert both == pytest.approx(in_sheets)


def test_cart_lists_and_rounds_keep_all_that_must_be_known(small: Run) -> None:
    folder = small.out / small.report.list_weeks[0]
    book = openpyxl.load_workbook(folder / "picks.xlsx")
    words = {
        kind: " ".join(
            str(cell.value).replace("\u00a0", " ")
            for sheet in book.worksheets
            if sheet.title.startswith(kind)
            for row in sheet.iter_rows()
            for cell in row
            if cell.value is not None
        )
        for kind in ("Round", "Cart")
    }
    assert "in place of old" in words["Round"] and "in place of old" in words["Cart"]
    assert "UN 1133" in words["Round"]
    # there is one lot of it, so that it stands on the round alone; its last day is near
    assert "◆glue (use by 31 Dec 2026" in words["Cart"]
    assert "lot G-7; use by 31 Dec 2026" in words["Round"]
    # craft begins when the late part is there; by then G-7 is too old for it, so it gets new glue
    assert "use by passes first" not in words["Cart"] + words["Round"]
    assert re.search(r"● comes [^:]*: □ 0\.0002 l ◆glue \(buy-", words["Cart"])
    assert re.search(r"▲ late, comes [^:]*: □ 1 late \(buy-", words["Cart"])
    assert "late" not in words["Round"].split("Picked")[-1]


def test_pick_sheets_are_written_where_asked_for_alone(small: Run, tiny_run: Run) -> None:
    assert len(list(small.out.glob("*/pick_sheets.xlsx"))) == 2
    assert not list(tiny_run.out.glob("*/pick_sheets.xlsx"))
    assert len(list(tiny_run.out.glob("*/picks.xlsx"))) == len(tiny_run.report.list_weeks)


def test_every_order_that_starts_in_a_week_has_a_pick_sheet_with_all_its_components(
    full_run: Run,
) -> None:
    report = full_run.report
    week = report.list_weeks[0]
    _, *sheets = pick_sheets_book(report, week).sheets
    starting = report["ready"].filter(iso_week("start_date") == week)
    assert [sheet.name for sheet in sheets] == starting.sort("start_date", "order")[
        "order"
    ].to_list()
    order = starting.filter(pl.col("missing") > 0)["order"][0]
    (sheet,) = (sheet for sheet in sheets if sheet.name == order)
    rows = [row for row in cells(sheet) if row and row[0] == "☐"]
    asked = report["pegs"].filter(
        (pl.col("from_order") == order) & (pl.col("supply_kind") != "passed on")
    )
    picked: dict[str, float] = {}
    for row in rows:
        picked[row[4]] = picked.get(row[4], 0.0) + row[7]
        assert row[8] != "pc" or row[7] == round(row[7])
    needed = dict(asked.group_by("item").agg(pl.col("quantity").sum()).iter_rows())
    assert picked == pytest.approx(needed)
    there = [row[1] != "not there" for row in rows]
    assert there == sorted(there, reverse=True) and not all(there)
    for row in rows:
        assert (row[1] == "not there") == ("comes" in str(row[10]))


def test_a_lot_for_very_many_orders_is_shared_out_in_rows_of_one_line(tmp_path: Path) -> None:
    many = 70
    crafts = "".join(f"c{n},,make,pc,2\n" for n in range(many))
    files = {
        "items.csv": f"item,description,source,unit,lead_days\n{crafts}glue,Glue,buy,kg,3\n",
        "structure.csv": "parent,child,quantity\n" + "".join(f"c{n},glue,2\n" for n in range(many)),
        "build_plan.csv": "serial,item,ready_date\n"
        + "".join(f"X-{n},c{n},2026-12-04\n" for n in range(many)),
        "stock.csv": "item,quantity,location\nglue,200,rack 1\n",
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\nlist_weeks = 1\n",
    }
    written(tmp_path, files)
    report = weekly_run(tmp_path, tmp_path / "out", False, silent).report
    taken, totals = on_rounds(report, "2026-W49")
    assert (len(taken), totals["glue"], sum(taken.values())) == (many, 2 * many, 2 * many)
    heights = [line.height or 0 for line in picks_book(report, "2026-W49").sheets[0].lines]
    assert len(heights) > 4 and max(heights) <= 20


def test_an_order_that_lacks_very_many_components_goes_on_in_rows_that_can_be_so_high(
    tmp_path: Path,
) -> None:
    many = 100
    name = "a-part-with-a-name-of-some-length-{n}"
    parts = [name.format(n=n) for n in range(many)]
    files = {
        "items.csv": "item,source,unit,lead_days\ncraft,make,pc,2\n"
        + "".join(f"{part},buy,pc,3\n" for part in parts),
        "structure.csv": "parent,child,quantity\n" + "".join(f"craft,{part},1\n" for part in parts),
        "build_plan.csv": "serial,item,ready_date\nX-1,craft,2026-12-04\n",
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\nlist_weeks = 1\n",
    }
    written(tmp_path, files)
    report = weekly_run(tmp_path, tmp_path / "out", False, silent).report
    _, absent, _ = on_carts(report, "2026-W49")
    assert len(absent) == many
    heights = [line.height or 0 for line in picks_book(report, "2026-W49").sheets[1].lines]
    assert max(heights) < 409  # points: no row can be higher


def test_what_comes_within_the_week_is_filled_in_on_the_round_but_not_printed(
    full_run: Run,
) -> None:
    sheet = picks_book(full_run.report, full_run.report.list_weeks[0]).sheets[0]
    heads = [line.cells[0][0] if line.cells[0] else "" for line in sheet.lines]
    assert sheet.printed == heads.index("To come within the week")
    assert all(line.key for line in sheet.lines[sheet.printed + 1 :])
    assert len(sheet.lines) > sheet.printed + 10


def test_locations_stand_as_people_count_them() -> None:
    places = ["rack 2", "rack 11", "cool store, shelf 4", "rack 10", ""]
    assert sorted(places, key=by_number) == [
        "",
        "cool store, shelf 4",
        "rack 2",
        "rack 10",
        "rack 11",
    ]
