"""Words of spares to keep, for the fleet and for a tour."""

# spares to keep
SPARES_TITLE = "Spares to keep for the fleet"
TOUR_TITLE = "Parts for a tour · {serials} · {days} days"
SHEET_KEEP, SHEET_CURVE, SHEET_LEFT_OUT = "Keep", "Assurance", "Left out"
SPARES_MEASURES = {
    "no-backorder": "Chance of none out: that no more pieces are asked for than are kept, before "
    "others come (target {target:.4g} %).",
    "fill-rate": "Served at once: the share of what is asked for that is there when asked for "
    "(target {target:.4g} %).",
}
SPARES_METHOD = (
    "Demand over the resupply time is taken as Poisson, with mean use a year × resupply working "
    "days ÷ (5 × 52.18). Resupply: lead and safety days; of made and printed parts those of the "
    "longest chain."
)
TOUR_METHOD = (
    "Demand over the tour is taken as Poisson, with mean use a year of these aircraft × {days} ÷ "
    "365.25. Nothing is replaced on tour: a stock s serves E[min(X, s)] of what is asked for."
)
SPARES_USE = (
    "Use: rates where stated, else all issues ÷ years since the first issue of any part, at least "
    "one; only aircraft that have the part count. In stock: usable, not expired, kept for nobody; "
    "the build plan uses it too."
)
SPARES_AFTER_PLAN = (
    "Use: rates where stated, else all issues ÷ years since the first issue of any part, at least "
    "one; only aircraft that have the part count. In stock: what the plan leaves of stock and open "
    "orders once airframes, work in hand and spares orders have theirs."
)
SPARES_INSPECTED = (
    "Inspections till then: the most pieces that coming inspections take within one resupply time, "
    "of all in the plan's horizon. When they fall due is known, so they come on top of what may "
    "fail: chance, share and backorders are those of the time when most fall due."
)
TOUR_INSPECTED = (
    "Inspections meanwhile: the most pieces that coming inspections of these aircraft take within "
    "{days} days, of all in the plan's horizon. When they fall due is known, so they come on top "
    "of what may fail."
)
SPARES_TWICE = (
    "▲ Used and taken by inspections: {items}. Where rates or issues already hold what inspections "
    "take, it counts twice; leave it out there."
)
SPARES_BACKORDERS = "Expected backorders: what is asked for beyond those held, on the average."
SPARES_LIMIT = {
    "cost": "Chosen for a budget of {limit:,.2f} on top of what is in stock, so that expected "
    "backorders are fewest. Spent: {spent:,.2f}.",
    "mass": "Chosen for {limit:,.1f} kg, packed from nothing, so that expected backorders are "
    "fewest. Packed: {spent:,.3f} kg.",
}
SPARES_SHORT = (
    "▲ The search was cut short: another set within the limit may leave up to {short:.2g} expected "
    "backorders fewer."
)
SPARES_TOGETHER = {
    "no-backorder": "Chance that no part at all is out: {shares}.",
    "fill-rate": "Share of all demand served at once: {shares}.",
}
SPARES_SHARES = {
    "cost": "{before:.1%} with what is in stock, {after:.1%} once what is missing is there",
    "mass": "{after:.1%} with this set",
}
SPARES_NEEDED = {
    "cost": "For {target:.4g} % over all parts together {needed:,.2f} would have to be spent.",
    "mass": "For {target:.4g} % over all parts together {needed:,.3f} kg would have to be packed.",
}
SPARES_ASSUMED = (
    "▲ hours_per_year is not stated for {serials}: taken to fly as much as the others on the "
    "average."
)
SPARES_CAUTION = (
    "A statistical proposal: life limits, service bulletins and the maker's and the authority's "
    "documents rule. It releases no part to flight."
)
SPARES_COLUMNS = {
    "state": "State",
    "item": "Part",
    "description": "Description",
    "aircraft": "Aircraft that have it",
    "yearly": "Use a year",
    "source": "Known from",
    "resupply": "Resupply days",
    "mean": "Mean use till then",
    "due": "Inspections till then",
    "hold": "Keep",
    "reached": "Chance of none out",
    "backorders": "Expected backorders",
    "stock": "In stock",
    "gap": "Missing",
    "cost": "Cost each",
    "to_buy": "Cost of what is missing",
    "value": "Value kept",
    "mass": "Mass kept, kg",
}
SPARES_SERVED = "Served at once"
SPARES_MISSING, SPARES_THERE, SPARES_NOT_KEPT = "■ missing", "✓ there", "none to keep"
SPARES_SOURCES = {"usage": "rate", "issues": "issues", "inspections": "inspections"}
SPARES_NONE = "No part with a use a year is left to keep."
CURVE_TITLE = "What more spares bring"
CURVE_NOTE = (
    "Pieces in the order of what they bring for their {unit}. Parts without a {unit} are not in it."
)
CURVE_UNITS = {"cost": "cost", "mass": "mass"}
CURVE_SPENT = {"cost": "Spent on top of stock", "mass": "Packed, kg"}
CURVE_REACHED = {"no-backorder": "Chance that no part is out", "fill-rate": "Served at once"}
CURVE_TARGET = "Target"
LEFT_OUT_TITLE = "Parts that are left out"
LEFT_OUT_COLUMNS = {"item": "Part", "description": "Description", "why": "Why"}
LEFT_OUT_REASONS = {
    "measure": "is measured, not counted in pieces",
    "phantom": "is never kept by itself; give the use of its parts",
    "specific": "is configured for each aircraft and cannot be kept for all",
    "nobody": "no aircraft asked about has it",
    "too many": "is used by the ten thousand meanwhile; give it a safety_stock instead",
    "unpriced": "has no cost in items",
    "unweighed": "has no mass_g in items",
}
SPARES_HEADS = {
    "mean": "mean",
    "due": "inspected",
    "hold": "keep",
    "stock": "stock",
    "gap": "missing",
    "to_buy": "cost",
}
SPARES_PART = "part"
SPARES_MORE = "... and {count} more that are missing, all in the workbook"
SPARES_LEFT_OUT = "left out: {items}: {reason}"
