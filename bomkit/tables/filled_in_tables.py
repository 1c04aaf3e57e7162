"""What people fill into the workbooks of a run, one table a kind of entry, declared once.

Each table names a row of a sheet by columns that the run wrote (its key), then what was filled
in; an empty entry means that nothing happened. The sheets are laid out from these tables, and
what is read back from them is booked by them.
"""

from bomkit.tables.schema import Column, Table


def _of_item() -> tuple[Column, ...]:
    return (
        Column("item", "name", "The item.", True),
        Column("serial", "name", "For which airframe; empty for a common item."),
    )


def _amount(name: str, help_text: str) -> Column:
    return Column(name, "number", help_text, at_least=0)


_YES_OR_NO = ("yes", "no")

ORDERED = Table(
    "ordered",
    "Planned purchases that have been ordered: each becomes an open order.",
    (
        Column("plan_order", "name", "The number in the plan.", True),
        *_of_item(),
        Column("order", "name", "Number of the order that was placed."),
        Column("promised", "date", "Day for which the supplier promised it; empty: as planned."),
        _amount("quantity", "How much was ordered; empty: as planned."),
    ),
    key=("plan_order", "item", "serial"),
)

ANSWERED = Table(
    "answered",
    "What suppliers and shops answered when they were asked to move an open order.",
    (
        Column("order", "name", "The open order.", True),
        *_of_item(),
        Column("due_date", "date", "Day for which it stood in the plan.", True),
        Column("new_date", "date", "Day on which it is due now."),
        _amount("new_quantity", "How much is on order now, scrap included."),
        Column("cancelled", "choice", "Whether it was called off.", choices=_YES_OR_NO),
    ),
    key=("order", "item", "serial", "due_date"),
)

ARRIVED = Table(
    "arrived",
    "What suppliers brought of open orders.",
    (
        Column("order", "name", "The open order.", True),
        *_of_item(),
        Column("due_date", "date", "Day for which it was promised.", True),
        _amount("arrived", "How much was delivered, what was refused included."),
        _amount("rejected", "How much of that was refused and goes back."),
        Column("lot", "name", "Its lot or batch."),
        Column("use_by", "date", "Last day on which it may be used."),
        Column("place", "text", "Where it was put."),
    ),
    key=("order", "item", "serial", "due_date"),
)

PICKED = Table(
    "picked",
    "What was picked from stock for an order; what its order still lacks, it waits for.",
    (
        Column("order", "name", "The order that it is for: of the plan, or one in work.", True),
        *_of_item(),
        Column("location", "text", "Where it lay."),
        Column("listed_lot", "name", "The lot that the list named."),
        Column("need_date", "date", "Day it was to be picked.", True),
        _amount("picked", "How much was picked."),
        Column("lot", "name", "The lot that was picked; empty: the one that the list named."),
    ),
    key=("order", "item", "serial", "location", "listed_lot", "need_date"),
)

WORKED = Table(
    "worked",
    "What the shops began and finished, of planned orders and of orders in work.",
    (
        Column("order", "name", "The order: of the plan, or one in work.", True),
        *_of_item(),
        Column("due_date", "date", "Day it is due.", True),
        _amount("begun", "How much was started, of an order of the plan."),
        _amount("good", "How much of it is finished and good."),
        _amount("scrapped", "How much of it was scrapped."),
    ),
    key=("order", "item", "serial", "due_date"),
)

PRINTED = Table(
    "printed",
    "What the print shop began and finished, plate by plate; of one order it adds up to worked.",
    (
        *WORKED.columns[:4],
        Column("plate", "name", "The plate.", True),
        *WORKED.columns[4:],
    ),
    key=("order", "item", "serial", "due_date", "plate"),
)

BROUGHT_OUT = Table(
    "brought_out",
    "What was picked of a lot for all orders of a day; shared out among them, it is picked.",
    (
        *_of_item(),
        Column("location", "text", "Where it lay."),
        Column("listed_lot", "name", "The lot that the list named."),
        Column(
            "goes_to",
            "text",
            "The orders that it is for, as JSON: order, serial of the aircraft, quantity, day.",
            True,
        ),
        _amount("picked", "How much was picked."),
        Column("lot", "name", "The lot that was picked; empty: the one that the list named."),
    ),
    key=("item", "serial", "location", "listed_lot", "goes_to"),
)

LEFT_OUT = Table(
    "left_out",
    "Orders to which nothing was brought, though some of it lay in stock.",
    (
        Column("order", "name", "The order: of the plan, or one in work.", True),
        Column("day", "date", "Day of the list.", True),
        Column("waits", "choice", "Whether nothing was brought to it.", choices=_YES_OR_NO),
    ),
    key=("order", "day"),
)

FURTHER_PICKS = Table(
    "further_picks",
    "What was picked besides the lists: of a second lot, or in place of what was listed.",
    (
        Column("line", "whole", "Number of the line.", True),
        Column("order", "name", "The order that it is for: of the plan, or one in work."),
        Column("item", "name", "The component."),
        Column("serial", "name", "The aircraft that it is kept for; empty: for none."),
        Column("location", "text", "Where it lay."),
        Column("lot", "name", "Its lot."),
        _amount("picked", "How much was picked."),
    ),
    key=("line",),
)

PULLED = Table(
    "pulled",
    "How often a mould was used.",
    (
        Column("item", "name", "The mould.", True),
        Column(
            "pulls",
            "whole",
            "Pulls made; empty: one for each piece laid up in it that was begun.",
            at_least=0,
        ),
    ),
    key=("item",),
)

PACKED = Table(
    "packed",
    "What was packed for spares orders, and when it left.",
    (
        Column("order", "name", "The spares order.", True),
        *_of_item(),
        Column("need_date", "date", "Day on which it was to leave.", True),
        Column("component", "name", "What is packed: the item itself, or a line of the kit.", True),
        Column("line", "whole", "Number of the line to pack; empty: any of the component."),
        Column("listed_lot", "name", "The lot that the list named."),
        Column("location", "text", "Where the list said that it lies."),
        _amount("packed", "How much of it was packed."),
        Column("batch", "name", "Its lot or batch; empty: the one that the list named."),
        Column("left_on", "date", "Day on which the box left."),
    ),
    key=(
        *("order", "item", "serial", "need_date", "component"),
        *("line", "listed_lot", "location"),
    ),
)

COUNTED = Table(
    "counted",
    "What was found on the shelf when it was counted.",
    (
        *_of_item(),
        Column("location", "text", "Where it lies."),
        Column("lot", "name", "Its lot or batch."),
        Column("status", "name", "usable, hold or quarantine."),
        Column("expires", "date", "Last day on which it may be used."),
        _amount("counted", "How much is there."),
    ),
    key=("item", "serial", "location", "lot", "status", "expires"),
)

DELIVERED = Table(
    "delivered",
    "Airframes that were handed over.",
    (
        Column("serial", "name", "The airframe.", True),
        Column("delivered_on", "date", "Day of delivery."),
    ),
    key=("serial",),
)

ENTRIES: dict[str, Table] = {
    table.name: table
    for table in (
        ORDERED,
        ANSWERED,
        ARRIVED,
        PICKED,
        BROUGHT_OUT,
        LEFT_OUT,
        FURTHER_PICKS,
        WORKED,
        PRINTED,
        PULLED,
        PACKED,
        COUNTED,
        DELIVERED,
    )
}
