"""Words of the buy workbook of a week."""

BUY_TITLE = "Buy list"
BUY_COLUMNS = {
    "done": "",
    "order": "Plan no.",
    "item": "Item",
    "description": "Description",
    "quantity": "Order quantity",
    "unit": "Unit",
    "order_by": "Order by",
    "needed": "Due in store",
    "cost": "Cost each",
    "value": "Value",
    "for": "For",
    "number": "Order no.",
    "ordered": "Ordered",
    "promised": "Promised for",
}
COMES_ON = "comes {date}; "
BUY_CAUTION = (
    "Approved sources only; ask for the certificates that the maker's documents name, and inspect "
    "what comes in before it goes into stock. This list approves no part and no supplier."
)
BUY_NOTE = (
    "Quantities are whole order multiples; due in store: the day of the need less the safety "
    "days. Late lines first, with the day on which it comes if ordered as stated: ask for a faster "
    "delivery."
)
BUY_FRAMED = (
    "Framed: fill in what was ordered; with an order number alone it was ordered as it stands here."
)
NO_SUPPLIER = "no supplier stated"
ORDER_MINIMUM = "order minimum {value} {currency}"
BELOW_MINIMUM = "▲ below the order minimum of {value} {currency}"
UNPRICED = "{count} without a cost"
PRICES_NOTE = (
    "Supplier: the lowest total for what is needed of those who come in time if ordered that day, "
    "in one currency. Money in different currencies is neither added up nor compared."
)
BY_COST = {
    "least cost": "■ lots by cost: no other lots cost less",
    "not proven least": "■ lots by cost, not proven least: a minimum, multiple, days covered or "
    "levelling bind",
}
LEAST_SOLD = "■ planned {planned:,.6g} {unit}; no smaller quantity is offered"
LARGER = "■ cheaper in total: {quantity:,.6g} {unit} from {supplier} for {value}, {less} less"
FASTER = "▲ faster from {supplier}: {days} sooner, {cost}"
EXTRA = "{value} more"
NOT_COMPARED = "for {value}, not compared"
ELSEWHERE = "■ also offered in other currencies, not compared: {offers}"
TO_ADD = "■ {short} below the order minimum; bring forward, cheapest to hold first: {orders}"
ADDED = "{order} {item} {value}"
NOTHING_TO_ADD = "■ later orders from this supplier do not make up the order minimum"
