"""The packing workbooks as a spreadsheet program reads them, and the command that writes one."""

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest

from bomkit.runs.week.plan import Run
from bomkit.screens.kit import kit_lines
from bomkit.workbooks.fleet.packing_list import packing_book
from bomkit.workbooks.shortages.promises import promises_sheet
from bomkit.workbooks.writing.sheet import Sheet
from tests.commands import bomkit
from tests.once import once
from tests.workbooks.other_reports import with_results

DATA = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 6\nlist_weeks = 1\n",
    "items.csv": """item,source,unit,lead_days,description,cost,mass_g,hazard
glider,make,pc,2,Glider,,,
kit,kit,pc,1,Lamp kit,,,
lamp,buy,pc,20,Lamp,80,250,
screw,buy,pc,5,Screw,0.1,2,
paint,buy,l,5,Paint,30,1200,"UN 1263, class 3"
card,buy,pc,5,Card,1,,
""",
    "structure.csv": """parent,child,quantity,unit,position,with_option,note
glider,lamp,1,,,,
kit,lamp,1,,10,,aligned with a jig
kit,screw,4,,20,,
kit,paint,50,ml,30,,
kit,card,1,,40,LIGHTS,
""",
    "build_plan.csv": "serial,item,ready_date\nK-2,glider,2026-12-11\n",
    "fleet.csv": "serial,item,options,base\nK-1,glider,LIGHTS,Hilltop\n",
    "stock.csv": """item,quantity,location,lot,expires
lamp,1,rack 1,L1,
screw,90,bin 3,S1,
paint,1,paint store,P1,2026-12-24
paint,2,paint store,P2,2027-12-24
card,9,office,,
""",
    "spares_orders.csv": """order,item,quantity,need_date,serial,urgency,customer
S/1,kit,1,2026-12-02,K-1,URGENCY,Hill Club
S-2,screw,4,2026-12-02,,,
""",
}


def written(folder: Path, urgency: str) -> Path:
    """A folder with a kit order of an urgency."""
    folder.mkdir()
    for name, content in DATA.items():
        (folder / name).write_text(content.replace("URGENCY", urgency))
    return folder


