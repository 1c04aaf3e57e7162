"""The looks of cells as tables (ECMA-376, part 1, 18.8 styles): what number each has, and what the
numbers mean. All workbooks share them."""

from functools import cache
from typing import NamedTuple

from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.xml_parts.text import attribute, filled

_BUILT_IN = {"General": 0, "0": 1, "@": 49}  # number formats that every program knows by number
_FIRST_OWN = 164  # number of the first format that is told


class Styles(NamedTuple):
    """The number of each style, and the member of the archive."""

    numbers: dict[str, int]
    member: str


class _Entries(dict[str, int]):
    """The entries of a table with their numbers, each there once."""

    def number(self, entry: str) -> int:
        """The number of an entry, which is added if it is new."""
        return self.setdefault(entry, len(self))

    def told(self, name: str) -> str:
        """The table."""
        return f'<{name} count="{len(self)}">{"".join(self)}</{name}>'


class _Tables:
    """The tables while looks are added; each begins with what cells without a look have."""

    def __init__(self) -> None:
        self.forms, self.fonts, self.fills = _Entries(), _Entries(), _Entries()
        self.borders, self.looks = _Entries(), _Entries()
        self.fonts.number(
            '<font><name val="Calibri" /><family val="2" /><color theme="1" /><sz val="11" />'
            '<scheme val="minor" /></font>'
        )
        # the unit of column widths
        self.fonts.number(f'<font><name val="{style.FONT}" /><sz val="10" /></font>')
        self.fills.number("<fill><patternFill /></fill>")
        self.fills.number('<fill><patternFill patternType="gray125" /></fill>')
        self.borders.number("<border><left /><right /><top /><bottom /><diagonal /></border>")
        self.looks.number(
            '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" pivotButton="0" quotePrefix="0"'
            ' xfId="0" />'
        )

    def number(self, look: style.Look) -> int:
        """The number of a look."""
        spaced = look.across == "right" and look.indent > 0 and look.form != "General"
        across = f'horizontal="{look.across}" ' if look.across else ""
        wrapped = ' wrapText="1"' if look.wrap else ""
        indent = f' indent="{look.indent}"' if look.indent and not spaced else ""
        protected = ' applyProtection="1"' if look.open else ""
        unlocked = '<protection locked="0" hidden="0" />' if look.open else ""
        form = self._form("@" if look.quoted else _with_room(look.form) if spaced else look.form)
        fill = self.fills.number(_fill(look.ground)) if look.ground else 0
        return self.looks.number(
            f'<xf numFmtId="{form}" fontId="{self.fonts.number(_font(look))}" fillId="{fill}"'
            f' borderId="{self.borders.number(_border(look))}" applyAlignment="1"'
            f'{protected} pivotButton="0" quotePrefix="{look.quoted:d}" xfId="0">'
            f'<alignment {across}vertical="center"{wrapped}{indent} />{unlocked}</xf>'
        )

    def _form(self, form: str) -> int:
        """The number of a number format."""
        built_in = _BUILT_IN.get(form)
        return _FIRST_OWN + self.forms.number(form) if built_in is None else built_in

    def told(self) -> str:
        """The member with all tables."""
        forms = "".join(
            f'<numFmt numFmtId="{_FIRST_OWN + number}" formatCode={attribute(form)} />'
            for form, number in self.forms.items()
        )
        return filled(
            "styles.xml",
            count=len(self.forms),
            forms=forms,
            fonts=self.fonts.told("fonts"),
            fills=self.fills.told("fills"),
            borders=self.borders.told("borders"),
            looks=self.looks.told("cellXfs"),
        )


@cache
def styles() -> Styles:
    """The styles of all workbooks."""
    tables = _Tables()
    numbers = {name: tables.number(look) for name, look in style.STYLES.items()}
    return Styles(numbers, tables.told())


def _with_room(form: str) -> str:
    """A number format that leaves room at the right, as an indent would.

    Some programs forget the indent of a number beside another one, so that it touches what follows.
    """
    return ";".join(f"{part}_0_ " for part in form.split(";"))


def _font(look: style.Look) -> str:
    bold = '<b val="1" />' if look.bold else ""
    return (
        f'<font><name val="{style.FONT}" />{bold}<color rgb="00{look.colour}" />'
        f'<sz val="{look.size:g}" /></font>'
    )


def _fill(ground: str) -> str:
    colour = f'<fgColor rgb="00{ground}" />'
    return f'<fill><patternFill patternType="solid">{colour}</patternFill></fill>'


def _border(look: style.Look) -> str:
    """The lines around a cell: a frame, with a thick line before today, or one below."""
    if look.framed:
        left = _line("left", "thick", style.RULE) if look.today else _line("left", "thin")
        others = "".join(_line(edge, "thin") for edge in ("right", "top", "bottom"))
        return f"<border>{left}{others}</border>"
    if look.below == "none":
        return "<border />"
    rule = look.below == "rule"
    below = _line("bottom", "thin", style.RULE) if rule else _line("bottom", "hair")
    return f"<border>{below}</border>"


def _line(edge: str, kind: str, colour: str = style.HAIRLINE) -> str:
    return f'<{edge} style="{kind}"><color rgb="00{colour}" /></{edge}>'
