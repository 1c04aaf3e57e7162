"""What an import prints: the guess with sample rows, and what the list changes."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from bomkit.parts_lists.columns import Columns
from bomkit.parts_lists.list_as_found import Line
from bomkit.parts_lists.merge import Merged
from bomkit.words.screens import import_list as said

_SHOWN = 12


def guess_lines(columns: Columns, samples: Sequence[Line], first: Path) -> Iterator[str]:
    """What each column was taken for, how sure that is, and three lines read by it."""
    yield said.LIST_GUESS.format(
        shape=columns.shape, row=columns.heading_row, sure=columns.sure, means=columns.means
    )
    if columns.level_columns:
        yield f"  {said.LIST_LEVELS:<12} {' | '.join(columns.level_columns)}"
    for role, heading in columns.where.items():
        yield f"  {role:<12} {heading}"
    for line in samples:
        amount = "" if line.quantity is None else f"{line.quantity:g} {line.unit}"
        yield f"  {line.row:>5}  {line.depth}  {line.item}  {amount}  {line.description}".rstrip()
    yield said.LIST_COLUMNS.format(file=f"{first.stem}.columns.toml")


def report_lines(
    merged: Merged, skipped: Sequence[tuple[str, int]], dropped: bool
) -> Iterator[str]:
    """What is new, changed and gone, a few of each, and which rows were passed over."""
    gone = said.LIST_DROPPED if dropped else said.LIST_GONE
    parts = (
        (said.LIST_NEW, merged.new),
        (said.LIST_CHANGED, merged.changed),
        (gone, merged.gone),
    )
    for words, lines in parts:
        yield words.format(count=len(lines))
        yield from (f"  {line}" for line in lines[:_SHOWN])
        if len(lines) > _SHOWN:
            yield said.LIST_MORE.format(count=len(lines) - _SHOWN)
    if skipped:
        rows = ", ".join(str(row) for _, row in skipped[:_SHOWN])
        yield said.LIST_SKIPPED.format(count=len(skipped), rows=rows)
