"""Consignment lists: several orders that leave on one day for one consignee, as they are read."""

import datetime as dt
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bomkit.words.fleet import packing as said
from bomkit.workbooks.fleet.file_names import free_name
from tests.commands import bomkit, written
from tests.once import once

FILES = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 6\nlist_weeks = 1\n",
    "items.csv": """item,source,unit,lead_days,description,cost,mass_g,hazard
glider,make,pc,2,Glider,,,
kit,kit,pc,1,Lamp kit,,,
lamp,buy,pc,20,Lamp,80,250,
screw,buy,pc,5,Screw,0.1,2,
screw-0,buy,pc,5,Old screw,0.1,2,
paint,buy,l,5,Paint,30,1200,"UN 1263, class 3"
card,buy,pc,5,Card,1,,
""",
    "structure.csv": """parent,child,quantity,unit,position,note
glider,lamp,1,,,
kit,lamp,1,,10,aligned with a jig
kit,screw,4,,20,
kit,paint,50,ml,30,
""",
    "build_plan.csv": "serial,item,ready_date\nK-2,glider,2026-12-11\n",
    "fleet.csv": (
        "serial,item,options,base,customer\n"
        "K-1,glider,,Hilltop,Hill Club\nK-3,glider,,Hilltop,\nK-4,glider,,Seaside,\n"
        "K-5,glider,,,\n"
    ),
    "stock.csv": """item,quantity,location,lot,expires
lamp,3,rack 1,L1,
screw,90,bin 3,S1,
paint,2,paint store,P2,2027-12-24
card,9,office,,
""",
}
ORDERS = """order,item,quantity,need_date,serial,urgency,customer
S/1,kit,1,2026-12-02,K-1,routine,Hill Club
S-2,card,2,2026-12-02,K-3,routine,Hill Club
"""


def kits(folder: Path, orders: str, **files: str) -> Path:
    """The folder of packing lists of a plan with some spares orders."""
    tables = {**FILES, "spares_orders.csv": orders}
    tables |= {f"{name}.csv": words for name, words in files.items()}
    result = bomkit("plan", written(folder / "data", tables), "--out", folder / "out")
    assert result.exit_code == 0, result.output
    return folder / "out" / "kits"


def consignments(folder: Path, orders: str) -> list[str]:
    """The names of the consignment lists of a plan with some spares orders."""
    return consignment_lists(kits(folder, orders), orders)


def consignment_lists(folder: Path, orders: str) -> list[str]:
    """The names of what is no packing list of an order."""
    lists = {path.stem for path in folder.iterdir()}
    named = {line.split(",")[0].replace("/", "_") for line in orders.splitlines()[1:]}
    assert named <= lists
    return sorted(lists - named)


