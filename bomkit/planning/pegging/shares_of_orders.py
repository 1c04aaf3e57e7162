"""For whom orders are: their shares, and so what each share asks of components."""

import numpy as np

from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Ints,
    Rows,
    at_places,
    each_repeated,
    heads,
    in_order,
    one_after_other,
    stretch_of,
    sums,
)
from bomkit.planning.pegging.asked_and_offered import NO_ORDER, Ground, Lines
from bomkit.planning.pegging.ranked_demands import FOR_STOCK, OUTSIDE, RANKS, SEVERAL

MOST_NEEDS = 1_000_000  # rows of needs that the orders of one level may give
_WHOSE = ("demand_id", "asked_id", "leaves")
_OF = ("from_id", *_WHOSE, "rank")  # what a share hands down
_DTYPES = {"quantity": np.float64, "share": np.float64, "leaves": np.bool_, "of_order": np.bool_}
_HANDED = ("key", "day", "quantity", *_OF, "of")
_SHARES = ("key", "usable", "quantity", "share", "of_order", *_OF)
NO_SHARES: Rows = {name: np.zeros(0, _DTYPES.get(name, np.int64)) for name in _SHARES}
NO_HANDED: Rows = {name: np.zeros(0, _DTYPES.get(name, np.int64)) for name in _HANDED}


def too_many(ground: Ground, pegs: Rows, left: Rows) -> bool:
    """Whether the orders of a level would give more needs than can be held, if it were told for
    whom each is: in a structure of a hundred thousand shared items every order serves every demand.
    """
    makes = np.append((ground.offered.order_id != NO_ORDER) | ground.offered.passing, False)
    keys = [rows["key"][makes[rows["supply_id"]]] for rows in (pegs, left)]  # NO_ROW: the last
    count = sum(ground.lines.count[ground.keys.item(key)].sum() for key in keys)
    return bool(count > MOST_NEEDS)


def shares_of(ground: Ground, pegs: Rows, left: Rows, together: bool) -> Rows:
    """For whom orders are, and for whom what is passed on: the columns of NO_SHARES, as _of_orders
    gives them.

    pegs, left: what serves needs and what nobody needs, as in Served; together: whether the shares
    of an order are taken as one.
    """
    served = at_places(pegs, pegs["supply_id"] != NO_ROW)
    made = one_after_other([served, _for_stock(left)])
    shares = one_after_other([_of_orders(ground, made), _passed_on(ground, served)])
    return _put_together(shares) if together else shares


def handed_down(ground: Ground, shares: Rows) -> Rows:
    """What shares ask of components: rows of needs, with the key they come from (of).

    Of plain items each order asks for all its shares as one: it takes them whoever it is for, and
    `demands_served.py` tells in the end for whom.
    """
    whole = _as_one(ground, shares)
    return one_after_other(
        [
            component_needs(ground, shares, ground.to_others),
            component_needs(ground, whole, ground.to_plain),
        ]
    )


def is_shared(ground: Ground, rows: Rows) -> Flags:
    """Whether needs are of what an order takes as one for all whom it serves."""
    shared: Flags = ground.plain[ground.keys.item(rows["key"])] & (rows["from_id"] != OUTSIDE)
    return shared


def _as_one(ground: Ground, shares: Rows) -> Rows:
    """The shares, those of one order as one, for whom is served first; but for those of an order of
    which some leave the house."""
    outside = np.where(shares["from_id"] == OUTSIDE, np.arange(len(shares["key"])), OUTSIDE)
    by = [shares["key"], shares["usable"], shares["from_id"], outside]
    order = in_order(*by, ground.turns[shares["demand_id"]])
    first = heads(*(column[order] for column in by))
    shares, part = at_places(shares, order), stretch_of(first, len(order))
    leaving = _any(shares["leaves"], first)
    one = at_places(shares, first)
    whole = {name: sums(shares[name], part, len(first)) for name in ("share", "quantity")}
    whole["quantity"] = np.where(one["of_order"], ground.started[one["from_id"]], whole["quantity"])
    return one_after_other(
        [at_places(shares, leaving), at_places({**one, **whole}, ~leaving[first])]
    )


def _any(flags: Flags, first: Ints) -> Flags:
    """Of each place whether a flag is set in its stretch; first: at which places they begin."""
    if not len(first):
        return flags
    any_set: Flags = np.logical_or.reduceat(flags, first)[stretch_of(first, len(flags))]
    return any_set


def _for_stock(left: Rows) -> Rows:
    """What nobody needs, as if it were needed for stock."""
    count = len(left["key"])
    same = {"from_id": OUTSIDE, "demand_id": FOR_STOCK, "asked_id": OUTSIDE, "day": 0}
    same["rank"] = RANKS["stock"]
    columns = {name: np.full(count, value) for name, value in same.items()}
    return {**left, **columns, "leaves": np.zeros(count, np.bool_)}


