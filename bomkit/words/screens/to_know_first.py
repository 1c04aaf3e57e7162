"""What a run says beside its lists."""

# overview
OVERDUE = "Overdue, counted on the first day: needs {needs}, open orders {receipts}."
PAST_HORIZON = "Past the horizon, left out of the plan: needs {needs}, open orders {receipts}."

# inspections
INSPECTED_ASIDE = "Coming inspections planned as foreseen demand: {count}."

# levelling
LEVELLED = (
    "Levelled: {count} orders or parts of them pulled forward by at most {weeks} weeks; "
    "this adds {most:,.0f} to the stock's value at most, {mean:,.0f} on average."
)
LEVEL_UNSETTLED = (
    "Levelling came to no end within its bound: look at what was pulled forward with care, or plan "
    "with fewer pull_ahead_weeks."
)
PROCESSES_OVER = "Overloaded: {named}."
PROCESSES_OVER_IN = "{process}, {week}, {hours:,.1f} h too many"
PRINTERS_OVER = "Overloaded printers: {named}."
PRINTERS_OVER_IN = "{kind}, {week}, {hours:,.1f} h too many"

# moves
AS_MOVED = "Planned as if {count} proposed moves of open orders were agreed."
AS_MOVED_UNSETTLED = (
    "Planned as if {count} proposed moves of open orders were agreed; more would be proposed then, "
    "so look at the open orders with care."
)

# moulds
MOULDS_UNSETTLED = (
    "Moulds: planning again and again for those that wear out came to no rest; look at their days "
    "with care."
)
MOULDS_OVER = "Overloaded moulds: {named}."
MOULDS_OVER_IN = "{item}, {week}, {pulls:,.1f} pulls too many"
UNCOVERED = "Nothing brings all that is needed of {items}: who needs it is given no date."
COVERED_LATE = (
    "Planned {count} times, and still something waits for an order that was placed for a later "
    "need: {items}; look with care at who waits for it."
)
ALLOCATION_MOVED = (
    "What is given out counts on the days of an earlier forecast; by the last one another day "
    "holds for {count} of the lots and orders, so giving out once more could change who gets them."
)
