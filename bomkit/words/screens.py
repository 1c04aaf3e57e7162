"""Words that commands print."""

# terminal
SUMMARY_HEADS = ("week", "make", "print", "buy", "pack", "late")
SUMMARY_LATER = "later"
SUMMARY_LATE = "Orders that start too late: {count}. The latest:"
SUMMARY_FORECAST = "Forecast late: {count}. The latest:"
SUMMARY_IN_TIME = "By the forecast every airframe and grounded aircraft is in time."
SUMMARY_PROMISES = "Spares orders that leave late: {count} of {all}; see shortages.xlsx, Promises."
TREE_MORE = "... {count} more lines below, not shown"
TREE_REPLACES = "takes its place once used up"
TREE_PER_ORDER = " per order"
TREE_WASTE = "waste {share:.0%}"
TREE_CONDITIONS = {
    "with_option": "with {value}",
    "without_option": "without {value}",
    "from_serial": "from {value}",
    "to_serial": "up to {value}",
    "from_date": "from {value}",
    "to_date": "until {value}",
}
TREE_SERIALS = {
    "line": "On the line, with {item} in their configuration: {count}",
    "fleet": "Delivered, with {item} in their configuration: {count}",
}
TREE_SERIALS_NOTE = (
    "By options and serial numbers; dates of changes do not tell aircraft apart, and one with a "
    "replaced item counts for the item in its place. What is really fitted: bomkit fitted."
)
FITTED_IN = "Recorded in {count} aircraft: {items}"
FITTED_ROW = "  {serial:10}{item:10}lot {lot:14}no. {part:14}{date!s:12}{whom}"
FITTED_UNSTATED = "–"
FITTED_NO_ITEM = "No record names an item; add --item to see which aircraft have no record of it."
FITTED_UNKNOWN = (
    "▲ Delivered with {item} in their configuration, but without a record that tells: {count}. "
    "Not recorded does not mean not fitted:"
)
FITTED_CAUTION = (
    "A record says what was installed, not what is there now, and that of one piece nothing of "
    "others beside it. For bulletins and recalls the maker's and the authority's documents, each "
    "aircraft's log and licensed staff rule."
)
WHY_UP = "Where it goes:"
WHY_DOWN = "What it waits for:"
WHY_NO_WAITING = "Nothing comes too late for it."
WHY_NOTHING = "Nobody needs it within the horizon."
WHY_MORE_WEEKS = "    ... and {count} more weeks (--all)"
WHY_MORE = "... and {count} more (--all)"
WHY_SEEN = "(see above)"
WHY_ORDER = "{date}  {order}, {item}"
WHY_PLANNED = "{order}, {item}: {quantity} {unit} from {start}, due {due}"
WHY_THERE = ", there on {date}"
WHY_KINDS = {
    "stock": "stock {supply} {location}",
    "open order": "open order {supply}, {item}, due {date}",
    "planned order": "{supply}, {item}",
    "none": "nothing planned, {item}",
}
WHY_DEMAND = "{who}, wanted {date}"
WHY_FORECAST = ", forecast {date}"

# rolled-up mass, cost and hours
ROLL_AMOUNTS = {"mass": "{amount:,.3f} kg", "cost": "{amount:,.2f}", "hours": "{amount:,.2f} h"}
ROLL_NODE = "  = {amount}"
ROLL_SERIAL = " for {serial}"
ROLL_TOTALS = {
    "mass": "Mass of one {item}{serial}, without scrap and waste: {amount}",
    "cost": "Cost of the parts of one {item}{serial}, scrap and waste included: {amount}",
    "hours": "Working hours in one {item}{serial}, scrap and waste included: {amount}",
}
ROLL_LOTS = {
    "planned": (
        "What an order takes once is spread over the mean lot planned in the horizon; of an item "
        "without planned orders, over the smallest there may be."
    ),
    "smallest": "What an order takes once is spread over the smallest order there may be.",
}
ROLL_LACKING = {
    "mass": "▲ without a mass, counted as nothing: {items}",
    "cost": "▲ without a cost, counted as nothing: {items}",
    "hours": "▲ without hours, counted as nothing: {items}",
}