def _of_orders(ground: Ground, served: Rows) -> Rows:
    """The shares of planned orders: key, usable, quantity (of the whole that this share asks
    components for), share, of_order, from_id, demand_id, asked_id, leaves, rank.

    What an order makes beyond all needs is for stock. An order begins when it has all its
    components, so each of its shares ranks as its first one.
    """
    served = _by_planned_orders(ground, served)
    places = in_order(served["order"], *(served[name] for name in _WHOSE))
    rows = at_places(served, places)
    first = heads(rows["order"], *(rows[name] for name in _WHOSE))
    share = at_places(rows, first)
    quantity = sums(rows["quantity"], stretch_of(first, len(places)), len(first))
    met = in_order(share["order"], places[first])  # the shares of an order as they are met
    share, quantity = at_places(share, met), quantity[met]
    order = share["order"]
    bounds = heads(order)
    part = stretch_of(bounds, len(order))
    portion = quantity / sums(quantity, part, len(bounds))[part]
    rank = np.minimum.reduceat(rows["rank"], heads(rows["order"])) if len(order) else order
    return {
        "key": share["key"],
        "usable": ground.offered.usable[share["supply_id"]],
        "share": portion,
        "of_order": np.ones(len(order), np.bool_),
        "quantity": ground.started[order] * portion,
        "from_id": order,
        **{name: share[name] for name in _WHOSE},
        "rank": rank[part],
    }


def _by_planned_orders(ground: Ground, served: Rows) -> Rows:
    """What planned orders serve, with the number of each (order); only kits leave the house."""
    served = {**served, "order": ground.offered.order_id[served["supply_id"]]}
    served = at_places(served, served["order"] != NO_ORDER)
    packed = ground.packed[ground.keys.item(served["key"])]
    return {**served, "leaves": served["leaves"] & packed}


def _passed_on(ground: Ground, served: Rows) -> Rows:
    """The shares of what phantoms and replaced items hand down, in the same columns."""
    rows = at_places(served, ground.offered.passing[served["supply_id"]])
    usable = ground.offered.usable[rows["supply_id"]]
    order = in_order(rows["key"], usable)
    rows, usable = at_places(rows, order), usable[order]
    first = heads(rows["key"], usable)
    part = stretch_of(first, len(order))
    whole = sums(rows["quantity"], part, len(first))[part]
    columns = {name: rows[name] for name in ("key", "quantity", *_OF)}
    columns |= {"usable": usable, "share": rows["quantity"] / whole}
    return {**columns, "of_order": np.zeros(len(usable), np.bool_)}


def _put_together(shares: Rows) -> Rows:
    """The shares, those of one order as one; of what is passed on those for one demand."""
    outside = np.where(shares["from_id"] == OUTSIDE, shares["demand_id"], OUTSIDE)
    by = [shares["key"], shares["usable"], shares["from_id"], outside]
    order = in_order(*by)
    rows = at_places(shares, order)
    first = heads(*(column[order] for column in by))
    part = stretch_of(first, len(order))
    alone = np.bincount(part, minlength=len(first)) == 1
    one = at_places(rows, first)
    return {
        **one,
        "share": sums(rows["share"], part, len(first)),
        "quantity": sums(rows["quantity"], part, len(first)),
        "rank": np.minimum.reduceat(rows["rank"], first) if len(first) else one["rank"],
        "leaves": one["leaves"] & alone,
        "asked_id": np.where(alone, one["asked_id"], OUTSIDE),
        "demand_id": np.where(alone, one["demand_id"], SEVERAL),
    }


def component_needs(ground: Ground, shares: Rows, lines: Lines) -> Rows:
    """The needs that shares put on components through lines: the columns of NO_HANDED."""
    keys = ground.keys
    item = keys.item(shares["key"])
    line = at_places(lines.columns, each_repeated(lines.first[item], lines.count[item]))
    row = at_places(shares, np.repeat(np.arange(len(item)), lines.count[item]))
    serial = keys.serial(row["key"])
    due = np.maximum(row["usable"] - line["safety"], 0)
    start = np.maximum(row["usable"] - line["safety"] - line["lead"], 0)
    fits = ground.fits[line["condition"], serial]
    needs = {
        **row,
        "of": row["key"],
        "key": keys.of(line["child"]) + np.where(line["specific"], serial, 0),
        "day": np.maximum(np.minimum(start + line["offset"], due), 0),
        "quantity": line["factor"] * np.where(line["per_order"], row["share"], row["quantity"]),
    }
    kept = fits & (line["first_start"] <= start) & (start <= line["last_start"])
    return at_places({name: needs[name] for name in _HANDED}, kept)
