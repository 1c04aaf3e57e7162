"""Airframes that were delivered: from the build plan to the fleet."""

from bomkit.planning.closing.ledger import Ledger, Row
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.words.problems import closing as said


def book_deliveries(ledger: Ledger) -> None:
    """An airframe that is finished leaves the stock and the build plan, and is in the fleet."""
    for entry in ledger.week.filled("delivered"):
        if entry["delivered_on"] is None:
            continue
        plan = next((r for r in ledger.rows["build_plan"] if r["serial"] == entry["serial"]), None)
        if plan is None:
            ledger.refuse(entry, "serial", said.NOT_ON_THE_LINE)
            continue
        built = [row for row in ledger.stock if _is_it(row, plan)]
        if not built:
            words = said.NOT_BUILT.format(serial=plan["serial"], item=plan["item"])
            ledger.refuse(entry, "delivered_on", words)
        elif entry["delivered_on"] > ledger.week.ends:
            ledger.refuse(entry, "delivered_on", said.NOT_YET.format(last=ledger.week.ends))
        else:
            ledger.note_if_before(entry, "delivered_on")
            ledger.take(built[:1], 1.0)
            _hand_over(ledger, entry, plan)


def _is_it(row: Row, plan: Row) -> bool:
    """Whether a row of the stock is this airframe, finished and usable."""
    same = all(row[name] == plan[name] for name in ("item", "serial"))
    return same and row["status"] == "usable" and row["quantity"] >= 1


def _hand_over(ledger: Ledger, entry: Row, plan: Row) -> None:
    serial = plan["serial"]
    ledger.rows["build_plan"] = [row for row in ledger.rows["build_plan"] if row is not plan]
    known = {name: plan[name] for name in ("serial", "item", "options")}
    handed = {**known, "delivered": entry["delivered_on"]}
    ledger.rows["fleet"].append({**INPUTS["fleet"].when_empty, **handed})
    kept = [row["item"] for row in ledger.stock if row["serial"] == serial]
    kept += [row["order"] for row in ledger.rows["open_orders"] if row["serial"] == serial]
    if kept:
        words = said.LEFT_BEHIND.format(what=", ".join(sorted(set(kept))))
        ledger.note(entry, "serial", words)
