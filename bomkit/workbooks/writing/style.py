"""The one look of all sheets: fonts, lines and number formats by style name.

Dark ink and slate on white, hairlines instead of boxes, states as a symbol, a word and a colour, so
that a grey print says the same.
"""

from dataclasses import dataclass, replace
from typing import Any

INK, SLATE, HAIRLINE, RULE = "1F2B33", "5A6872", "CBD3D8", "1F2B33"
LATE, LATE_GROUND = "9B1C1C", "FBEAE8"
TO_DO, TO_DO_GROUND = "7A4A00", "FDF3DF"
COMING, COMING_GROUND = "0B5566", "E7F2F5"
ENTRY_GROUND = "FFFBEB"
LINK = "0B4F8A"
# dark to light, told apart in a grey print by their brightness
SERIES = (
    "22343F",
    "3E7C8C",
    "B97A2B",
    "8FA9B3",
    "D9B98A",
    "5E4B6B",
    "C7CED2",
    "6F8F5F",
    "96525A",
    "E3D5C3",
    "A79BB5",
)

# ground and ink of the stages on the board, lighter from stage to stage; each bears its letter too
STAGES = (
    ("22343F", "FFFFFF"),
    ("45606D", "FFFFFF"),
    ("6B8794", "FFFFFF"),
    ("8FA7B1", INK),
    ("B4C5CC", INK),
    ("D8E1E5", INK),
    ("C9B48E", INK),
    ("F3E9D6", INK),
)

FONT = "Arial"
BODY_SIZE = 9.5  # points; no list is printed at less than 95 % of its size
LINE_HEIGHT = 12.75  # of a line of words in a row of several, in points
USUAL_HEIGHT = 15.8  # room to write in by hand, as 15 points are on paper
WRITING_HEIGHT = 25.5


PIECES = '#,##0;-#,##0;"–"'
MEASURE = '#,##0.00;-#,##0.00;"–"'
MASS = '#,##0.000;-#,##0.000;"–"'
SLIM_MEASURE = "[>=100]#,##0;[>=10]0.0;0.00"  # in columns of five characters
SLIM_MASS = "[>=100]#,##0;[>=10]0.0;0.000"
TENTHS = '#,##0.0;-#,##0.0;"–"'
MONEY = '#,##0.00;-#,##0.00;"–"'
HOURS = '#,##0.0;-#,##0.0;"–"'
PERCENT = "0.00%"
DATE = "ddd dd mmm yyyy"
SHORT_DATE = "ddd dd mmm"
BRIEF_DATE = "dd mmm yy"  # on lists that cross New Year
YEAR_DATE = "dd mmm yyyy"  # of what is kept and of what is filled in


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
    today: bool = False  # a framed cell with a thick line before it
    indent: int = 0
    quoted: bool = False  # stays text even when somebody edits the cell
    open: bool = False  # may be filled in where the rest of the sheet is protected


_FORMS = {
    "pieces": PIECES,
    "tenths": TENTHS,
    "measure": MEASURE,
    "mass": MASS,
    "money": MONEY,
    "hours": HOURS,
    "percent": PERCENT,
}
_SLIM_FORMS = {"pieces": PIECES, "measure": SLIM_MEASURE, "mass": SLIM_MASS}


def _numbers(
    prefix: str = "",
    bold: bool = False,
    colour: str = INK,
) -> dict[str, Look]:
    """The number and date styles of the lists, with a prefix for a variant of them."""
    looks = {
        f"{prefix}{name}": Look(form=form, across="right", indent=1, bold=bold, colour=colour)
        for name, form in _FORMS.items()
    }
    for name, form in (
        ("date", SHORT_DATE),
        ("full_date", DATE),
        ("year_date", YEAR_DATE),
        ("brief_date", BRIEF_DATE),
    ):
        looks[f"{prefix}{name}"] = Look(form=form, across="left", bold=bold, colour=colour)
    return looks


def _board() -> dict[str, Look]:
    """The styles of the board: large, and bands of one brightness a stage."""
    week = Look(size=11, bold=True, across="center", framed=True)
    looks = {
        "board_head": Look(size=11, bold=True, below="rule", across="left", wrap=True),
        "board_waits_head": Look(size=11, bold=True, below="rule", across="left", indent=1),
        "board_week": Look(size=10, bold=True, below="rule", across="center"),
        "board_name": Look(size=16, bold=True, quoted=True),
        "board_date": Look(size=12, form="dd mmm", across="left"),
        "board_late": Look(size=12, bold=True, colour=LATE, form="dd mmm", across="left"),
        "board_small_name": Look(size=11, bold=True, quoted=True, wrap=True),
        "board_waits": Look(size=10, wrap=True, across="left", indent=1),
        "board_note": Look(size=11, colour=SLATE, below="none"),
        "board_caution": Look(size=11, bold=True, below="none"),
        "board_line": Look(size=12, bold=True),
        "board_count": Look(size=10, across="center", framed=True, form="0"),
        "board_over": replace(week, size=10, ground=INK, colour="FFFFFF", form="0"),
        "stage_none": week,
    }
    for number, (ground, ink) in enumerate(STAGES):
        looks[f"stage_{number}"] = replace(week, ground=ground, colour=ink)
    first = {
        f"today_{name}": replace(look, today=True)
        for name, look in looks.items()
        if name.startswith("stage")
    }
    return {**looks, **first}


