"""The pulls of moulds."""

from collections.abc import Mapping

from bomkit.planning.closing.ledger import Ledger, Row, tidy
from bomkit.planning.closing.worked import Worked
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount


def book_pulls(ledger: Ledger, worked: Mapping[str, Worked]) -> None:
    """Moulds have fewer pulls left: as filled in, else one for each piece that was begun."""
    begun: dict[str, float] = {}
    for each in worked.values():
        if each.planned is not None:
            item = each.planned["item"]
            begun[item] = begun.get(item, 0.0) + each.begun
    told: set[str] = set()
    for entry in ledger.week.filled("pulled"):
        own = _moulds_named(ledger, entry["item"])
        if not own:
            ledger.refuse(entry, "item", said.PULLED_FROM_NOWHERE)
        elif entry["pulls"] is not None:
            _wear(ledger, own, float(entry["pulls"]), entry)
            told.update(row["mould"] for row in own)
    for item, pulls in sorted(begun.items()):
        own = [row for row in ledger.rows["moulds"] if row["item"] == item]
        silent = [row for row in own if row["mould"] not in told]
        if silent:
            _wear(ledger, silent, pulls * _rate(silent) / _rate(own), None)


def _moulds_named(ledger: Ledger, name: str) -> list[Row]:
    """The mould of that number, else those of that item."""
    moulds = ledger.rows["moulds"]
    numbered = [row for row in moulds if row["mould"] == name]
    return numbered or [row for row in moulds if row["item"] == name]


def _rate(moulds: list[Row]) -> float:
    return float(sum(row["count"] * row["pulls_per_week"] for row in moulds))


def _wear(ledger: Ledger, moulds: list[Row], pulls: float, entry: Row | None) -> None:
    """Takes pulls from moulds, shared by their pulls a week; those that last are not counted."""
    alive = [row for row in moulds if row["pulls_left"] is None or row["pulls_left"] > 0] or moulds
    beyond = 0.0
    for row in alive:
        if row["pulls_left"] is None:
            continue
        own = pulls * _rate([row]) / _rate(alive)
        beyond += max(0.0, own - row["pulls_left"])
        row["pulls_left"] = tidy(max(0.0, row["pulls_left"] - own), row["pulls_left"])
    if entry is not None and beyond > 1e-6:
        ledger.note(entry, "pulls", said.WORN.format(over=amount(beyond)))
