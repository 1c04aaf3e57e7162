"""Words of the sheets of the print room and of the moulds of a week."""

# print room
PLATE_SHEETS = ("Plates", "Print room")
PLATES_TITLE = "Plates of the week"
PLATE_COLUMNS = {
    "done": "",
    "plate": "Plate",
    "printer": "Printer / plan no.",
    "material": "Material / item",
    "description": "Description",
    "parts": "Parts",
    "hours": "Hours",
    "grams": "Grams",
    "machine": "Printer no.",
    "started": "Begun",
    "good": "Good",
    "failed": "Failed",
}
PLATE_ABOUT = "start {start}, due {due}"
PLATES_NOTES = (
    "Bold: a plate with its first start and due day, below it what is on it; late ones first (▲). "
    "A failed print takes its whole plate: the parts of one plate do not fail one by one. Framed: "
    "parts begun, good and failed; with good or failed alone all of them were begun."
)
PLATES_CAUTION = (
    "Use the approved sliced profile of each part for this kind of printer only. Heat limits are a "
    "caution for the engineer in charge, not an approval. Printed parts are never primary "
    "structure. This list releases no part to flight."
)
PLATE_LATE = "▲ late {days} d"
PLATES_PRINTERS = "Printers: {named}."
PLATES_PRINTERS_OF_KIND = "{count} {kind}, {hours:,.6g} h this week"
NO_PLATES = "No plates are printed in week {week}."
PRINT_ROOM_TITLE = "Print room: spools to pick, and hours"
SPOOL_COLUMNS = {
    "done": "",
    "material": "Material",
    "filament": "Filament",
    "description": "Description",
    "needed": "Needed, kg",
    "on_a_spool": "On a spool, kg",
    "spools": "Spools",
    "in_stock": "In stock",
    "unit": "Unit",
    "places": "Where it lies",
    "to_order": "To order this week",
    "picked": "Spools picked",
}
SPOOLS_NOTE = (
    "Needed: what this week's plates take, waste included. In stock: usable stock on the plan's "
    "first day, without what has expired. To order: what the plan orders this week, for later "
    "weeks too, in whole spools; see the buy list."
)
SPOOLS_TO_BUY = "■ {order}: {spools} spools ({quantity:,.6g} {unit})"
FILAMENT_TO_BUY = "■ {order}: {quantity:,.6g} {unit}"
PRINTER_HOURS_TITLE, LATER_HOURS_TITLE = "Printer hours", "Printer hours of later weeks"
PRINTER_HOURS_COLUMNS = {
    "printers": "Printers",
    "week": "Week",
    "plates": "Plates",
    "fewest": "Fewest possible",
    "hours": "Hours",
    "in_work": "Of these in work",
    "available": "Hours available",
    "state": "State",
}
PRINTER_HOURS_NOTE = (
    "Hours of all printers of a kind, less closed days. In work: open orders, spread from the "
    "plan's first day to the day they are due. Fewest possible: a number of plates below "
    "which no packing can be. ▲ more hours than are available: overload that bites in that week."
)
PRINTER_OVER = "▲ {hours:,.1f} hours too many"
RESLICE_TITLE = "Approved on old printers only"
RESLICE_COLUMNS = {
    "item": "Item",
    "approved_on": "Approved on",
    "description": "Description",
    "freed": "Hours freed",
    "most": "Most in a week",
    "week": "In week",
    "sliced_for": "Could be sliced for",
}
RESLICE_NOTE = (
    "Hours that these parts take on the old printers over the whole plan, and that slicing them "
    "for the newer kind, tried and approved, would free there."
)

# moulds
WEEK_MOULDS_TITLE = "Moulds of the week"
WEEK_MOULD_COLUMNS = {
    "item": "Item",
    "moulds": "Moulds",
    "description": "Description",
    "planned": "Pulls planned",
    "in_work": "In work",
    "available": "Available",
    "made": "Pulls made",
    "state": "State",
}
NO_MOULD_SHORT = "No mould is short or worn out this week."
WEEK_MOULDS_NOTE = (
    "Available: pulls a week of all moulds of the item, less closed days. In work: pulls of open "
    "orders, which the pulls left count already. Framed: pulls made, taken off the pulls left; "
    "empty: one for each piece laid up that was begun. On paper only moulds that are short or worn "
    "this week; the others stand below them in the workbook."
)
NO_MOULD = "▲ no mould until {date}"
NO_MOULD_AT_ALL = "▲ no mould, and no replacement planned"
PULLS_OVER = "▲ {pulls:,.1f} pulls too many"
MOULD_WORN = "■ worn this week: {moulds}"