@pytest.fixture(scope="session")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The packing list of the routine kit order, written once; not to be changed."""

    def written_in(folder: Path) -> Path:
        result = bomkit(
            "kit", written(folder / "data", "routine"), "S/1", "--out", folder / "kit.xlsx"
        )
        assert result.exit_code == 0, result.output
        return folder / "kit.xlsx"

    return once(tmp_path_factory, "kit-packed", written_in)


@pytest.fixture
def routine(tmp_path: Path) -> Path:
    """A folder with a routine kit order."""
    return written(tmp_path / "data", "routine")


def page(path: Path) -> list[list[Any]]:
    """The cells of the first sheet, empty rows left out."""
    rows = openpyxl.load_workbook(path).worksheets[0].iter_rows(values_only=True)
    return [list(row) for row in rows if any(cell is not None for cell in row)]


def test_each_line_has_room_for_serial_number_certificate_and_core(packed: Path) -> None:
    sheet = openpyxl.load_workbook(packed).worksheets[0]
    [heads] = [row for row in sheet.iter_rows() if row[0].value == "Done"]
    fields = [cell for cell in heads if cell.value in ("Part serial no.", "Certificate no.")]
    [core] = [cell for cell in heads if cell.value == "Core due back"]
    lines = [row for row in sheet.iter_rows() if row[2].value in ("lamp", "screw", "paint")]
    assert len(fields) == 2 and len(lines) == 3
    for row in lines:
        frames = {row[cell.column - 1].border.right.style for cell in fields}
        assert frames == {"thin"}
        assert row[core.column - 1].value == row[0].value  # a box to tick


def row_of(rows: list[list[Any]], item: str) -> list[Any]:
    """The row of an item."""
    [found] = [row for row in rows if row[2] == item]
    return found


def test_the_list_says_to_whom_it_goes_and_what_it_is(packed: Path) -> None:
    rows = page(packed)
    head = " ".join(str(row[0]) for row in rows[:6])
    for words in ("1 pc Lamp kit", "to K-1", "at Hilltop", "for Hill Club", "routine", "wanted"):
        assert words in head
    assert "releases nothing" in head


def test_each_line_has_its_place_lot_mass_and_value(packed: Path) -> None:
    rows = page(packed)
    screw = row_of(rows, "screw")
    assert screw[:9] == ["☐", "20", "screw", "Screw", 4, "pc", "bin 3", "S1", None]
    assert screw[12:15] == [2, 0.008, 0.4]
    # P1 expires before ninety days are over
    paint = row_of(rows, "paint")
    assert paint[6:9] == ["paint store", "P2", dt.datetime(2027, 12, 24)]
    assert paint[4] == pytest.approx(0.05)


def test_dangerous_goods_stand_apart_with_the_caution(packed: Path) -> None:
    rows = page(packed)
    first = [str(row[0]) for row in rows]
    apart = first.index("Dangerous goods: pack apart")
    assert "trained staff" in first[apart + 1]
    assert rows[apart + 2][2] == "paint" and "UN 1263, class 3" in rows[apart + 2][3]


def test_a_line_that_the_line_needs_waits_and_says_who_would_wait(packed: Path) -> None:
    lamp = row_of(page(packed), "lamp")
    assert str(lamp[6]).startswith("○ from ")
    assert "in stock 1, free 0" in lamp[15] and "K-2 would wait" in lamp[15]
    assert "aligned with a jig" in lamp[15]


def test_a_grounded_order_takes_it_and_says_from_whom(tmp_path: Path) -> None:
    data = written(tmp_path / "data", "grounded")
    bomkit("kit", data, "S/1", "--out", tmp_path / "kit.xlsx")
    lamp = row_of(page(tmp_path / "kit.xlsx"), "lamp")
    assert lamp[6] == "rack 1"
    assert "picked although K-2 needs it" in lamp[15]


def test_what_has_no_mass_is_named_beside_the_total(packed: Path) -> None:
    [total] = [row for row in page(packed) if str(row[0]).startswith("Mass and")]
    assert total[4] == "without a stated mass: card"
    assert total[13] == pytest.approx(0.008 + 0.06)
    assert total[14] == pytest.approx(0.4 + 1.5 + 1)


def test_there_are_boxes_for_packer_and_checker(packed: Path) -> None:
    words = {row[2] for row in page(packed)}
    assert {"Packed by", "Checked by"} <= words


def test_the_plan_writes_the_same_list_for_every_spares_order(
    routine: Path, packed: Path, tmp_path: Path
) -> None:
    assert bomkit("plan", routine, "--out", tmp_path / "out").exit_code == 0
    names = {path.name for path in (tmp_path / "out" / "kits").iterdir()}
    assert names == {"S_1.xlsx", "S-2.xlsx"}
    assert page(tmp_path / "out" / "kits" / "S_1.xlsx") == page(packed)
    promises = pl.read_parquet(tmp_path / "out" / "tables" / "promises.parquet")
    assert set(promises["order"]) == {"S/1", "S-2"}


def test_a_part_order_can_be_packed_too(routine: Path, tmp_path: Path) -> None:
    result = bomkit("kit", routine, "S-2", "--out", tmp_path / "kit.xlsx")
    assert result.exit_code == 0
    assert row_of(page(tmp_path / "kit.xlsx"), "screw")[4] == 4
    assert "screw           4 pc   pick             bin 3, S1" in result.output


def test_an_unknown_order_is_told_with_the_nearest_one(routine: Path, tmp_path: Path) -> None:
    result = bomkit("kit", routine, "S-1", "--out", tmp_path / "kit.xlsx")
    assert result.exit_code == 1
    assert "'S-1' is no order of spares_orders; did you mean S" in result.output
    assert not (tmp_path / "kit.xlsx").exists()


def test_an_earlier_list_is_not_overwritten_unasked(routine: Path, tmp_path: Path) -> None:
    out = tmp_path / "kit.xlsx"
    out.write_text("mine")
    assert bomkit("kit", routine, "S-2", "--out", out).exit_code == 1
    assert out.read_text() == "mine"
    assert bomkit("kit", routine, "S-2", "--out", tmp_path / "kit.txt").exit_code == 2


def test_an_order_past_the_horizon_says_so(routine: Path, tmp_path: Path) -> None:
    late = (routine / "spares_orders.csv").read_text().replace("2026-12-02", "2028-12-02")
    (routine / "spares_orders.csv").write_text(late)
    result = bomkit("kit", routine, "S-2", "--out", tmp_path / "kit.xlsx")
    assert result.exit_code == 1 and "past the horizon" in result.output


@pytest.mark.parametrize("order", ["x" * 260, "予備" * 60, "..", "../../out", "con", "a/b:c*?"])
def test_any_name_of_an_order_gives_a_file_that_can_be_written(
    routine: Path, tmp_path: Path, order: str
) -> None:
    orders = routine / "spares_orders.csv"
    orders.write_text(orders.read_text().replace("S-2", order), encoding="utf-8")
    result = bomkit("plan", routine, "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    names = [path.name for path in (tmp_path / "out" / "kits").iterdir()]
    assert len(names) == 2 and not any(name.startswith(".") for name in names)
    assert "con.xlsx" not in names


def test_a_kit_that_holds_nothing_for_its_aircraft_is_an_error(routine: Path) -> None:
    items = routine / "items.csv"
    items.write_text(items.read_text() + "empty,kit,pc,1,Empty kit,,,\nset,phantom,pc,,Set,,,\n")
    structure = routine / "structure.csv"
    structure.write_text(structure.read_text() + "empty,set,1,,,,\nset,card,1,,,SKIS,\n")
    orders = routine / "spares_orders.csv"
    orders.write_text(orders.read_text() + "S-3,empty,1,2026-12-03,K-1,routine,\n")
    result = bomkit("check", routine)
    assert result.exit_code == 1
    assert "spares_orders.csv line 4, column item: 'empty' nothing would be packed" in result.output


def words_of(sheets: Sequence[Sheet]) -> str:
    """All words in the cells and notes of sheets."""
    cells = [cell[0] for sheet in sheets for line in sheet.lines for cell in line.cells if cell]
    return "\n".join([*map(str, cells), *(note for sheet in sheets for note in sheet.notes)])


def test_of_who_is_left_without_a_date_no_number_of_days_is_told(full_run: Run) -> None:
    never = {"waiting_days": pl.lit(None, pl.Int64), "free_from": pl.lit(None, pl.Date)}
    waiting = {"waiting": pl.lit("FN-081"), "waiting_kind": pl.lit("airframe")}
    later = {"later": pl.lit("FN-081"), "later_kind": pl.lit("airframe")}
    before = full_run.report
    report = with_results(
        before,
        promises=before["promises"].with_columns(**later, later_days=pl.lit(None, pl.Int64)),
        packing=before["packing"].with_columns(
            **waiting, **never, in_stock=pl.lit(1.0), free=pl.lit(0.0)
        ),
    )
    packing = words_of(packing_book(report, "SP-2612").sheets)
    assert "leaves FN-081 without a date" in packing
    assert "picked although FN-081 needs it, and nothing else brings it" in packing
    assert "in stock 1, free 0; FN-081 needs it, and nothing else brings it" in packing
    promised = words_of([promises_sheet(report)])
    assert "FN-081: no date" in promised
    printed = "\n".join(kit_lines(report, "SP-2612"))
    assert "leaves FN-081 without a date" in printed
    assert "None" not in packing + promised + printed
