"""The one look of all sheets: fonts, lines and number formats by style name.

Dark ink and slate on white, hairlines instead of boxes, states as a symbol, a word and a colour, so
that a grey print says the same.
"""

from dataclasses import dataclass

INK, SLATE, HAIRLINE, RULE = "1F2B33", "5A6872", "CBD3D8", "1F2B33"
LATE, LATE_GROUND = "9B1C1C", "FBEAE8"
TO_DO, TO_DO_GROUND = "7A4A00", "FDF3DF"
COMING, COMING_GROUND = "0B5566", "E7F2F5"
ENTRY_GROUND, BAND = "FFFBEB", "EEF2F4"
LINK = "0B4F8A"
# dark to light, told apart in a grey print by their brightness
SERIES = ("22343F", "3E7C8C", "B97A2B", "8FA9B3", "D9B98A", "5E4B6B", "C7CED2", "6F8F5F", "2F5D50")

FONT = "Arial"
BODY_SIZE = 9.5
USUAL_HEIGHT = 16.5
WRITING_HEIGHT = 25.5

PIECES = '#,##0;-#,##0;"–"'
MEASURE = '#,##0.00;-#,##0.00;"–"'
MASS = '#,##0.000;-#,##0.000;"–"'
MONEY = '#,##0.00;-#,##0.00;"–"'
HOURS = '#,##0.0;-#,##0.0;"–"'
DATE = "ddd dd mmm yyyy"
SHORT_DATE = "ddd dd mmm"


@dataclass(frozen=True)
class Look:
    """How a cell of one style looks."""

    size: float = BODY_SIZE
    bold: bool = False
    colour: str = INK
    ground: str = ""
    form: str = "General"
    across: str = ""  # left, center, right
    wrap: bool = False
    below: str = "hair"  # hair, rule, none
    framed: bool = False
    indent: int = 0
    quoted: bool = False  # stays text even when somebody edits the cell


def _numbers(prefix: str, **more: object) -> dict[str, Look]:
    """The number and date styles, with a prefix for a variant of them."""
    forms = {
        "pieces": PIECES,
        "measure": MEASURE,
        "mass": MASS,
        "money": MONEY,
        "hours": HOURS,
    }
    looks = {
        f"{prefix}{name}": Look(form=form, across="right", **more)  # type: ignore[arg-type]
        for name, form in forms.items()
    }
    looks[f"{prefix}date"] = Look(form=SHORT_DATE, across="left", **more)  # type: ignore[arg-type]
    looks[f"{prefix}full_date"] = Look(form=DATE, across="left", **more)  # type: ignore[arg-type]
    return looks


STYLES: dict[str, Look] = {
    "title": Look(size=18, bold=True, below="none"),
    "subtitle": Look(size=9, colour=SLATE, below="none"),
    "note": Look(size=9, below="none"),
    "caution": Look(size=9, bold=True, below="none"),
    "head": Look(size=9, bold=True, wrap=True, below="rule", across="left"),
    "head_right": Look(size=9, bold=True, wrap=True, below="rule", across="right"),
    "head_centre": Look(size=9, bold=True, wrap=True, below="rule", across="center"),
    "section": Look(size=12, bold=True, below="rule"),
    "section_note": Look(size=9, colour=SLATE, below="rule"),
    "section_right": Look(size=9, bold=True, below="rule", across="right", form=MONEY),
    "text": Look(quoted=True),
    "wrapped": Look(wrap=True, quoted=True),
    "strong": Look(bold=True, quoted=True),
    "faint": Look(colour=SLATE, quoted=True),
    "indented": Look(colour=SLATE, quoted=True, across="left", indent=1),
    "unit": Look(colour=SLATE, across="left"),
    "centre": Look(across="center"),
    "plain": Look(below="none"),
    "link": Look(colour=LINK, below="hair"),
    "figure": Look(size=18, bold=True, below="none", form=PIECES, across="left"),
    "tick": Look(size=14, across="center", colour=INK),
    "entry": Look(framed=True, ground=ENTRY_GROUND),
    "over_hours": Look(
        bold=True, colour=LATE, ground=LATE_GROUND, form='"▲"#,##0.0', across="right"
    ),
    "late_wrapped": Look(bold=True, colour=LATE, wrap=True),
    "to_do_words": Look(colour=TO_DO, wrap=True),
    "late": Look(bold=True, colour=LATE, ground=LATE_GROUND),
    "to_do": Look(bold=True, colour=TO_DO, ground=TO_DO_GROUND),
    "coming": Look(bold=True, colour=COMING, ground=COMING_GROUND),
    **_numbers(""),
    **_numbers("strong_", bold=True),
    **_numbers("faint_", colour=SLATE),
    **_numbers("late_", bold=True, colour=LATE),
}
