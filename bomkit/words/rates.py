"""Words of the study of rates."""

# rates
SHEET_RATES, SHEET_FULL = "Rates", "How full"
RATES_TITLE = "Rates · {title}"
FULL_TITLE = "How full everything is, by rate"
FULL_PERCENT = "% of what is available"
RATE, RATE_RESOURCE, RATE_KIND = "Rate", "Resource", "Kind"
RATE_ALL = "all that is available"
PER_MONTH = "{rate:g} a month"
RATE_COLUMNS = ("average", "peak", "available", "full, %")
RATE_KINDS = {"process": "hours a week", "printer": "printer hours", "mould": "pulls a week"}
RATE_NAMES = {"process": "{name}", "printer": "printers ({name})", "mould": "the moulds of {name}"}
RATE_SPOOLS = "Filament spools a month"
RATE_AREA = "Cloth, film and sheet, m2 a month"
RATE_MONEY = "Value in the stores, average"
RATE_AIRFRAMES = "Airframes in the weeks looked at"
RATES_NOTE = (
    "The build plan at a steady rate, its options and items in turn. Averages and peaks of the 32 "
    "weeks in which the plan's start is forgotten and nothing later is missing. Printers: the kind "
    "named first in prints is filled first."
)
GIVES_WAY = (
    "First to give way: {what}, above {rate:.2f} airframes a month (just above that it takes "
    "{percent:.0f} % of what there is)."
)
GIVES_WAY_AT_ONCE = "First to give way: {what}; it is asked for, but there is none of it."
NOTHING_GIVES_WAY = "Nothing that is stated gives way up to {rate:g} airframes a month."
RATES_UNSETTLED = (
    "At {rates} a month levelling came to no end within its bound, so what is pulled forward "
    "there, and with it the peaks, is not the best there is: compare with fewer pull_ahead_weeks."
)
COULD_BE_SLICED_ANEW = (
    "{count} of the parts printed there are approved on no newer kind of printer: slicing them "
    "anew, tried and approved, would free hours too (sheet Slice anew of the print workbooks)."
)
ONE_MORE = {
    "process": "40 hours a week more in {name} carry to {rate:.2f} a month.",
    "printer": "One more printer of kind {name} carries to {rate:.2f} a month.",
    "mould": "One more of mould {name} carries to {rate:.2f} a month.",
}
THEN = "Then {what} gives way."
