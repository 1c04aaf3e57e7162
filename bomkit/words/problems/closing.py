"""Words of the week's close: what is doubtful in what was filled in, and what was done with it."""

from bomkit.words.weekly.asking import ASK_COLUMNS, ASK_SHEET

_IF_A_SLIP = "if that is a slip, correct the cell and take the week back again"

WHOLE_PIECES = "must be a whole number: {item} is counted in pieces; correct the cell"
FILLED_IN_TWICE = "is filled in twice (also in {first}); keep one of the two"
NEEDS_NUMBER = "needs a number here, as something else is filled in beside it; fill it in"
NEEDS_AMOUNT = "needs a number above 0, as an order number is filled in beside it; correct it"

BEFORE_THE_WEEK = "is before the week that is closed (from {start:%d %b %Y}); correct the day"
LEFT_BEFORE = (
    "is before the week that is closed (from {start:%d %b %Y}), and is booked in it all the same: "
    f"{_IF_A_SLIP}"
)

# what was bought
NOT_ON_ORDER = "is no open order of that item, serial and day; restore the row's own cells"
NOT_IN_PLAN = "is no planned purchase of that item in this run; restore the row's own cells"
ORDER_NUMBER_MISSING = "is missing; write the number of the order that was placed"
ORDER_NUMBER_TAKEN = (
    f"is the number of an order that is open already; change that one under {ASK_SHEET}, or write "
    "the number of the new order"
)
TWO_SUPPLIERS = "is also the number of an order at {other}; an order goes to one supplier"
MUCH_MORE_ORDERED = (
    "is more than ten times the {planned} {unit} that the plan asks for, and all of it is on order "
    f"now: {_IF_A_SLIP}"
)
MUCH_MORE_ANSWERED = (
    "is more than ten times the {quantity} {unit} that were on order, and all of it is on order "
    f"now: {_IF_A_SLIP}"
)
FAR_AHEAD = (
    "is more than two years after the plan's first day ({start:%d %b %Y}), and is planned with: "
    f"{_IF_A_SLIP}"
)
CALLED_OFF_OR_NOT = (
    "calls the order off, so it can have no new day or quantity; empty one of the two"
)
NOTHING_LEFT = (
    f"would leave nothing on order; write yes under {ASK_COLUMNS['cancelled']} if that is meant"
)
MORE_REJECTED = "must not be more than what arrived ({arrived}); correct one of the two"
MUCH_MORE_ARRIVED = (
    "is much more than the {quantity} on order; correct it, or write the true quantity of the "
    f"order as {ASK_COLUMNS['number']} under {ASK_SHEET}"
)
MORE_ARRIVED = "is more than the {quantity} on order; all of it was taken in"
STILL_OWED = f"was refused and is still on order; change the order under {ASK_SHEET} if it is not"
NO_LAST_DAY = "has no last day of use, but other lots of {item} have one; look at its label"
PAST_ITS_DAY = (
    "is before the week: what came was past its last day of use; it lies in stock, but is not "
    "planned with"
)

# what was picked, begun and finished
NO_SUCH_ORDER = "is no order of this run to be made, nor one in work; restore the row's own cells"
RESTORE = "restore the row's own cells, or correct the name"
NO_ORDER_OF_THAT_NAME = "is no order of this run to be made, nor one in work; {hint}"
ORDER_OF_PICK_MISSING = "is missing; write the number of the order that it was picked for"
COMPONENT_MISSING = "is missing; write which component was picked"
NO_SUCH_COMPONENT = f"is not what {{order}} takes or still lacks; {RESTORE}"
LOT_PAST = (
    "says that it was taken from lot {lot} of {item}, which is past its last day of use; it must "
    "not be used: look at its label, and at what it went into"
)
PICKED_IN_SPITE = (
    "is filled in, but of {items} more was picked than the other orders ask for; bring back what "
    "is left over and count the shelf, or empty the cell if the order got it"
)
LOT_UNKNOWN = "is no usable lot of {item} in stock; look at its label"
MORE_THAN_THERE = (
    "is more than there was to take by the books ({there}); correct it, or write {there} if more "
    "was really there: then nothing is left, as on the shelf"
)
KEPT_FOR_OTHERS = "is more than there was to take ({there}); {kept} more is kept for {whom}"
BEGUN_ALREADY = "is filled in for an order that was in work before; empty it"
BEGUN_NOTHING = "says that none was begun, but some of it is finished; correct one of the two"
BEGUN_AS_PICKED = (
    "says that none was begun, but parts were picked for it, so all of it counts as begun; write "
    "how much was begun, or empty what was picked"
)
FAR_MORE_BEGUN = (
    "is more than twice the {planned} planned; correct it, or begin the rest as the next plan has "
    "it"
)
MORE_THAN_NEEDED = (
    "is {beyond} more than the order still lacks; all of it was taken from stock, so bring back "
    "what is left over and count the shelf"
)
MORE_THAN_BEGUN = "is, good and scrapped together ({done}), more than the {begun} in work"
NAME_TAKEN = "would be called {name} once begun, but an order of that name is there already"
NOT_PICKED = (
    "is finished, but {lacks} {unit} of {item} was not picked for it; fill in what was picked, "
    "or lower what is finished"
)
FINISHED_WITHOUT = (
    "is finished, and {lacks} {unit} of {item} was not picked for it: taken as not used; count it"
)
PULLED_FROM_NOWHERE = "is no mould; restore the row's own cells"
WORN = "is {over} more than the mould had left; it is taken as worn out"

# what left the house
NO_SUCH_SPARES_ORDER = "is no line of that spares order; restore the row's own cells"
MORE_PACKED = "is more than the {quantity} that the order takes; correct it"
LEFT_EMPTY = "says that the box left, but nothing was packed for it; fill in what was packed"
TWO_LEAVING_DAYS = "is another day than the rest of the box left on; write one day"
NOT_LEFT = (
    "is packed and has not left: it stays in stock until the day on which it left is filled in"
)
BOX_BEGUN = "is packed in part: its box is in work as {name}, and lacks the rest"
BOX_READY = "is packed and has not left: the box lies in stock as {item}"
LEFT_WITHOUT = "says that the box left without {lacks} of {item}, which stays on order"
NOT_BUILT = (
    "can't be: {serial} is not built, as no finished {item} of this serial is in stock; fill in "
    "that its last order is finished, or empty this"
)
NOT_ON_THE_LINE = "is no airframe of the build plan; restore the row's own cells"
NOT_YET = "is after the week that is closed (up to {last:%d %b %Y}); write the day it happened"
LEFT_BEHIND = "is delivered, but {what} is still kept for it"

# what was counted
FAR_MORE_COUNTED = (
    "is far more than the {books} {unit} of the books, and lies in stock now as it was counted: "
    f"{_IF_A_SLIP}"
)
COUNT_UNKNOWN = "is no such place and lot in stock; restore the row's own cells"
PLACE_PACKED = "packed for {order}"
BOX_NAME = "{week}-{order}"
DID_NOT_CLOSE = (
    "does not add up: {opening} opening and {changes} booked is not {closing} closing; nothing can "
    "be written from this run"
)
