"""Words of the one line that says what matters most."""

GROUNDED = (
    "First of all: grounded aircraft that wait too long: {count}. The longest, {name}: {days}."
)
AIRFRAMES = (
    "First of all: airframes late by the forecast: {count}. The latest, {name}: {days}{held_up}."
)
HELD_UP_BY = ", held up by {item}"
ROUTINE = "First of all: spares orders that leave too late: {count}. The latest, {name}: {days}."
OVERLOADED = "First of all: {name} has {over:,.1f} hours too many this week."
ORDERS = (
    "First of all: orders that start too late: {count}. The latest, {name} ({item}): {days}; "
    "nothing else is late for it."
)
ALL_IN_TIME_BUT = (
    "Every airframe and spares order of the horizon is in time; left out, as wanted past it: "
    "{named}."
)
ALL_IN_TIME = "Every airframe and spares order is in time."
