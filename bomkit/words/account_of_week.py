"""Words of the account of a week that was taken back, and of the command that makes it."""

SHEET_ACCOUNT, SHEET_DIFFERENCES = "Account", "Counted"
ACCOUNT_TITLE = "Account of week {week}"
ACCOUNT_COLUMNS = {
    "item": "Item",
    "description": "Description",
    "unit": "Unit",
    "opening": "Opening",
    "arrived": "+ arrived",
    "good": "+ good",
    "counted": "+ counted",
    "picked": "- picked",
    "scrapped": "- scrapped",
    "sent": "- sent",
    "closing": "= closing",
}
ACCOUNT_NOTE = (
    "Opening and closing: what lies in stock, whatever its state. Counted: by how much counts "
    "found more or less. Scrapped: what was found gone on hold, in quarantine or past its last "
    "day. Every line adds up."
)
NOTHING_THERE = "Nothing was in stock, and nothing came."
DIFFERENCES_TITLE = "What counts found more or less"
DIFFERENCES_COLUMNS = {
    "item": "Item",
    "description": "Description",
    "unit": "Unit",
    "should": "Should be",
    "closing": "Found",
    "counted": "More or less",
    "worth": "Worth",
    "share": "Share",
}
DIFFERENCES_NOTE = (
    "Should be: after all that was filled in for the week. Worth: by the item's cost; blank if it "
    "has none. Look into what is large before the next count."
)
NO_DIFFERENCES = "No count found more or less than there should be."
TAKEN_BACK = "week {week} taken back: {counts}"
NOTHING_FILLED_IN = "nothing was filled in"
NEXT_START = "the next plan starts on {start:%Y-%m-%d}"
MORE_DIFFERENCES = "and {count} more counts; see the sheet Counted of account.xlsx"
DIFFERENCE_LINE = "counted {item}: {difference} {unit}"
ENTRY_KINDS = {  # one of them, and several
    "ordered": ("order placed", "orders placed"),
    "answered": ("order changed", "orders changed"),
    "arrived": ("arrival", "arrivals"),
    "picked": ("pick", "picks"),
    "brought_out": ("lot picked", "lots picked"),
    "left_out": ("order left waiting", "orders left waiting"),
    "further_picks": ("further pick", "further picks"),
    "worked": ("order begun or finished", "orders begun or finished"),
    "printed": ("print begun or finished", "prints begun or finished"),
    "pulled": ("mould", "moulds"),
    "packed": ("line packed", "lines packed"),
    "counted": ("count", "counts"),
    "delivered": ("airframe delivered", "airframes delivered"),
}
INSIDE_RUN = "lies in the folder of the run, which stays as it is; name another folder"
CHANGED_SINCE = (
    "was changed after it was taken back, so it is left alone; name another folder for this one"
)
