"""Words on why an item is ordered and what it waits for."""

WHY_UP = "Where it goes:"
WHY_DOWN = "What it waits for:"
WHY_NO_WAITING = "Nothing that goes into it comes too late."
WHY_NOTHING = "Nobody needs it within the horizon."
WHY_MORE_WEEKS = "    ... and {count} more weeks (--all)"
WHY_MORE = "... and {count} more (--all)"
WHY_SEEN = "(see above)"
WHY_ORDER = "{date}  {order}, {item}"
WHY_PLANNED = "{order}, {item}: {quantity} {unit} from {start}, due {due}"
WHY_NEVER = ", no date"
WHY_THERE = ", there on {date}"
WHY_KINDS = {
    "stock": "stock {supply} {location}",
    "open order": "open order {supply}, {item}, due {date}",
    "planned order": "{supply}, {item}",
    "none": "nothing planned, {item}",
}
WHY_DEMAND = "{who}, wanted {date}"
WHY_FORECAST = ", forecast {date}"
