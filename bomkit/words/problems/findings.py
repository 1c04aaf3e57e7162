"""Words of what is wrong or doubtful in the tables."""

# cells; what else can be wrong with one stands where it is found (`inputs/values/`)
NOT_A_DATE = "must be a date such as 2026-11-30"

# more than can be planned
TOO_MUCH = (
    "is asked for in more pieces or multiples than can be counted; look for a quantity or unit "
    "that is far too large above it, or a scrap rate or multiple that is far off in its row"
)
TOO_MANY_PLATES = (
    "is the most part of a plan that fills more than {most:,} plates; "
    "look for a quantity that is far too large here or above it"
)

# inspections
INSPECTED_DEMAND = "inspection {} {}"  # aircraft and due date

# orders that do not fit the aircraft
MISFIT_HAS = (
    "does not fit {serial} (options: {options}): it goes in only by {lines}; look at the item and "
    "the serial ordered, or correct the aircraft's options"
)
MISFIT_PACKS = (
    "does not fit {serial} (options: {options}): nothing would be packed, as its lines are "
    "{lines}; look at the kit and the serial ordered, or correct the aircraft's options"
)
MISFIT_NOWHERE = (
    "does not fit {serial}: no line of {item} leads to it; look at the item and the serial ordered"
)
MISFIT_EMPTY = (
    "nothing would be packed for this aircraft on {day}: {lines}; look at the kit, the serial and "
    "the dates"
)
MISFIT_NO_LINES = "no line of the kit, nor of what is in it, holds anything"
MISFIT_CONTENT = (
    "is for {serial}, but holds what goes in nowhere on that aircraft: {parts}; look at the kit's "
    "lines and the serial ordered, or correct the aircraft's options"
)
MISFIT_LINE = "{parent} -> {child} {conditions}"
NO_OPTIONS = "none"

# rolled-up mass, cost and hours
MASS_WITHIN = "Limit of the empty mass {limit:,.1f} kg: {spare:,.1f} kg to spare"
MASS_OVER = "▲ Limit of the empty mass {limit:,.1f} kg: {spare:,.1f} kg over"
MASS_CAUTION = "A sum of stated masses; the weighing of the aircraft and its documents rule."
