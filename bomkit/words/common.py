"""Words that stand in more than one book."""

from collections.abc import Sequence

# pages and sheets
PAGE, OF = "page", "of"
BETWEEN = "   |   "
PLAN_FROM = "plan from {date}"
RUN = "run {run_id}"
DEFAULT_TITLE = "Weekly plan"
WEEK = "week {week}"
SOURCES = {
    "make": "make",
    "print": "print",
    "buy": "buy",
    "phantom": "passed through",
    "kit": "pack",
}
DEMAND_KINDS = {
    "airframe": "{demand}",
    "in work": "{demand} in work",
    "mould": "worn mould {demand}",
    "grounded": "spares {demand} (grounded)",
    "routine": "spares {demand}",
    "inspection": "{demand} (foreseen)",
    "stock": "stock",
    "several": "several",
}

# states: a symbol, a word and a colour, so that a grey print says the same
LATE, LATE_NO_DATE = "▲ late {days} d", "▲ no date"
NO_DATE = "no date"  # of what nothing brings
TO_START = {"make": "■ to make", "print": "■ to print", "buy": "■ to order", "kit": "■ to pack"}
COMING = "● on order"
STATES_LEGEND = (
    "▲ comes after the day it is needed     ■ planned, not yet started or ordered     "
    "● on order or in work, in time"
)
FOOT_CAUTION = "A plan, no release to flight:\nthe maker's documents and licensed staff rule."
NOT_STATED = "No mark of dangerous goods means only that none is stated."
PLAN_NUMBERS = "Plan numbers hold for this run only."
MUST_COME_BACK = "TOOLING, must come back"
BOX = "☐"

# make and print
NO_PROCESS = "no process"
PACKING = "packing"
PRIMARY = "primary structure"
TOOLING = "tooling"

# overview
CUT = "▲ {count} more rows do not fit on a sheet; see the result tables"
AND_MORE = "and {count} more"


def first_few(named: Sequence[str], most: int, between: str = ", ") -> str:
    """The first few of what is named, and how many more there are."""
    first = between.join(named[:most])
    return first if len(named) <= most else f"{first} {AND_MORE.format(count=len(named) - most)}"


def working_days(count: int) -> str:
    """So many working days, in words."""
    return f"{count} working day{'' if count == 1 else 's'}"
