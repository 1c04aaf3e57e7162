"""Cautions stand in bold above every list where work can hurt, and short on each of its pages."""

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bomkit.runs.week.plan import Choices, Run, weekly_run
from bomkit.words import common, shortages
from bomkit.words.fleet import packing
from bomkit.words.progress import silent
from bomkit.words.weekly import buying as buy_words
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from tests.commands import written

FILES = {
    "items.csv": "item,description,source,unit,lead_days,structure_class,hazard\n"
    "craft,,make,pc,2,,\n"
    "spar,Spar,buy,pc,3,primary,\n"
    "lock,Control lock,buy,pc,3,tooling,\n"
    "paint,Paint,buy,l,3,,UN 1263 class 3\n"
    "nut,Nut,buy,pc,30,,\n"
    "nut-2,Steel nut,buy,pc,3,,\n",
    "structure.csv": "parent,child,quantity\n"
    "craft,spar,1\ncraft,lock,1\ncraft,paint,2\ncraft,nut,4\n",
    "build_plan.csv": "serial,item,ready_date\nX-1,craft,2026-12-04\n",
    "stock.csv": "item,quantity,location,status,reason\nspar,9,A,,\nlock,9,A,,\npaint,9,A,,\n"
    "nut-2,8,B,,\nnut,4,C,quarantine,cracked lot\nnut,4,D,hold,\n",
    "alternates.csv": "item,alternate,note\nnut,nut-2,nose gear only; new pins\n",
    "fleet.csv": "serial,item\nX-0,craft\n",
    "spares_orders.csv": "order,item,quantity,need_date,serial\nS1,paint,1,2026-12-04,X-0\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 8\nlist_weeks = 2\n",
}


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    folder = tmp_path_factory.mktemp("cautions")
    written(folder / "data", FILES)
    choices = Choices(pick_sheets=True)
    return weekly_run(folder / "data", folder / "out", False, silent, choices)


def sheets(path: Path) -> list[Any]:
    return list(openpyxl.load_workbook(path).worksheets)


def told(sheet: Any) -> list[str]:
    return [str(cell.value) for row in sheet.iter_rows() for cell in row if cell.value is not None]


def bold(sheet: Any, words: str) -> bool:
    """Whether the words stand on the sheet, in bold, and the short caution on every page."""
    cells = [cell for row in sheet.iter_rows(max_col=1) for cell in row if cell.value is not None]
    strong = " ".join(str(cell.value) for cell in cells if cell.font.bold)
    return words in strong and sheet.oddFooter.center.text == common.FOOT_CAUTION


@pytest.mark.parametrize(
    ("book", "words"),
    [
        ("2026-W49/make.xlsx", work_words.WORK_CAUTION),
        ("2026-W49/buy.xlsx", buy_words.BUY_CAUTION),
        ("kits/S1.xlsx", packing.PACK_CAUTION),
    ],
)
def test_the_caution_is_bold_and_at_the_foot_of_every_page(run: Run, book: str, words: str) -> None:
    assert any(bold(sheet, words) for sheet in sheets(run.out / book))


def test_pick_lists_say_what_must_be_minded(run: Run) -> None:
    of_round, _, _ = sheets(run.out / "2026-W49" / "picks.xlsx")
    _, sheet = sheets(run.out / "2026-W49" / "pick_sheets.xlsx")
    for pick in (of_round, sheet):
        assert bold(pick, pick_words.PICK_CAUTION)
        words = told(pick)
        assert "Spar; primary structure" in words
        assert "Control lock; TOOLING, must come back" in words
        assert "Paint; UN 1263 class 3" in words
        assert common.NOT_STATED in " ".join(words) and common.PLAN_NUMBERS in " ".join(words)


def test_cart_lists_say_what_must_be_minded(run: Run) -> None:
    _, cart, _ = sheets(run.out / "2026-W49" / "picks.xlsx")
    assert bold(cart, pick_words.PICK_CAUTION)
    words = " ".join(told(cart)).replace("\u00a0", " ")
    assert "□ 1 spar (primary)" in words and "Primary: primary structure." in words
    assert "□ 1 lock (TOOLING, must come back)" in words
    # dangerous goods bear a mark; of which kind each is stands once, in bold, above the list
    assert "□ ◆paint" in words
    assert bold(cart, "◆ Dangerous goods: paint UN 1263 class 3.")
    assert common.NOT_STATED in words and common.PLAN_NUMBERS in words


def test_packing_lists_say_that_no_mark_means_not_stated(run: Run) -> None:
    (packing,) = sheets(run.out / "kits" / "S1.xlsx")
    assert common.NOT_STATED in told(packing)


def test_stand_ins_come_with_the_limits_of_their_approval_and_why_stock_is_held(run: Run) -> None:
    book = sheets(run.out / "shortages.xlsx")
    helping = [sheet for sheet in book if any("alternate nut-2" in words for words in told(sheet))]
    assert len(helping) > 1
    for sheet in helping:
        words = " ".join(told(sheet))
        assert "approved: nose gear only; new pins" in words
        assert "blocked (quarantine: cracked lot)" in words
        assert "blocked (hold: reason not stated)" in words
        assert bold(sheet, shortages.STAND_IN_CAUTION)


def test_printed_parts_are_cautioned_for_fire_and_fuel(tiny_run: Run) -> None:
    for sheet in sheets(tiny_run.out / "2026-W49" / "print.xlsx"):
        assert bold(sheet, work_words.PRINT_CAUTION)
    assert "fire and fuel" in work_words.PRINT_CAUTION


def test_the_foot_of_a_page_stays_within_what_it_holds(run: Run) -> None:
    sheet = sheets(run.out / "2026-W49" / "make.xlsx")[0]
    foot = sheet.oddFooter
    assert sum(len(part.text or "") + 20 for part in (foot.left, foot.center, foot.right)) <= 255


def test_the_limits_of_an_approval_are_never_cut_off(run: Run) -> None:
    sheet = openpyxl.load_workbook(run.out / "shortages.xlsx")["Ready to start"]
    (cell,) = [c for row in sheet.iter_rows() for c in row if "alternate nut-2" in str(c.value)]
    width = sheet.column_dimensions[cell.column_letter].width
    lines = len(str(cell.value)) / (1.12 * width)
    assert lines > 2  # else two lines would do
    assert sheet.row_dimensions[cell.row].height >= lines * 12
