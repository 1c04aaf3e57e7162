"""All result tables, by name."""

from bomkit.tables.results import buying, plan, shops, stores
from bomkit.tables.schema import Table

RESULTS: dict[str, Table] = {
    table.name: table
    for table in (
        plan.ORDERS,
        plan.PROJECTION,
        plan.NEEDS,
        plan.PEGS,
        stores.FORECAST,
        stores.PACING,
        stores.READY,
        stores.INSPECTIONS,
        stores.PROMISES,
        stores.PACKING,
        shops.PLATES,
        shops.LOADS,
        shops.SHOP_LOADS,
        buying.MOVES,
        buying.BUY_LINES,
        buying.CASH,
        plan.PLANNED_ITEMS,
    )
}
