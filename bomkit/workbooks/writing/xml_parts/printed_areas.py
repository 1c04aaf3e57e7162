"""What is printed of each sheet, which row stands on every page of it, and which rows can be
filtered: areas that a workbook knows by a name (ECMA-376, part 1, 18.2.5 definedName)."""

from collections.abc import Sequence

from bomkit.workbooks.writing.layout import Laid
from bomkit.workbooks.writing.sheet import Book
from bomkit.workbooks.writing.xml_parts.text import escaped, on_sheet


def names_of_areas(book: Book, laid: Sequence[Laid]) -> str:
    """The areas of all sheets by their names; those of one name are told apart by the sheet."""
    return "".join(
        f'<definedName name="_xlnm.{name}" localSheetId="{number}"{hidden}>'
        f"{escaped(on_sheet(sheet.name, place))}</definedName>"
        for number, (sheet, own) in enumerate(zip(book.sheets, laid, strict=True))
        for name, hidden, place in (
            ("_FilterDatabase", ' hidden="1"', own.filtered),
            ("Print_Titles", "", f"${own.heading_row}:${own.heading_row}"),
            ("Print_Area", "", own.printed),
        )
        if place
    )
