"""The result tables of stores and support, declared once."""

from bomkit.tables.kinds import SOURCES, SUPPLY_KINDS
from bomkit.tables.schema import Column, Table
from bomkit.tables.shared_columns import demand_columns, late_column

FORECAST = Table(
    "forecast",
    "When each airframe and spares order can be ready at the earliest.",
    (
        *demand_columns(),
        Column("serial", "name", "The aircraft it is for; empty if it names none.", True),
        Column("ready_date", "date", "Day on which it is wanted.", True),
        Column(
            "earliest_date",
            "date",
            "Earliest day that stock, open orders and lead times allow; empty: never.",
        ),
        late_column("Working days by which that is too late"),
        Column("spare_days", "whole", "Working days by which it is early enough.", True),
        Column(
            "gain_days",
            "whole",
            "Working days gained if the first item of the chain were there on day one; of the "
            "latest ones only.",
        ),
        Column("pacing_item", "name", "First item of the chain that sets the date.", True),
        Column(
            "pacing",
            "text",
            "That chain, what comes first in front: item (planned order, days) or item (open "
            "order, day).",
            True,
        ),
        Column(
            "from_house",
            "whole",
            "Place among the airframes that could be finished if nothing more arrived; empty: not.",
        ),
    ),
)

PACING = Table(
    "pacing",
    "The chain of items that sets each forecast, one row a link, what comes first at the top.",
    (
        *demand_columns(),
        Column("demand_serial", "name", "The aircraft that the demand names, if any.", True),
        Column("step", "whole", "Number of the link, 1 for what comes first in time.", True),
        Column("item", "name", "The item waited for.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("supply_kind", "choice", "What brings it.", True, choices=SUPPLY_KINDS),
        Column("supply", "name", "The lot or the order.", True),
        Column("start_date", "date", "Day on which the planned order can start; empty: never."),
        Column(
            "days",
            "whole",
            "Lead time of a planned order; of an open one by how much what it lacks delays it.",
            True,
        ),
        Column("finish_date", "date", "Day on which it is there; empty: never."),
        Column(
            "needed_after",
            "whole",
            "Days after the start of the next link that it is needed.",
            True,
        ),
        Column("overdue_since", "date", "An open order counted on the first day was due then."),
    ),
)

READY = Table(
    "ready",
    "Whether each order to make, print or pack has its components when they are needed.",
    (
        Column("order", "name", "Name of the planned order in this run.", True),
        Column("item", "name", "What it makes.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("source", "choice", "make, print or kit.", True, choices=SOURCES),
        Column("process", "name", "The process that makes it; empty if none.", True),
        Column("start_date", "date", "Working day on which it starts in the plan.", True),
        Column(
            "state",
            "choice",
            "complete: all is there when it is needed; waiting: what comes late is on order, in "
            "work or itself waiting; short: something is not even ordered and too late to order.",
            True,
            choices=("complete", "waiting", "short"),
        ),
        Column(
            "can_start", "date", "Earliest day with every component there in time; empty: never."
        ),
        Column("components", "whole", "How many different components it needs.", True),
        Column("in_stores", "whole", "How many of these lie in stores.", True),
        Column("coming", "whole", "How many come in time.", True),
        Column("missing", "whole", "How many come too late.", True),
        Column("waits_for", "name", "The component that comes last of those.", True),
        Column("waits_from", "name", "The order it comes from.", True),
    ),
    key=("order",),
)

INSPECTIONS = Table(
    "inspections",
    "What falls due on the fleet within the horizon.",
    (
        Column("serial", "name", "The aircraft.", True),
        Column("item", "name", "What it takes.", True),
        Column("due_date", "date", "Day on which it falls due.", True),
        Column("cause", "choice", "By hours or by months.", True, choices=("hours", "months")),
        Column("last_done", "date", "When inspection_log says it was last done; empty: no record."),
    ),
)

PROMISES = Table(
    "promises",
    "When each spares order can leave: all that is pegged to it is there, and packed.",
    (
        Column("order", "name", "Number of the spares order.", True),
        Column("item", "name", "What is ordered.", True),
        Column("serial", "name", "The aircraft it goes to; empty if it names none.", True),
        Column("quantity", "number", "How much.", True),
        Column("urgency", "choice", "How urgent.", True, choices=("grounded", "routine")),
        Column("need_date", "date", "Day on which it is wanted.", True),
        Column(
            "promise_date",
            "date",
            "Day to promise: when wanted, or when it can leave; empty: nothing brings all of it.",
        ),
        Column(
            "earliest_date", "date", "Working day from which it can leave; empty: none is known."
        ),
        late_column("Working days by which that is too late"),
        Column("lines", "whole", "How many lines are to be packed.", True),
        Column("lines_waiting", "whole", "How many of them can't be picked yet.", True),
        Column("later", "name", "Whom a grounded order makes later the most; empty: nobody.", True),
        Column("later_kind", "text", "What kind of demand that is.", True),
        Column("later_days", "whole", "By how many working days; empty: it has no date then."),
    ),
)

PACKING = Table(
    "packing",
    "What to pick for each spares order now, from which lot, and what has to wait until when.",
    (
        Column("order", "name", "Number of the spares order.", True),
        Column("item", "name", "What is ordered.", True),
        Column("serial", "name", "The aircraft it goes to; empty if it names none.", True),
        Column("need_date", "date", "Day on which it is wanted.", True),
        Column("line", "whole", "Number of the line to pack.", True),
        Column("position", "text", "Where it stands on the drawing of the kit.", True),
        Column("part", "name", "What to pack.", True),
        Column("note", "text", "What the structure notes about it.", True),
        Column("replaces", "name", "The old item in whose place it goes; empty: none.", True),
        Column("hazard", "text", "UN number and class if it is or holds dangerous goods.", True),
        Column("state", "choice", "take or wait.", True, choices=("take", "wait")),
        Column("quantity", "number", "How much to pick, or to wait for.", True),
        Column("location", "text", "Where it lies.", True),
        Column("lot", "name", "Its lot.", True),
        Column("expires", "date", "Last day on which the lot may be used."),
        Column(
            "can_take", "date", "Day from which it is there to be packed; empty: none is known."
        ),
        Column("supply", "name", "The order that brings what has to wait; empty: none does.", True),
        Column("in_stock", "number", "How much lots that last long enough hold.", True),
        Column("free", "number", "How much of that is this order's or nobody's.", True),
        Column(
            "waiting",
            "name",
            "Who waits longest for it since a grounded order takes it, or would if another took "
            "it now; empty: nobody.",
            True,
        ),
        Column("waiting_kind", "text", "What kind of demand that is.", True),
        Column(
            "waiting_days",
            "whole",
            "For how many working days that part is late then; empty: nothing brings it then.",
        ),
        Column("free_from", "date", "Day from which nobody would wait; empty: now, or never."),
    ),
)
