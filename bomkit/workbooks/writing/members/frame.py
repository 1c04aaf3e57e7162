"""What stands around the pages of a workbook: which there are, whose it is, and what leads where
(ECMA-376, part 1, 18.2 workbook and 15.2 parts; part 2, 9 and 10)."""

from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

from bomkit.tables.entry_keys import LISTS_WRITTEN, RUN_NAME
from bomkit.workbooks.writing.keyed import count_of_lists
from bomkit.workbooks.writing.layout import Laid
from bomkit.workbooks.writing.members.styles import styles
from bomkit.workbooks.writing.members.text import attribute, escaped, on_sheet
from bomkit.workbooks.writing.sheet import Book

TYPES = "[Content_Types].xml"
_SCHEMAS = "http://schemas.openxmlformats.org"
_OF_PACKAGE, _OF_DOCUMENT = f"{_SCHEMAS}/package/2006", f"{_SCHEMAS}/officeDocument/2006"
_MAIN = f"{_SCHEMAS}/spreadsheetml/2006/main"
_OF_ANYBODY = "{D5CDD505-2E9C-101B-9397-08002B2CF9AE}"  # the properties that anybody may add
_KINDS = {  # of members, by their folder or else their name
    "styles.xml": "officedocument.spreadsheetml.styles",
    "theme": "officedocument.theme",
    "core.xml": "package.core-properties",
    "app.xml": "officedocument.extended-properties",
    "custom.xml": "officedocument.custom-properties",
    "worksheets": "officedocument.spreadsheetml.worksheet",
    "drawings": "officedocument.drawing",
    "charts": "officedocument.drawingml.chart",
    "workbook.xml": "officedocument.spreadsheetml.sheet.main",
}


def framed(book: Book, laid: Sequence[Laid], others: Iterable[str]) -> dict[str, str]:
    """The members of a workbook but its pages and what their charts add, which are the others."""
    members = {
        "xl/styles.xml": styles().member,
        "xl/theme/theme1.xml": _theme(),
        "docProps/core.xml": _core(book),
        # some programs go by the first words
        "docProps/app.xml": f'<Properties xmlns="{_OF_DOCUMENT}/extended-properties">'
        "<Application>Microsoft Excel Compatible / bomkit</Application></Properties>",
        "docProps/custom.xml": _custom(book),
    }
    told = sorted((name for name in others if "/_rels/" not in name), key=_is_chart)
    types = _types([*members, *told, "xl/workbook.xml"])
    pages = [("worksheet", f"/{page_name(number)}") for number in range(1, len(laid) + 1)]
    leads = [*pages, ("styles", "styles.xml"), ("theme", "theme/theme1.xml")]
    return members | {
        TYPES: types,
        "xl/workbook.xml": _workbook(book, laid),
        "xl/_rels/workbook.xml.rels": relations(leads),
        "_rels/.rels": relations(
            [
                ("officeDocument", "xl/workbook.xml"),
                ("core-properties", "docProps/core.xml"),
                ("extended-properties", "docProps/app.xml"),
                ("custom-properties", "docProps/custom.xml"),
            ]
        ),
    }


def _is_chart(name: str) -> bool:
    """Whether a member is a chart: they are told last."""
    return "/charts/" in name


def page_name(number: int) -> str:
    """The name of the member of a page, counted from 1."""
    return f"xl/worksheets/sheet{number}.xml"


def relations(leads: Iterable[tuple[str, str]]) -> str:
    """The member that says where another leads to: of each relation the kind and the target."""
    told = []
    for number, (kind, target) in enumerate(leads, 1):
        core = kind == "core-properties"
        of = f"{_OF_PACKAGE}/relationships/metadata" if core else f"{_OF_DOCUMENT}/relationships"
        told.append(f'<Relationship Type="{of}/{kind}" Target="{target}" Id="rId{number}" />')
    return f'<Relationships xmlns="{_OF_PACKAGE}/relationships">{"".join(told)}</Relationships>'


def _types(names: Iterable[str]) -> str:
    """The member that tells the kinds of these."""
    told = "".join(
        f'<Override PartName="/{name}"'
        f' ContentType="application/vnd.openxmlformats-{_KINDS[name.split("/")[1]]}+xml" />'
        for name in names
    )
    return (
        f'<Types xmlns="{_OF_PACKAGE}/content-types"><Default Extension="rels"'
        ' ContentType="application/vnd.openxmlformats-package.relationships+xml" />'
        f'<Default Extension="xml" ContentType="application/xml" />{told}</Types>'
    )


@cache
def _theme() -> str:
    """The usual theme; no look of bomkit's refers to it."""
    return Path(__file__).with_name("theme.xml").read_text("utf-8")


def _core(book: Book) -> str:
    """Who made the workbook, of which run, and when."""
    made = "".join(
        f'<dcterms:{of} xsi:type="dcterms:W3CDTF">{book.made.isoformat()}T00:00:00Z</dcterms:{of}>'
        for of in ("created", "modified")
    )
    return (
        f'<cp:coreProperties xmlns:cp="{_OF_PACKAGE}/metadata/core-properties"'
        ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"'
        ' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:creator>bomkit</dc:creator>'
        f"<dc:title>{escaped(book.run_id)}</dc:title>{made}</cp:coreProperties>"
    )


def _custom(book: Book) -> str:
    """Of which run the workbook is, and how many lists in it are filled in."""
    own = {RUN_NAME: book.run_id, LISTS_WRITTEN: str(count_of_lists(book))}
    told = "".join(
        f'<property name="{name}" fmtid="{_OF_ANYBODY}" pid="{number}">'
        f"<vt:lpwstr>{escaped(value)}</vt:lpwstr></property>"
        for number, (name, value) in enumerate(own.items(), 2)
    )
    return (
        f'<Properties xmlns:vt="{_OF_DOCUMENT}/docPropsVTypes"'
        f' xmlns="{_OF_DOCUMENT}/custom-properties">{told}</Properties>'
    )


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
    return (
        f'<workbook xmlns:r="{_OF_DOCUMENT}/relationships" xmlns="{_MAIN}"><workbookPr />'
        '<workbookProtection /><bookViews><workbookView visibility="visible" minimized="0"'
        ' showHorizontalScroll="1" showVerticalScroll="1" showSheetTabs="1" tabRatio="600"'
        ' firstSheet="0" activeTab="0" autoFilterDateGrouping="1" /></bookViews>'
        f"<sheets>{sheets}</sheets><definedNames>{named}</definedNames>"
        '<calcPr calcId="124519" fullCalcOnLoad="1" /></workbook>'
    )
