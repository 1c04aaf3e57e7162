"""What was counted on the shelves."""

from bomkit.planning.closing.ledger import COUNTED, LIKELY_A_SLIP, Ledger, Row, tidy
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount

SCRAPPED = "scrapped"
_A_HANDFUL, _A_LITTLE = 10.0, 1.0  # of pieces, and of what is measured, in its unit: never a slip
_KEY = ("item", "serial", "location", "lot", "status", "expires")


def book_counts(ledger: Ledger) -> None:
    """The stock is what was counted, whatever else was filled in: a count has the last word.

    What is found less of stock that can't be used (on hold, in quarantine, past its last day when
    the next plan begins) was scrapped on the shelf; every other difference is told as counted.
    """
    known = {_key(row) for row in ledger.week.inputs["stock"].iter_rows(named=True)}
    known |= {_key(row) for row in ledger.stock}
    for entry in ledger.week.filled("counted"):
        if entry["counted"] is None:
            continue
        if _key(entry) not in known:
            ledger.refuse(entry, "counted", said.COUNT_UNKNOWN)
        elif ledger.countable(entry, entry["item"], ["counted"]):
            _set(ledger, entry)


def _key(row: Row) -> tuple[object, ...]:
    return tuple(row[name] for name in _KEY)


def _note_far_more(ledger: Ledger, entry: Row, books: float) -> None:
    """Says of a count that it is more than ten times what the books say, and more than a little."""
    item, counted = entry["item"], entry["counted"]
    little = _A_HANDFUL if ledger.is_whole(item) else _A_LITTLE
    if counted > LIKELY_A_SLIP * books and counted - books > little:
        words = said.FAR_MORE_COUNTED.format(books=amount(books), unit=ledger.unit(item))
        ledger.note(entry, "counted", words)


def _set(ledger: Ledger, entry: Row) -> None:
    own = [row for row in ledger.stock if _key(row) == _key(entry)]
    before = sum(row["quantity"] for row in own)
    difference = entry["counted"] - before
    _note_far_more(ledger, entry, before)
    for row in own[1:]:
        row["quantity"] = 0.0
    if own:
        own[0]["quantity"] = entry["counted"]
    elif entry["counted"]:
        ledger.put({**{name: entry[name] for name in _KEY}, "quantity": entry["counted"]})
    if entry["counted"] == 0 or own[1:]:
        ledger.rows["stock"] = [row for row in ledger.stock if row["quantity"] or row not in own]
    useless = entry["status"] != "usable" or (
        entry["expires"] is not None and entry["expires"] <= ledger.week.ends
    )
    kind = SCRAPPED if useless and difference < 0 else COUNTED
    if difference:
        ledger.log.append(
            (entry["item"], kind, tidy(abs(difference) if kind == SCRAPPED else difference))
        )
