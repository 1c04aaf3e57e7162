"""What is asked of printers and moulds in each week, before and after levelling."""

import polars as pl

from bomkit.planning.shop_plan import ShopPlan
from bomkit.planning.shops.moulds.pulls_by_week import mould_loads
from bomkit.planning.shops.printing.print_room import printer_loads
from bomkit.tables.schema import Tables

_BOTH = ("name", "week")


def shop_loads(plan: ShopPlan, tables: Tables) -> pl.DataFrame:
    """Printer hours by kind of printer and pulls by item with moulds: kind (printer, mould), name,
    week, load_before (levelling), load, capacity, in_work (part of both loads)."""
    printers = plan.prints.loads.rename({"kind": "name", "hours": "load"})
    before = printer_loads(plan.network, plan.orders_before, tables, plan.in_work).loads
    moulds = plan.pulls.rename({"item": "name", "pulls": "load"})
    pulled = mould_loads(plan.network, plan.orders_before, tables["moulds"], {}, plan.in_work)
    return pl.concat(
        [
            _beside(printers, before.rename({"kind": "name", "hours": "load"}), "printer"),
            _beside(moulds, pulled.rename({"item": "name", "pulls": "load"}), "mould"),
        ]
    )


def _beside(after: pl.DataFrame, before: pl.DataFrame, kind: str) -> pl.DataFrame:
    """Loads with those of the plan before levelling beside them."""
    earlier = before.select(*_BOTH, load_before="load")
    return after.join(earlier, on=_BOTH, maintain_order="left").select(
        pl.lit(kind).alias("kind"), *_BOTH, "load_before", "load", "capacity", "in_work"
    )
