"""Words of the workbook of input tables to fill in, and of what may be typed into cells."""

ENTRY_TITLE = "Your aircraft in tables"
ENTRY_LEAD = (
    "Fill in the four sheets in bold first; that is enough to plan. Others add what they say."
)
ENTRY_HEADS = ("", "sheet", "what it holds")
ENTRY_FIRST = "fill in first"
ENTRY_LATER = "when you need it"
ENTRY_RULES = (
    "A heading in a thick frame on a cream ground must be filled in; the others may stay empty.",
    "Point at a heading to read what belongs below it. Lists drop down where there is a choice.",
    "The first row of each sheet begins with 'e.g.': it is an example and does not count.",
    "Item and serial numbers are text: 00123 keeps its zeros. Dates: 2026-11-30. 8 % is 0.08.",
    "Leave the names of sheets and headings as they are.",
    "Then: bomkit check THIS_WORKBOOK, and bomkit plan THIS_WORKBOOK --out week_1",
    "In doubt the maker's and the authority's documents rule; bomkit releases nothing to flight.",
)
ENTRY_REQUIRED = "must be filled in"
ENTRY_OPTIONAL = "may stay empty"
ENTRY_EMPTY_MEANS = "Empty means {value}."
ENTRY_CHOICE = "One of: {values}."
ENTRY_REFERS = "Must stand in {places}."
ENTRY_NOT_A_CHOICE = "Choose one of the list."
ENTRY_NOT_A_DATE = "A date such as 2026-11-30, between {first} and {last}."
ENTRY_NOT_A_NUMBER = "A number from {least:g} to {most:g}."
ENTRY_NOT_WHOLE = "A whole number from {least:g} to {most:g}."
ENTRY_NOT_LISTED = "It does not stand in {places} yet. Enter it there as well."
ENTRY_EXAMPLES: dict[str, str | float] = {
    "item": "WHEEL-01",
    "description": "Main wheel",
    "source": "buy",
    "unit": "pc",
    "lead_days": 10,
    "parent": "TROLLEY",
    "child": "WHEEL-01",
    "quantity": 2,
    "serial": "0007",
    "ready_date": "2026-12-18",
    "start": "2026-11-30",
    "horizon_weeks": 12,
    "process": "assembly",
    "supplier": "wheel_seller",
    "order": "A-0001",
    "date": "2026-12-24",
    "old": "WHEEL-00",
    "new": "WHEEL-01",
    "alternate": "WHEEL-02",
    "material": "PETG",
    "mould": "M-01",
    "kind": "large",
    "hours": 3,
}
