"""A list declares its columns once; cells are put in by key, wherever their column stands."""

from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.writing.sheet import Column

FORM = ListForm(
    {
        "item": Column("Item", 12),
        "quantity": Column("Quantity", 9, "head_right"),
        "note": Column("Note", 30),
    }
)


def test_the_columns_stand_in_the_order_in_which_they_are_declared() -> None:
    assert [column.heading for column in FORM.columns] == ["Item", "Quantity", "Note"]
    assert FORM.width("note") == 30


def test_cells_stand_in_their_columns_however_they_are_given() -> None:
    line = FORM.line({"note": ("cut first", "text"), "item": ("resin", "strong")}, 20, ["resin"])
    assert list(line.cells) == [("resin", "strong"), None, ("cut first", "text")]
    assert (line.height, line.key) == (20, ["resin"])


def test_a_section_runs_across_the_list_and_may_hold_more() -> None:
    line = FORM.section("To pack", {"quantity": (3, "section_right")})
    assert list(line.cells) == [("To pack", "section"), (3, "section_right"), ("", "section_note")]
