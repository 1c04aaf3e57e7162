"""The input tables of what is asked for, there and on its way, declared once."""

from bomkit.tables.schema import Column, Table
from bomkit.tables.shared_columns import (
    LONGEST_SHELF,
    OWN_DAY,
    item_column,
    quantity_column,
    serial_column,
)

BUILD_PLAN = Table(
    "build_plan",
    "The airframes to be built: one row a serial number, one piece each.",
    (
        Column("serial", "name", "Serial number, such as KL-061.", required=True),
        item_column("The item that is this airframe."),
        Column("ready_date", "date", f"Day it must be ready; {OWN_DAY}.", required=True),
        Column("options", "names", "Options fitted, separated by spaces or semicolons."),
    ),
    key=("serial",),
    required=True,
)

STOCK = Table(
    "stock",
    "What lies in the stores.",
    (
        item_column("What it is."),
        Column("quantity", "number", "How much, in the item's unit.", required=True, at_least=0),
        Column("location", "text", "Where it lies."),
        Column("lot", "name", "Lot or batch number."),
        Column(
            "status",
            "choice",
            "usable, hold or quarantine; only usable stock is planned with.",
            default="usable",
            choices=("usable", "hold", "quarantine"),
        ),
        Column("expires", "date", "Last day on which it may be used."),
        serial_column("For whom it is kept; needed for a serial-specific item."),
        Column("reason", "text", "Why it is on hold or in quarantine; shown wherever it is named."),
    ),
)

OPEN_ORDERS = Table(
    "open_orders",
    "What is ordered or in work already.",
    (
        Column("order", "name", "Number of the order.", required=True),
        item_column("What is ordered."),
        quantity_column("How much is on order or started, scrap included."),
        Column(
            "due_date",
            "date",
            "Day it arrives or is finished; on a day that is not a working day it counts on the "
            "first working day after it.",
            required=True,
        ),
        serial_column("For whom; needed for a serial-specific item."),
        Column("supplier", "name", "Who delivers it.", refers_to=("suppliers.supplier",)),
        Column(
            "firm",
            "choice",
            "Whether day and quantity are fixed: then it is asked for sooner only.",
            default="no",
            choices=("yes", "no"),
        ),
        Column(
            "hours_left",
            "number",
            "Hours that an order in work still takes (of a part printed without hours of its own: "
            "of a printer); empty: all of its hours.",
            at_least=0,
        ),
    ),
    key=("order", "item", "serial", "due_date"),
)

ALLOCATIONS = Table(
    "allocations",
    "What open make, print and kit orders still lack; an order without any has all it needs.",
    (
        Column(
            "order",
            "name",
            "The open order that lacks it.",
            required=True,
            refers_to=("open_orders.order",),
        ),
        item_column("The component it lacks."),
        quantity_column("How much it lacks."),
        Column("need_date", "date", f"Day it is needed; {OWN_DAY}.", required=True),
        serial_column("For whom; needed for a serial-specific item."),
    ),
)

SPARES_ORDERS = Table(
    "spares_orders",
    "What the fleet has ordered.",
    (
        Column("order", "name", "Number of the order.", required=True),
        item_column("What is ordered."),
        quantity_column("How much."),
        Column("need_date", "date", f"Day it must leave; {OWN_DAY}.", required=True),
        serial_column("The aircraft it goes to; needed for a serial-specific item."),
        Column(
            "urgency",
            "choice",
            "grounded (an aircraft waits for it) or routine.",
            default="routine",
            choices=("grounded", "routine"),
        ),
        Column("customer", "text", "Who ordered it."),
        Column(
            "kind",
            "choice",
            "customer (it leaves the house), or stock (for the own shelf: served last and never "
            "packed; take the row out once it is there).",
            default="customer",
            choices=("customer", "stock"),
        ),
        Column(
            "min_shelf_days",
            "whole",
            "Calendar days for which what is packed must still be good when it leaves.",
            default=90,
            at_least=0,
            at_most=LONGEST_SHELF,
        ),
    ),
    key=("order", "item", "serial", "need_date"),
)
