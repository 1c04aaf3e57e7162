"""Words of the indented structure, and of mass, cost and hours rolled up."""

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
