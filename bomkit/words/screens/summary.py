"""Words of the summary that a plan prints."""

# terminal
SUMMARY_HEADS = ("week", "make", "print", "buy", "pack", "late")
SUMMARY_LATER = "later"
SUMMARY_LATE = "Orders that start too late: {count}. The latest:"
SUMMARY_FORECAST = (
    "Forecast late, apart from routine spares orders and inspections: {count}. The latest:"
)
SUMMARY_IN_TIME = "By the forecast every airframe and grounded aircraft is in time."
SUMMARY_IN_TIME_BUT = (
    "By the forecast every airframe and grounded aircraft of the horizon is in time; left out, as "
    "wanted past it: {named}."
)
SUMMARY_PROMISES = "Spares orders that leave late: {count} of {all}; see shortages.xlsx, Promises."
