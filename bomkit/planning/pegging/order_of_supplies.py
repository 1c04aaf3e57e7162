"""What can serve a need, when it is there by the plan alone, and in which order it is taken."""

import polars as pl

from bomkit.planning.netting.arrays import Ints, in_order
from bomkit.planning.netting.netted_plan import Flows, handed_on
from bomkit.planning.tables_as_numbers.network import Network

STOCK, OPEN_ORDER, PLANNED_ORDER, PASSED_ON = "stock", "open order", "planned order", "passed on"
# Of what is there on the same day, stock goes first, then what is on its way.
TAKEN_FIRST = {STOCK: 0, OPEN_ORDER: 1, PLANNED_ORDER: 2, PASSED_ON: 2}


def all_supplies(network: Network, flows: Flows, orders: pl.DataFrame) -> pl.DataFrame:
    """Everything that can serve a need.

    supply_id (the row number), key, usable, comes (the day on which it can be there by its own lead
    time), kind, supply (name), location, quantity, meant_for, expires, order_id (row in orders). Of
    lots all that is left of them, of orders what is expected good.
    """
    parts = [_stock(network), _ordered(network), _planned(orders), _passed_on(network, flows)]
    return (
        pl.concat(parts, how="diagonal")
        .filter(pl.col("quantity") > 0)
        .with_columns(pl.col("supply", "location", "meant_for").fill_null(""))
        .sort(
            "key",
            "comes",
            "usable",
            pl.col("kind").replace_strict(TAKEN_FIRST),
            pl.col("expires").fill_null(pl.date(9999, 12, 31)),
            "supply",
            "location",
            "meant_for",
            "quantity",
        )
        .with_row_index("supply_id")
        .select(
            *("supply_id", "key", "usable", "comes", "kind", "supply", "location", "quantity"),
            *("meant_for", "expires", "order_id"),
        )
    )


def as_taken(key: Ints, comes: Ints, kind: Ints, last: Ints, usable: Ints) -> Ints:
    """The places of supplies in the order in which needs in line take them, by key: what is there
    first; of what is there on a day stock, and of stock what expires first.

    kind: as in TAKEN_FIRST; last: ordinal of the last day of use. Of what is alike in all this the
    order of all_supplies counts: by the name of the lot or order, then by its place.
    """
    return in_order(key, comes, kind, last, usable)


def _stock(network: Network) -> pl.DataFrame:
    """Usable stock by lot and place."""
    # all stock of a serial-specific item is its serial's: nothing has to be kept for it
    common = network.keys.serial(pl.col("key")) == 0
    return network.stock.select(
        "key",
        "location",
        "expires",
        "quantity",
        meant_for=pl.when(common).then("serial").otherwise(pl.lit("")),
        usable=pl.lit(0, pl.Int64),
        comes=pl.lit(0, pl.Int64),
        supply="lot",
        kind=pl.lit(STOCK),
    )


def _ordered(network: Network) -> pl.DataFrame:
    """Open orders within the horizon."""
    return network.receipts.filter(~pl.col("past")).select(
        "key", "quantity", usable="day", comes="day", supply="order", kind=pl.lit(OPEN_ORDER)
    )


def _planned(orders: pl.DataFrame) -> pl.DataFrame:
    """Planned orders, by their row."""
    return orders.select(
        "key",
        "usable",
        comes="arrival",
        quantity="expected_good",
        supply="order",
        kind=pl.lit(PLANNED_ORDER),
        order_id=pl.int_range(pl.len()),
    )


def _passed_on(network: Network, flows: Flows) -> pl.DataFrame:
    """What phantoms and replaced items hand down: key, usable, quantity, kind."""
    own = handed_on(network, flows)
    return flows.started.filter(own).with_columns(kind=pl.lit(PASSED_ON), comes="usable")
