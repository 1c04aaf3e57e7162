"""Words of the board, the page for the wall."""

BOARD, SPARES = "Board", "Spares board"
BOARD_TITLE, SPARES_BOARD_TITLE = "Board", "Spares"
AIRFRAME, ORDER = "Airframe", "Order"
DAYS = ("Wanted", "Forecast", "Late")
WAITS = {AIRFRAME: "Waits for", ORDER: "What, and what it waits for"}
ASKS_FOR = "{quantity} {unit} {item}"
AND_WAITS = "; waits for {waits_for}"
WAITS_FOR_ITEM = "{item}: {supply}"
THERE_ON, THERE_NEVER = "{supply}, there {date}", "{supply}, no date"
DAYS_LATE, NEVER, IN_TIME = "▲ {days} d", "▲", "✓"
WANTED, FORECAST = "◆", "▲"
BANDS = "Stage that marks a week: {letters}"
MARKS = "thick line: the plan's first day   ◆ wanted   ▲ forecast, where later"
WEEKS = "a column a week"
WEEKS_OF = "a column for {count} weeks"
MORE_ROWS = "and {count} more, wanted later: see the shortages"
NO_ROWS = "Nothing is to be built."
HOURS_LINE = "Hours, % of what there is"
ARRIVES_LINE = "Open orders due"
SPARES_LINE = "Spares orders that can leave"
OVER = "▲ too much this week: {named}"
OVER_KINDS = {"process": "{name}", "printer": "printers {name}", "mould": "mould of {name}"}
NOT_OVER = "this week all fits"
ARRIVES = "this week: {named}"
NOTHING_ARRIVES = "this week: nothing"
BOARD_ABOUT = {
    BOARD: "one page for the wall: each airframe, its stages, its day and what it waits for"
}
SPARES_ABOUT = {SPARES: "the same for the spares orders"}
