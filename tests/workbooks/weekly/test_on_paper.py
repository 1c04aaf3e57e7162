"""The weekly set on paper: how many pages it takes, and whether what is on them can be read."""

from itertools import chain
from pathlib import Path

import pytest

from bomkit.runs.week.plan import Run, weekly_run
from bomkit.words.progress import silent
from tests.commands import written
from tests.paper import Paper, on_paper

MOST_PAGES = 60
LEAST_PRINT = 8.9  # points, on paper: about nine
LEAST_ROOM = 14.8  # points, of a row that is written in: about fifteen


def week_on_paper(run: Run) -> list[Paper]:
    """The sheets of all workbooks of the first week."""
    books = sorted((run.out / run.report.list_weeks[0]).glob("*.xlsx"))
    return list(chain.from_iterable(on_paper(book) for book in books))


@pytest.fixture(scope="module")
def large(full_run: Run) -> list[Paper]:
    return week_on_paper(full_run)


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> list[Paper]:
    """The sheets of a week in which nothing is to be done."""
    folder = tmp_path_factory.mktemp("idle")
    files = {
        "items.csv": "item,source,unit,lead_days\ncraft,make,pc,1\nbolt,buy,pc,1\n",
        "structure.csv": "parent,child,quantity\ncraft,bolt,4\n",
        "build_plan.csv": "serial,item,ready_date\nX-1,craft,2027-03-01\n",
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 16\nlist_weeks = 1\n",
    }
    written(folder / "data", files)
    return week_on_paper(weekly_run(folder / "data", folder / "out", False, silent))


@pytest.fixture(scope="module")
def long_names(tmp_path_factory: pytest.TempPathFactory) -> list[Paper]:
    """The sheets of a week with names, places and descriptions that are as long as they come."""
    folder = tmp_path_factory.mktemp("long")
    words = "with a description that goes on and on for longer than any column is wide, " * 2
    many = range(40)
    files = {
        "items.csv": "item,description,source,unit,lead_days,process,hazard,structure_class\n"
        + f'CRAFT-OF-MANY-PARTS-AND-OPTIONS,"Craft {words}",make,pc,2,laminating-and-bonding,,\n'
        + "".join(
            f'COMPONENT-{n}-RIGHT-HAND,"Part {words}",buy,kg,{3 + n % 3 * 20},,"UN 1263",\n'
            for n in many
        ),
        "structure.csv": "parent,child,quantity\n"
        + "".join(
            f"CRAFT-OF-MANY-PARTS-AND-OPTIONS,COMPONENT-{n}-RIGHT-HAND,12.345\n" for n in many
        ),
        "build_plan.csv": "serial,item,ready_date\n"
        + "".join(f"SERIAL-{n},CRAFT-OF-MANY-PARTS-AND-OPTIONS,2026-12-04\n" for n in range(12)),
        "stock.csv": "item,quantity,location,lot,expires\n"
        + "".join(
            f'COMPONENT-{n}-RIGHT-HAND,999.999,"the store behind the paint shop, shelf {n}",'
            f"LOT-{n}-OF-2026,2027-06-30\n"
            for n in many
            if n % 3 == 0
        ),
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 8\nlist_weeks = 1\n",
    }
    written(folder / "data", files)
    return week_on_paper(weekly_run(folder / "data", folder / "out", False, silent))


def test_the_sample_s_first_week_takes_no_more_pages_than_it_did(large: list[Paper]) -> None:
    taken = {paper.where: paper.pages for paper in large}
    assert sum(taken.values()) <= MOST_PAGES, taken


@pytest.mark.parametrize("week", ["large", "empty", "long_names"])
def test_no_sheet_is_printed_smaller_than_about_nine_points(
    week: str, request: pytest.FixtureRequest
) -> None:
    sheets: list[Paper] = request.getfixturevalue(week)
    assert len(sheets) >= 6
    assert min((paper.smallest_print(), paper.where) for paper in sheets)[0] >= LEAST_PRINT


@pytest.mark.parametrize("week", ["large", "long_names"])
def test_rows_are_high_enough_to_write_in_with_a_pen(
    week: str, request: pytest.FixtureRequest
) -> None:
    sheets: list[Paper] = request.getfixturevalue(week)
    assert min(paper.least_room_to_write() for paper in sheets) >= LEAST_ROOM


@pytest.mark.parametrize("week", ["large", "empty", "long_names"])
def test_no_words_are_cut(week: str, request: pytest.FixtureRequest) -> None:
    sheets: list[Paper] = request.getfixturevalue(week)
    assert [words for paper in sheets for words in paper.cut_words()] == []


def test_a_week_without_work_takes_a_page_for_each_workbook(empty: list[Paper]) -> None:
    assert {paper.pages for paper in empty} == {1}


def test_every_page_has_its_headings_and_says_which_of_how_many_it_is(large: list[Paper]) -> None:
    for paper in large:
        assert paper.sheet.print_title_rows
        assert paper.sheet.oddFooter.right.text == "&A\npage &P of &N"


def test_a_sheet_that_grows_by_a_page_of_rows_is_found_to_take_a_page_more(
    full_run: Run, tmp_path: Path
) -> None:
    import openpyxl

    book = openpyxl.load_workbook(full_run.out / full_run.report.list_weeks[0] / "counts.xlsx")
    sheet = book.worksheets[0]
    (before,) = on_paper(full_run.out / full_run.report.list_weeks[0] / "counts.xlsx")
    for row in range(sheet.max_row + 1, sheet.max_row + 36):
        sheet.cell(row, 2, "one more")
        sheet.row_dimensions[row].height = 15.8
    book.save(tmp_path / "counts.xlsx")
    (after,) = on_paper(tmp_path / "counts.xlsx")
    assert after.pages == before.pages + 1
