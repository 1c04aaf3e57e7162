"""To whom spares orders go, and which of them leave together."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

from bomkit.workbooks.fleet.lines_of_a_box import asked_for
from bomkit.workbooks.report import Report

Promise = Mapping[str, Any]  # a row of promises
Consignee = tuple[str, str]  # customer and base; either may be empty


def leaving_together(report: Report) -> dict[tuple[Consignee, dt.date], list[Promise]]:
    """The rows of orders that leave on one day for one consignee, where these are several orders.

    An order that names neither a customer nor an aircraft with a base goes to nobody known.
    """
    aircraft = {row["serial"]: row for row in report.tables["fleet"].iter_rows(named=True)}
    leaving: dict[tuple[Consignee, dt.date], list[Promise]] = {}
    for promise in (
        report["promises"].sort("order", "item", "serial", "need_date").iter_rows(named=True)
    ):
        carrier = aircraft.get(promise["serial"], {})
        customer = asked_for(report, promise)["customer"] or carrier.get("customer", "")
        consignee = (customer, carrier.get("base", ""))
        if any(consignee) and promise["promise_date"] is not None:
            leaving.setdefault((consignee, promise["promise_date"]), []).append(promise)
    return {
        key: promises
        for key, promises in leaving.items()
        if len({promise["order"] for promise in promises}) > 1
    }