def _slim_numbers(prefix: str, below: str, **more: Any) -> dict[str, Look]:
    """The number styles of tables with a narrow column a week."""
    return {
        f"{prefix}{name}": Look(size=8, form=form, across="right", below=below, **more)
        for name, form in _SLIM_FORMS.items()
    }


STYLES: dict[str, Look] = {
    "title": Look(size=18, bold=True, below="none"),
    "subtitle": Look(colour=SLATE, below="none"),
    "note": Look(below="none"),
    "caution": Look(bold=True, below="none"),
    "head": Look(bold=True, wrap=True, below="rule", across="left"),
    "head_right": Look(bold=True, wrap=True, below="rule", across="right", indent=1),
    "head_week": Look(size=8, bold=True, below="rule", across="right"),
    "head_centre": Look(bold=True, wrap=True, below="rule", across="center"),
    "section": Look(size=12, bold=True, below="rule"),
    "section_link": Look(size=12, bold=True, colour=LINK, below="rule"),
    "section_note": Look(colour=SLATE, below="rule"),
    "section_right": Look(bold=True, below="rule", across="right", indent=1, form=MONEY),
    "section_mass": Look(bold=True, below="rule", across="right", indent=1, form=MASS),
    "text": Look(quoted=True),
    "wrapped": Look(wrap=True, quoted=True),
    "strong": Look(bold=True, quoted=True),
    "strong_wrapped": Look(bold=True, quoted=True, wrap=True),
    "faint_wrapped": Look(colour=SLATE, wrap=True),
    "faint": Look(colour=SLATE, quoted=True),
    "indented": Look(colour=SLATE, quoted=True, across="left", indent=1),
    "unit": Look(colour=SLATE, across="left"),
    "centre": Look(across="center"),
    "plain": Look(below="none"),
    "strong_plain": Look(bold=True, below="none"),
    "plain_right": Look(below="none", across="right", indent=1),
    "days_moved": Look(form="+0;-0;0", across="right", indent=1),
    "late_words": Look(bold=True, colour=LATE),
    "faint_count": Look(colour=SLATE, across="left"),
    "link": Look(colour=LINK, below="hair"),
    "figure": Look(size=18, bold=True, below="none", form=PIECES, across="left"),
    "tick": Look(size=12, across="center", colour=INK),
    "entry": Look(framed=True, ground=ENTRY_GROUND, open=True, across="right", indent=1),
    "entry_date": Look(framed=True, ground=ENTRY_GROUND, open=True, across="left", form=YEAR_DATE),
    "entry_words": Look(framed=True, ground=ENTRY_GROUND, open=True, quoted=True, across="left"),
    "pen": Look(framed=True),  # written by hand on paper, and not read back
    "late_pen": Look(framed=True, bold=True, colour=LATE),
    "to_do_pen": Look(framed=True, colour=TO_DO),
    "key": Look(size=8, colour=SLATE, below="none"),
    "over_hours": Look(
        size=8, bold=True, colour=LATE, ground=LATE_GROUND, form='"▲" #,##0', across="right"
    ),
    "late_wrapped": Look(bold=True, colour=LATE, wrap=True),
    "to_do_words": Look(colour=TO_DO, wrap=True),
    "late": Look(bold=True, colour=LATE, ground=LATE_GROUND),
    "to_do": Look(bold=True, colour=TO_DO, ground=TO_DO_GROUND),
    "coming": Look(bold=True, colour=COMING, ground=COMING_GROUND),
    "late_state": Look(bold=True, colour=LATE, ground=LATE_GROUND, wrap=True),
    "to_do_state": Look(bold=True, colour=TO_DO, ground=TO_DO_GROUND, wrap=True),
    "coming_state": Look(bold=True, colour=COMING, ground=COMING_GROUND, wrap=True),
    "slim_strong": Look(size=8, bold=True, below="none", quoted=True),
    "slim_faint": Look(size=8, colour=SLATE, below="none", quoted=True),
    "slim_text": Look(size=8, below="none", quoted=True),
    "end_faint": Look(size=8, colour=SLATE, quoted=True),
    **_numbers(),
    **_numbers("strong_", bold=True),
    **_numbers("faint_", colour=SLATE),
    **_numbers("late_", bold=True, colour=LATE),
    **_board(),
    **_slim_numbers("slim_", "none"),
    **_slim_numbers("end_", "hair"),
    **_slim_numbers("bold_", "hair", bold=True),
    **_slim_numbers("pale_", "hair", colour=SLATE),
}
