"""Words of the shortages workbook."""

# shortages
SHORTAGES_TITLE = "Shortages by airframe"
SHEET_AIRFRAMES, SHEET_STARTS, SHEET_BY_ITEM, SHEET_BY_SHOP, SHEET_SPARES = (
    "Airframes",
    "Ready to start",
    "By item",
    "By shop",
    "Grounded and other",
)
STATES = {"complete": "✓ complete", "waiting": "○ waiting", "short": "▲ missing"}
COMES_IN_TIME = "✓ comes in time"
AIRFRAME_COLUMNS = {
    "airframe": "Airframe",
    "ready_by": "Ready by",
    "forecast": "Forecast",
    "days_late": "Days late",
    "days_to_spare": "Days to spare",
    "missing": "Missing items",
    "late": "Of these late",
    "held_up_by": "Held up by",
    "from_house": "Order of finishing from stock",
    "delivered_on": "Delivered on",
}
AIRFRAMES_NOTES = (
    "Forecast: the earliest day that stock, orders and lead times allow, but not before it is "
    "wanted. Held up by: what comes first in the chain that sets it. Days are working days.",
    "Missing: items needed within the coming {weeks} weeks, or late, that are not in stock. "
    "Order of finishing from stock: in which order they could be finished if nothing more arrived. "
    "Framed: the day of delivery.",
)
OVERDUE_ORDERS = "Overdue, counted as arriving on the plan's first day: {orders}."
OVERDUE_WORK = (
    "Overdue in work, counted as finished on the plan's first day, or as soon as what it lacks is "
    "there: {orders}."
)
OVERDUE_ORDER = "{order} ({item}, due {date})"
FROM_HOUSE = (
    "If nothing more arrived, these could be finished with what is in the house, in this order: "
    "{serials}."
)
NONE_FROM_HOUSE = "If nothing more arrived, no airframe could be finished."
STARTS_HELD_UP = "Wait for something: {count}"
STARTS_COMPLETE = "Complete in stock: {count}"
STARTS_IN_TIME = "What is missing comes in time: {count}"
STARTS_TITLE = "Orders that start in the coming weeks"
STATES_NOTES = (
    "✓ complete: all components are in stock   ✓ comes in time: the others will be there on the "
    "day each is needed",
    "○ waiting: what is late is on order, in work or waiting itself   ▲ missing: what is late is "
    "not even ordered or begun, and too late for it",
)
STAND_IN_CAUTION = (
    "What would help is a proposal: stand-ins only where the maker's documents approve them, "
    "blocked stock only once it is released by those entitled to."
)
STARTS_COLUMNS = {
    "start": "Start day",
    "order": "Plan no.",
    "item": "Item",
    "description": "Description",
    "state": "State",
    "can_start": "Can start",
    "in_stock": "In stock",
    "waits_for": "Waits for",
    "for": "For",
    "would_help": "Would help",
}
COUNT_OF = "{part} of {whole}"
WAITS_FOR = "{item} from {supply}"
WAITS_FOR_NOTHING = "{item}, nothing planned"
STAND_IN = {
    "alternate": "alternate {stand_in}: {quantity} {unit} free{place}{note}",
    "held": "{quantity} {unit} blocked ({stand_in}: {reason}){place}",
}
STAND_IN_NOTE = ", approved: {note}"
NO_REASON = "reason not stated"
STAND_IN_PLACE = " at {locations}"
BY_ITEM_TITLE = "Bought items by supplier, for the telephone"
BY_SHOP_CAUTION = (
    "Start first never means a shorter cure or test: it is not said of what cures (processes with "
    "cures). The maker's process sheets rule."
)
BY_SHOP_TITLE = "Made and printed items by shop"
ORDER_NOW, ASK_IT_SOONER, START_FIRST = "▲ order now", "▲ ask for sooner", "▲ start first"
LATE_IN_WORK, LATE_CURING = "▲ late, in work", "▲ late"
BY_ITEM_NOTE = (
    "What comes late, and open orders that the coming {weeks} weeks wait for; those with late "
    "lines first. What is still to be ordered or started in time is on its week's lists."
)
BY_ITEM_COLUMNS = {
    "state": "State",
    "item": "Item",
    "description": "Description",
    "missing": "Missing",
    "unit": "Unit",
    "supply": "Order no. or plan no.",
    "needed_on": "Needed on",
    "comes_on": "Comes on",
    "days_late": "Days late",
    "whom": "For",
}
OVERDUE_STATE = "▲ overdue"
OVERDUE_SINCE = "was due {date}"
NO_NEW_DATE = "no new date"
MISSING_TITLE = "Missing for {who}"
LACKING_TITLE = "Missing for grounded aircraft and other work"
LACKING_SERIAL = "{who} for {serial}"
LATE_SECTION = "Late"
MISSING_NOTE = (
    "Items that are late, or needed within the coming {weeks} weeks, and are not in stock, by "
    "process and by the day they are needed."
)
LATER_NOTE = (
    "Wanted after the coming {weeks} weeks: only what is late, by process and by the day it is "
    "needed."
)
MISSING_COLUMNS = {
    "state": "State",
    "item": "Item",
    "description": "Description",
    "quantity": "Quantity",
    "unit": "Unit",
    "needed_on": "Needed on",
    "comes_on": "Comes on",
    "days_late": "Days late",
    "supply": "Comes from",
    "would_help": "Would help",
}
CHAIN_TITLE = "What sets the date"
CHAIN_PLANNED = "{supply}: {days} days from {start}, there on {finish}"
CHAIN_NEVER = "{supply}: {days} days, no date"
WAITS_FOR_MOULD = "waits for its mould until {date}"
LACKS_MOULD = "has no mould, and no replacement is planned"
CHAIN_OPEN = "{supply}: there on {finish}"
CHAIN_OPEN_LATE = "{supply}: there on {finish}, {days} days later by what it is missing"
CHAIN_AFTER = ", needed {days} days after the next one starts"
CHAIN_STOCK = "in stock"
GAIN = "If {item} were there on the plan's first day: {days} days sooner."
NO_GAIN = (
    "If {item} were there on the plan's first day nothing would be gained: something else is as "
    "late."
)
CHAIN_OVERDUE = ", was due {date} and counts on the first day"
BOUGHT = "bought"
NOTHING_MISSING = "Nothing is missing: stock covers every need of the coming weeks."
NOTHING_STARTS = "No orders start in the coming weeks."
