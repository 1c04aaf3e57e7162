"""Which rows of the stock somebody may have taken from."""

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass

from bomkit.planning.closing.ledger import COUNTED, Ledger, Row
from bomkit.units import TOLERANCE
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount

_NO_DAY = dt.date.max


@dataclass(frozen=True)
class Taking:
    """What was taken: how much of which item, and what the list and the entry say about the lot.

    whom: the serials whose stock it may come from, besides stock that is kept for nobody.
    """

    item: str
    quantity: float
    listed_lot: str
    lot: str
    location: str
    whom: Collection[str]


def take(ledger: Ledger, entry: Row, column: str, lot_column: str, taking: Taking) -> bool:
    """Takes from the stock what an entry says was taken; says why it can't be so.

    From the lot entered, else the one listed (where the list named none: from any, what expires
    first in front); from the place listed first; from what is kept for somebody it is for first.
    Where lists print less than what is beyond, there was so much more: a difference that was
    counted.
    """
    lot = taking.lot or taking.listed_lot
    own = [row for row in ledger.stock if row["item"] == taking.item and lot in ("", row["lot"])]
    lasting = [row for row in own if (row["expires"] or _NO_DAY) >= ledger.week.start]
    of_lot = [row for row in lasting if row["status"] == "usable"]
    if lot and not of_lot:
        past = own and not lasting
        words = said.LOT_PAST if past else said.LOT_UNKNOWN
        ledger.refuse(entry, lot_column, words.format(item=taking.item, lot=lot))
        return False
    ours = [row for row in of_lot if row["serial"] in {"", *taking.whom}]
    there = sum(row["quantity"] for row in ours)
    beyond = taking.quantity - there
    if 0 < beyond <= ledger.printed(taking.item):
        ledger.log.append((taking.item, COUNTED, beyond))
    elif beyond > there * TOLERANCE:
        others = [row for row in of_lot if row not in ours]
        ledger.refuse(entry, column, _too_little(there, others))
        return False
    in_turn = sorted(ours, key=lambda row: _turn(row, taking))
    ledger.take(in_turn, min(taking.quantity, there))
    return True


def _turn(row: Row, taking: Taking) -> tuple[bool, bool, dt.date, bool, str, str]:
    """What sorts rows of the stock in the order in which they are taken from."""
    elsewhere = bool(taking.location) and row["location"] != taking.location
    other_lot = not taking.lot and row["lot"] != taking.listed_lot
    expires = row["expires"] or _NO_DAY
    return other_lot, elsewhere, expires, not row["serial"], row["location"], row["lot"]


def _too_little(there: float, others: list[Row]) -> str:
    """That there was not so much, and for whom the rest is kept."""
    if not others:
        return said.MORE_THAN_THERE.format(there=amount(there))
    kept = amount(sum(row["quantity"] for row in others))
    whom = ", ".join(sorted({row["serial"] for row in others}))
    return said.KEPT_FOR_OTHERS.format(there=amount(there), kept=kept, whom=whom)
