"""Names that refer to another table: each must stand there."""

from collections.abc import Mapping

import polars as pl

from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding
from bomkit.tables.schema import Column, Tables
from bomkit.words.did_you_mean import nearest

Texts = Mapping[str, TextTable]

MOST_HINTS = 20  # different values of a column for which the nearest name is looked up
MOST_COMPARED = 100_000  # names compared for them; half a second at most is spent on a column


def find_dangling(text: TextTable, column: Column, texts: Texts, frames: Tables) -> list[Finding]:
    """Cells of a referring column whose value stands in none of the columns referred to.

    Nothing is said where all those tables are missing, or one of them could not be read whole.
    """
    targets = [target.split(".") for target in column.refers_to]
    given = [texts[table] for table, _ in targets if texts[table].given]
    if not given or not all(target.complete for target in given):
        return []
    frame = frames[text.table.name]
    everything = {value for table, name in targets for value in frames[table][name].to_list()}
    if everything.issuperset(set(frame[column.name].to_list()) - {None, ""}):
        return []
    known = pl.concat([frames[table][name].rename("known") for table, name in targets]).unique()
    values = frame.select("row", value=pl.col(column.name).fill_null(""))
    dangling = values.filter((pl.col("value") != "") & ~pl.col("value").is_in(known.implode()))
    messages = _dangling_messages(dangling["value"], known, [table for table, _ in targets])
    return [
        Finding(text.table.name, row, column.name, value, messages[value])
        for row, value in dangling.sort("row").iter_rows()
    ]


def _dangling_messages(dangling: pl.Series, known: pl.Series, tables: list[str]) -> dict[str, str]:
    """For each dangling value where it is missing, and the nearest known one."""
    places = (
        f"is not in {tables[0]}" if len(tables) == 1 else f"is in neither {' nor '.join(tables)}"
    )
    advice = f"add it to {' or '.join(tables)}, or correct it here"
    names = known.drop_nulls().sort().to_list()
    most_hints = min(MOST_HINTS, 1 + MOST_COMPARED // (len(names) + 1))
    messages = {}
    for place, value in enumerate(dangling.unique().sort()):
        hint = nearest(value, names) if place < most_hints else ""
        messages[value] = f"{places}; {hint or advice}"
    return messages
