"""All input tables, by name: reading, checks, templates and docs follow from them.

To add a column, add it to its table; nothing else has to know about it but the rule that uses it.
"""

from bomkit.tables.columns_and_rules import (
    buying,
    fleet,
    items,
    logs,
    orders,
    plan_settings,
    shops_and_calendar,
)
from bomkit.tables.schema import Table, renamed
from bomkit.words.did_you_mean import nearest

INPUTS: dict[str, Table] = {
    table.name: table
    for table in (
        plan_settings.PLAN,
        items.ITEMS,
        items.STRUCTURE,
        orders.BUILD_PLAN,
        shops_and_calendar.PROCESSES,
        orders.STOCK,
        orders.OPEN_ORDERS,
        orders.ALLOCATIONS,
        orders.SPARES_ORDERS,
        fleet.FLEET,
        items.REPLACEMENTS,
        items.ALTERNATES,
        shops_and_calendar.CALENDAR,
        buying.SUPPLIERS,
        buying.PRICES,
        fleet.USAGE,
        fleet.ISSUES,
        fleet.INSPECTION_RULES,
        fleet.INSPECTION_LOG,
        fleet.FITTED,
        shops_and_calendar.MATERIALS,
        shops_and_calendar.PRINTS,
        shops_and_calendar.PRINTERS,
        shops_and_calendar.MOULDS,
        logs.SCRAP_LOG,
        logs.ARRIVALS_LOG,
    )
}


START_SHEET = "Start here"  # the sheet of a workbook that is for people only
EXAMPLE_MARK = "e.g. "  # what the first cell of a row begins with that is an example only


def table_hint(name: str) -> str:
    """What to do about a file or sheet that is no table: the name it has now, or the nearest."""
    return renamed(name, INPUTS.values()) or nearest(name, INPUTS)
