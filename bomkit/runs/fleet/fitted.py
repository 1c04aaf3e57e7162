"""Which aircraft have an item or carry a lot: from the user's tables to rows; prints nothing."""

from pathlib import Path

import polars as pl

from bomkit.planning.fleet.fitted import Carriers, Wanted, carriers, configured_with
from bomkit.problems import Problem, ProblemsFound, of_whole
from bomkit.runs.checked_tables import sound_inputs
from bomkit.words.did_you_mean import nearest


def fitted_run(
    location: Path, lot: str, item: str, part_serial: str
) -> tuple[Carriers, list[Problem]]:
    """Who carries the lot, the item and the part named, with the warnings; "" does not count.

    Raises ProblemsFound where the data forbid it, or nothing of that name is known.
    """
    wanted = Wanted(lot, item, part_serial)
    tables, problems = _tables(location)
    known = {
        "item": tables["items"]["item"],
        "lot": pl.concat([tables[name]["lot"] for name in ("fitted", "stock")]),
        "part_serial": tables["fitted"]["part_serial"],
    }
    unknown = [
        of_whole(
            location,
            f"is no {name} that any table knows; {nearest(value, names) or 'look at the tables'}",
            value,
        )
        for name, column in known.items()
        for value in [getattr(wanted, name)]
        for names in [column.filter(column != "").unique().sort().to_list()]
        if value and value not in names
    ]
    if unknown:
        raise ProblemsFound(unknown)
    return carriers(tables, wanted), problems


def aircraft_with(location: Path, item: str) -> pl.DataFrame:
    """The aircraft whose configuration contains a known item, as planning.fleet.fitted says.

    Raises ProblemsFound where the data forbid it.
    """
    return configured_with(_tables(location)[0], [item])


def _tables(location: Path) -> tuple[dict[str, pl.DataFrame], list[Problem]]:
    inputs, problems = sound_inputs(location)
    return inputs.tables, problems
