"""Words of packing lists, and of what leaves for one consignee on one day."""

# kits and parts to pack for the fleet
PACK_TITLE = "Pack {order} · {item}"
PACK_TO = "to {serial}"
PACK_BASE = "at {base}"
PACK_CUSTOMER = "for {customer}"
PACK_WANTED = "wanted {date}"
PACK_LEAVES = "can leave {date}"
PACK_LEAVES_NEVER = "▲ no day is known on which it can leave: nothing brings all of it"
PACK_NEVER = "▲ nothing brings it"
PACK_MAKES_LATER = "▲ makes {who} later by {days} d"
PACK_LEFT_WITHOUT_DATE = "▲ leaves {who} without a date: nothing brings all it needs then"
PACK_LATE = "▲ late {days} d"
URGENCY = {"grounded": "▲ grounded", "routine": "routine"}
PACK_COLUMNS = {
    "done": "Done",
    "position": "Pos.",
    "part": "Item",
    "description": "Description",
    "quantity": "Quantity",
    "unit": "Unit",
    "location": "Location",
    "lot": "Lot",
    "use_by": "Use by",
    "packed": "Packed",
    "batch": "Batch packed",
    "left_on": "Left on",
    "mass_each": "Mass each, g",
    "mass": "Mass, kg",
    "value": "Value",
    "words": "Stock and production",
    "serial": "Part serial no.",
    "certificate": "Certificate no.",
    "core": "Core due back",
}
PACK_NOTE = (
    "The lots named expire first of those that last {days} days from the day it leaves. Lines to "
    "wait for stand last. Framed: how much was packed, its batch if it is another one, and once "
    "for the box the day on which it left. Core due back: tick it where the part taken "
    "off is to be returned."
)
PACK_CAUTION = (
    "This list releases nothing: parts are released for flight only under the maker's and the "
    "authority's rules, by licensed staff. Life limits and what is left of them: see the records."
)
PACK_NOW, PACK_WAIT = "To pack", "To wait for"
PACK_HAZARD = "Dangerous goods: pack apart"
HAZARD_CAUTION = (
    "Dangerous goods are packed and declared by trained staff under the carrier's rules; "
    "this list is no declaration."
)
PACK_TOTAL = "Mass and value, to pack now"
PACK_UNWEIGHED = "without a stated mass: {items}"
PACK_FREE = "free"
PACK_TAKEN = "▲ picked although {who} needs it: waits {days} d; nobody would from {date}"
PACK_TAKEN_FOR_GOOD = "▲ picked although {who} needs it, and nothing else brings it"
PACK_SPOKEN = "▲ in stock {stock}, free {free}; now, {who} would wait {days} d"
PACK_SPOKEN_FOR_GOOD = "▲ in stock {stock}, free {free}; {who} needs it, and nothing else brings it"
PACK_NOT_THERE = "not in stock, or no lot lasts long enough"
PACK_PARTLY = "in stock {stock}, free {free}"
PACK_WHOLE = "Of the whole order"
PACK_NOTHING_YET = "Nothing can be packed yet."
PACK_DANGEROUS = "▲ Dangerous goods: {goods}."
PACK_FROM = "○ from {date}"
PACK_SIGN = ("Packed by", "Checked by", "Date")

# what leaves for one consignee on one day
SHEET_CONSIGNMENT = "Consignment"
CONSIGNMENT_TITLE = "Consignment to {consignee} · {date}"
CONSIGNMENT_LEAVES = "leaves {date}"
CONSIGNMENT_ORDERS = "{count} orders: {orders}"
CONSIGNMENT_NOTE = (
    "Each order is packed and booked by its own packing list; by this one the whole is gathered, "
    "checked and loaded. Lines to wait for stand last. Framed: to be filled in. Core due back: "
    "tick it where the part taken off is to be returned."
)
CONSIGNMENT_WHOLE = "Of the whole consignment"
CONSIGNED = "Orders that leave together"
CONSIGNMENT_COLUMNS = {
    "loaded": "Loaded",
    "order": "Order",
    "position": "Pos.",
    "part": "Item",
    "description": "Description",
    "quantity": "Quantity",
    "unit": "Unit",
    "lot": "Lot",
    "use_by": "Use by",
    "mass": "Mass, kg",
    "value": "Value",
    "words": "Stock and production",
    "box": "Box no.",
    "serial": "Part serial no.",
    "certificate": "Certificate no.",
    "core": "Core due back",
}
