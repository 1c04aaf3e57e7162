"""Which kinds of printer a part may go on: approved for it, and long enough for one plate."""

import math

from bomkit.tables.schema import Tables


def approved_kinds(tables: Tables) -> dict[str, tuple[str, ...]]:
    """By item in prints the kinds of printer that it is approved for and fits, as named there."""
    longest = {row["kind"]: row["plate_hours"] for row in tables["printers"].iter_rows(named=True)}
    approved = {}
    for item, hours, kinds in tables["prints"].select("item", "hours", "printers").iter_rows():
        fit = (kind for kind in kinds.split(" ") if hours <= (longest.get(kind, 0.0) or math.inf))
        approved[item] = tuple(dict.fromkeys(kind for kind in fit if kind in longest))
    return approved
