"""All result tables, by name."""

from bomkit.tables import buying_results, plan_results, shop_results, stores_results
from bomkit.tables.schema import Table

RESULTS: dict[str, Table] = {
    table.name: table
    for table in (
        plan_results.ORDERS,
        plan_results.PROJECTION,
        plan_results.NEEDS,
        plan_results.PEGS,
        stores_results.FORECAST,
        stores_results.PACING,
        stores_results.READY,
        stores_results.INSPECTIONS,
        stores_results.PROMISES,
        stores_results.PACKING,
        shop_results.PLATES,
        shop_results.LOADS,
        shop_results.SHOP_LOADS,
        buying_results.MOVES,
        buying_results.BUY_LINES,
        buying_results.CASH,
        plan_results.PLANNED_ITEMS,
    )
}
