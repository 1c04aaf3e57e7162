"""The frames that a plan is made from, declared once: columns in their order, with their types.

Days are numbers of working days, 0 the plan's first; quantities are in the item's own unit. The
serial of a demand, a receipt or a lot says for whom it is meant, also of common items.
"""

from collections.abc import Mapping

import polars as pl

Frame = Mapping[str, type[pl.DataType]]


def columns_of(frame: Frame, worked_out: Mapping[str, pl.Expr]) -> list[pl.Expr]:
    """The columns of a frame in their order: what is worked out, all others as they are."""
    return [worked_out.get(name, pl.col(name)).alias(name) for name in frame]


ITEMS: Frame = {
    "item_id": pl.Int64,  # in the order of the names
    "item": pl.String,
    "source": pl.String,
    "process": pl.String,
    "unit": pl.String,
    "level": pl.Int64,  # the longest way down to it from any item that nothing contains
    "lead": pl.Int64,  # working days
    "safety": pl.Int64,  # working days
    "good": pl.Float64,  # share of what is started
    "minimum": pl.Float64,
    "multiple": pl.Float64,
    "whole": pl.Boolean,  # counted in whole units
    "cover": pl.Int64,  # days of needs that a lot is for
    "longest": pl.Int64,  # the most days of needs that a lot may be for
    "safety_stock": pl.Float64,
    "least_cost": pl.Boolean,  # whether lots are chosen by cost
    "order_cost": pl.Float64,
    "holding": pl.Float64,  # cost of a unit for a working day
    "receipt_good": pl.Float64,  # share of what is on order
    "passes": pl.Boolean,  # phantom or replaced: no orders of its own
    "specific": pl.Boolean,  # configured for each airframe
    "replaced": pl.Boolean,
}
SERIALS: Frame = {"serial_id": pl.Int64, "serial": pl.String, "options": pl.String}
LINES: Frame = {
    "parent_id": pl.Int64,
    "child_id": pl.Int64,
    "factor": pl.Float64,  # child units for each unit of the parent started, or for each order
    "per_order": pl.Boolean,
    "offset": pl.Int64,  # days from the parent's start
    "first_start": pl.Int64,  # days between which the parent starts
    "last_start": pl.Int64,
    "condition": pl.Int64,  # 0: none
}
ACTIVE: Frame = {"condition": pl.Int64, "serial_id": pl.Int64}  # what holds for which serial
DEMANDS: Frame = {
    "key": pl.Int64,
    "day": pl.Int64,
    "quantity": pl.Float64,
    "demand": pl.String,
    "kind": pl.String,
    "serial": pl.String,
    "date": pl.Date,
    "overdue": pl.Boolean,
    "past": pl.Boolean,  # past the horizon
}
RECEIPTS: Frame = {
    "key": pl.Int64,
    "day": pl.Int64,
    "order": pl.String,
    "date": pl.Date,
    "serial": pl.String,
    "overdue": pl.Boolean,
    "past": pl.Boolean,
    "quantity": pl.Float64,  # expected good
    "ordered": pl.Float64,
    "firm": pl.Boolean,
}
STOCK: Frame = {
    "key": pl.Int64,
    "quantity": pl.Float64,
    "location": pl.String,
    "lot": pl.String,
    "expires": pl.Date,
    "serial": pl.String,
    "day": pl.Int64,  # the last on which it may be used; null: any
    "beyond": pl.Boolean,  # lasts past the horizon
}
# what is to be planned by a day at the least, whatever is in stock
LEAST: Frame = {"key": pl.Int64, "day": pl.Int64, "quantity": pl.Float64}
