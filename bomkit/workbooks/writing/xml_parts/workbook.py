"""What stands around the sheets of a workbook: which there are, whose it is, and what leads where
(ECMA-376, part 1, 18.2 workbook and 15.2 parts; part 2, 9 and 10)."""

from collections.abc import Iterable, Sequence

from bomkit.tables.entry_keys import LISTS_WRITTEN, RUN_NAME
from bomkit.workbooks.writing.hidden_keys import count_of_lists
from bomkit.workbooks.writing.layout import Laid
from bomkit.workbooks.writing.sheet import Book
from bomkit.workbooks.writing.xml_parts.printed_areas import names_of_areas
from bomkit.workbooks.writing.xml_parts.styles import styles
from bomkit.workbooks.writing.xml_parts.text import attribute, escaped, filled, skeleton

_OF_DOCUMENT = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_KINDS = {  # of members, by their folder
    "worksheets": "spreadsheetml.worksheet",
    "drawings": "drawing",
    "charts": "drawingml.chart",
}


def around_worksheets(book: Book, laid: Sequence[Laid], others: Iterable[str]) -> dict[str, str]:
    """The members of a workbook but its worksheets and what charts add, which are the others."""
    sheets = [("worksheet", f"/{worksheet_name(number)}") for number in range(1, len(laid) + 1)]
    leads = [*sheets, ("styles", "styles.xml"), ("theme", "theme/theme1.xml")]
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


def worksheet_name(number: int) -> str:
    """The name of the member of a worksheet, counted from 1."""
    return f"xl/worksheets/sheet{number}.xml"


def relations(leads: Iterable[tuple[str, str]]) -> str:
    """The member that says where another leads to: of each relation the kind and the target."""
    told = "".join(
        f'<Relationship Type="{_OF_DOCUMENT}/{kind}" Target="{target}" Id="rId{number}" />'
        for number, (kind, target) in enumerate(leads, 1)
    )
    return filled("relations.xml", relations=told)


def _types(names: Iterable[str]) -> Iterable[str]:
    """The kinds of worksheets and drawings, and of charts after them; relations have no entry."""
    kinds = {name: _KINDS[name.split("/")[1]] for name in names if "/_rels/" not in name}
    for name in sorted(kinds, key=lambda name: "/charts/" in name):
        kind = f"application/vnd.openxmlformats-officedocument.{kinds[name]}+xml"
        yield f'<Override PartName="/{name}" ContentType="{kind}" />'


def _workbook(book: Book, laid: Sequence[Laid]) -> str:
    """The sheets by name, and the places on them that programs know by a name."""
    sheets = "".join(
        f'<sheet name={attribute(sheet.name)} sheetId="{number}" state="visible"'
        f' r:id="rId{number}" />'
        for number, sheet in enumerate(book.sheets, 1)
    )
    return filled("workbook.xml", sheets=sheets, named=names_of_areas(book, laid))
