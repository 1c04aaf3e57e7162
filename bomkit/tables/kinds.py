"""The kinds of item, supply and demand, as the tables name them."""

SOURCES = ("make", "print", "buy", "phantom", "kit")
# Sources that are planned by their structure.
STRUCTURED = ("make", "print", "phantom", "kit")
SUPPLY_KINDS = ("stock", "open order", "planned order", "passed on", "none")
DEMAND_KINDS = (
    "grounded",
    "airframe",
    "in work",
    "mould",
    "routine",
    "inspection",
    "stock",
    "several",
)
# Of lots chosen by cost.
PROVEN, NOT_PROVEN = "least cost", "not proven least"
