"""What stands around the pages of a workbook: which there are, whose it is, and what leads where
(ECMA-376, part 1, 18.2 workbook and 15.2 parts; part 2, 9 and 10)."""

from collections.abc import Iterable, Sequence

from bomkit.tables.entry_keys import LISTS_WRITTEN, RUN_NAME
from bomkit.workbooks.writing.keyed import count_of_lists
from bomkit.workbooks.writing.layout import Laid
from bomkit.workbooks.writing.members.styles import styles
from bomkit.workbooks.writing.members.text import attribute, escaped, filled, on_sheet, skeleton
from bomkit.workbooks.writing.sheet import Book

_OF_DOCUMENT = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_KINDS = {  # of members, by their folder
    "worksheets": "spreadsheetml.worksheet",
    "drawings": "drawing",
    "charts": "drawingml.chart",
}


def framed(book: Book, laid: Sequence[Laid], others: Iterable[str]) -> dict[str, str]:
    """The members of a workbook but its pages and what their charts add, which are the others."""
    pages = [("worksheet", f"/{page_name(number)}") for number in range(1, len(laid) + 1)]
    leads = [*pages, ("styles", "styles.xml"), ("theme", "theme/theme1.xml")]
    run_id, lists = escaped(book.run_id), count_of_lists(book)
    owned = {"run_name": RUN_NAME, "run_id": run_id, "lists_written": LISTS_WRITTEN, "lists": lists}
    return {
        "[Content_Types].xml": filled("types.xml", others="".join(_types(others))),
        "_rels/.rels": filled("rels.xml"),
        "docProps/app.xml": filled("app.xml"),  # programs that know Excel go by its first words
        "docProps/core.xml": filled("core.xml", run_id=run_id, made=book.made.isoformat()),
        "docProps/custom.xml": filled("custom.xml", **owned),
        "xl/styles.xml": styles().member,
        "xl/theme/theme1.xml": skeleton("theme.xml"),
        "xl/workbook.xml": _workbook(book, laid),
        "xl/_rels/workbook.xml.rels": relations(leads),
    }


def page_name(number: int) -> str:
    """The name of the member of a page, counted from 1."""
    return f"xl/worksheets/sheet{number}.xml"


def relations(leads: Iterable[tuple[str, str]]) -> str:
    """The member that says where another leads to: of each relation the kind and the target."""
    told = "".join(
        f'<Relationship Type="{_OF_DOCUMENT}/{kind}" Target="{target}" Id="rId{number}" />'
        for number, (kind, target) in enumerate(leads, 1)
    )
    return filled("relations.xml", relations=told)


def _types(names: Iterable[str]) -> Iterable[str]:
    """The kinds of pages and drawings, and of charts after them; relations have no entry."""
    kinds = {name: _KINDS[name.split("/")[1]] for name in names if "/_rels/" not in name}
    for name in sorted(kinds, key=lambda name: "/charts/" in name):
        kind = f"application/vnd.openxmlformats-officedocument.{kinds[name]}+xml"
        yield f'<Override PartName="/{name}" ContentType="{kind}" />'


def _workbook(book: Book, laid: Sequence[Laid]) -> str:
    """The pages by name, and the places on them that programs know by a name."""
    sheets = "".join(
        f'<sheet name={attribute(sheet.name)} sheetId="{number}" state="visible"'
        f' r:id="rId{number}" />'
        for number, sheet in enumerate(book.sheets, 1)
    )
    named = "".join(
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
    return filled("workbook.xml", sheets=sheets, named=named)