@pytest.fixture(scope="session")
def two_orders(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The packing lists of a plan with both orders, written once; not to be changed."""
    return once(tmp_path_factory, "two-orders-packed", lambda folder: kits(folder, ORDERS))


def page(path: Path) -> list[list[Any]]:
    """The cells of the sheet, empty rows left out."""
    [sheet] = openpyxl.load_workbook(path).worksheets
    rows = sheet.iter_rows(values_only=True)
    return [list(row) for row in rows if any(cell is not None for cell in row)]


def table(rows: list[list[Any]]) -> list[dict[str, Any]]:
    """The rows below the headings by heading."""
    place = next(number for number, row in enumerate(rows) if row[0] == "Loaded")
    return [dict(zip(rows[place], row, strict=True)) for row in rows[place + 1 :]]


def part_of(rows: list[dict[str, Any]], heading: str) -> list[dict[str, Any]]:
    """The lines below a heading, up to the next."""
    place = next(number for number, row in enumerate(rows) if row["Loaded"] == heading)
    found = []
    for row in rows[place + 1 :]:
        if not row["Order"]:
            if found:
                break
            continue
        found.append(row)
    return found


def test_two_orders_that_leave_on_a_day_for_one_customer_and_base_have_one_list(
    two_orders: Path,
) -> None:
    assert consignment_lists(two_orders, ORDERS) == ["Hill_Club-2026-12-02"]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("S-2,card,2,2026-12-02,K-3", "S-2,card,2,2026-12-03,K-3"),  # another day
        ("S-2,card,2,2026-12-02,K-3", "S-2,card,2,2026-12-02,K-4"),  # another base
        ("K-3,routine,Hill Club", "K-3,routine,Other Club"),
        ("S-2,card,2,2026-12-02,K-3", "S-2,card,99,2026-12-02,K-3"),  # not there that day
        ("S-2,", "S/1,"),  # the same order
    ],
)
def test_what_leaves_otherwise_has_none(before: str, after: str, tmp_path: Path) -> None:
    assert before in ORDERS
    assert consignments(tmp_path, ORDERS.replace(before, after)) == []


def test_an_order_without_a_customer_goes_to_that_of_its_aircraft(tmp_path: Path) -> None:
    orders = ORDERS.replace("K-1,routine,Hill Club", "K-1,routine,")
    assert consignments(tmp_path, orders) == ["Hill_Club-2026-12-02"]


def test_without_any_customer_the_base_is_the_consignee(tmp_path: Path) -> None:
    orders = ORDERS.replace("Hill Club", "").replace("K-1", "K-4").replace("K-3", "K-4")
    assert consignments(tmp_path, orders) == ["Seaside-2026-12-02"]


def test_orders_of_which_nobody_says_where_they_go_are_not_put_together(tmp_path: Path) -> None:
    orders = ORDERS.replace("Hill Club", "").replace("K-1", "K-5").replace("K-3", "K-5")
    assert consignments(tmp_path, orders) == []


def test_a_list_never_takes_the_name_of_an_order(tmp_path: Path) -> None:
    orders = ORDERS + "hill_club-2026-12-02,card,1,2026-12-04,K-4,routine,\n"
    assert consignments(tmp_path, orders) == ["Hill_Club-2026-12-02_2"]


def test_a_name_is_cut_where_it_is_too_long_and_keeps_the_day() -> None:
    name = free_name("Flying " * 40, [], "-2026-12-02")
    assert len(name) < 100 and name.endswith("-2026-12-02")


def test_the_list_says_to_whom_it_goes_and_which_orders_it_holds(two_orders: Path) -> None:
    rows = page(two_orders / "Hill_Club-2026-12-02.xlsx")
    head = " ".join(str(row[0]) for row in rows[:8])
    for words in ("Consignment to Hill Club", "for Hill Club", "at Hilltop", "2 orders: S-2, S/1"):
        assert words in head
    assert "leaves Wed 02 Dec 2026" in head
    orders = part_of(table(rows), said.CONSIGNED)
    assert [(row["Order"], row["Item"], row["Quantity"]) for row in orders] == [
        ("S-2", "card", 2),
        ("S/1", "kit", 1),
    ]
    assert all(row["Loaded"] == "☐" for row in orders)
    assert "to K-1" in orders[1]["Stock and production"]


def test_what_is_packed_of_each_order_stands_with_its_lot_mass_and_value(two_orders: Path) -> None:
    rows = table(page(two_orders / "Hill_Club-2026-12-02.xlsx"))
    packed = part_of(rows, said.PACK_NOW)
    assert [(row["Order"], row["Item"], row["Quantity"], row["Lot"]) for row in packed] == [
        ("S-2", "card", 2, None),
        ("S/1", "lamp", 1, "L1"),
        ("S/1", "screw", 4, "S1"),
    ]
    assert [row["Mass, kg"] for row in packed] == [None, 0.25, 0.008]
    assert [row["Value"] for row in packed] == [2, 80, 0.4]
    assert "aligned with a jig" in packed[1]["Stock and production"]
    total = next(row for row in rows if row["Loaded"] == said.CONSIGNMENT_WHOLE)
    assert total["Mass, kg"] == pytest.approx(0.318) and total["Value"] == pytest.approx(83.9)
    assert total["Description"] == "without a stated mass: card"


def test_dangerous_goods_stand_apart_with_the_cautions(two_orders: Path) -> None:
    rows = page(two_orders / "Hill_Club-2026-12-02.xlsx")
    head = " ".join(str(row[0]) for row in rows[:8])
    assert "releases nothing" in head and "paint: UN 1263, class 3" in head
    [paint] = part_of(table(rows), said.PACK_HAZARD)
    assert (paint["Order"], paint["Item"]) == ("S/1", "paint")
    assert paint["Use by"] == dt.datetime(2027, 12, 24)
    first = [str(row[0]) for row in rows]
    assert "trained staff" in first[first.index(said.PACK_HAZARD) + 1]


def test_what_is_still_to_come_stands_last_with_the_day(tmp_path: Path) -> None:
    stock = FILES["stock.csv"].replace("lamp,3,rack 1,L1,\n", "")
    rows = page(next(kits(tmp_path, later(), stock=stock).glob("Hill*.xlsx")))
    waiting = part_of(table(rows), said.PACK_WAIT)
    assert [(row["Order"], row["Item"]) for row in waiting] == [("S-2", "lamp"), ("S/1", "lamp")]
    assert all("○ from " in row["Stock and production"] for row in waiting)
    assert all(str(row["Lot"]).startswith("buy-") for row in waiting)


def later() -> str:
    """Both orders ask for a lamp and wait for the same one."""
    return ORDERS.replace("S-2,card,2", "S-2,kit,1")


def test_a_part_that_is_packed_in_the_place_of_another_says_so(tmp_path: Path) -> None:
    structure = FILES["structure.csv"].replace("kit,screw,", "kit,screw-0,")
    replaced = {"structure": structure, "replacements": "old,new\nscrew-0,screw\n"}
    folder = kits(tmp_path, ORDERS.replace("card,2", "screw,2"), **replaced)
    packed = part_of(table(page(folder / "Hill_Club-2026-12-02.xlsx")), said.PACK_NOW)
    words = {row["Order"]: row["Stock and production"] for row in packed if row["Item"] == "screw"}
    assert "screw-0" in words["S/1"] and "screw-0" not in words["S-2"]


def test_each_line_has_room_for_box_serial_number_certificate_and_core(two_orders: Path) -> None:
    path = two_orders / "Hill_Club-2026-12-02.xlsx"
    sheet = openpyxl.load_workbook(path).worksheets[0]
    [heads] = [row for row in sheet.iter_rows() if row[0].value == "Loaded"]
    places = {str(cell.value): cell.column - 1 for cell in heads}
    lines = [row for row in sheet.iter_rows() if row[places["Item"]].value in ("lamp", "paint")]
    assert len(lines) == 2
    for row in lines:
        for field in ("Box no.", "Part serial no.", "Certificate no."):
            assert row[places[field]].border.right.style == "thin"
        assert row[places["Core due back"]].value == row[0].value == "☐"


def test_it_is_no_list_to_book_from(two_orders: Path, tmp_path: Path) -> None:
    result = bomkit("take-back", two_orders.parent, "--into", tmp_path / "next")
    assert result.exit_code == 0, result.output
    assert "Hill_Club" not in result.output and "nothing was filled in" in result.output
