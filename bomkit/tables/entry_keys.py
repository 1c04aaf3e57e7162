"""What ties a cell that somebody fills in to its row of a run: words in a hidden column.

The heading of the column names the run and what is filled in where; each row that can be filled in
has a key: what it is by the columns of its kind of entry, and what its visible cells show. Both end
in check digits over the run, so that a key that was edited, or is of another run, is noticed.
"""

import datetime as dt
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass

from bomkit.tables.filled_in_tables import ENTRIES

HEAD_MARK, ROW_MARK = "bomkit-sheet:", "bomkit-row:"  # in front, so that no program makes numbers
RUN_NAME, LISTS_WRITTEN = "run_id", "lists_filled_in"  # properties of a workbook
_DIGITS = 12  # of the check
_TELLING = json.JSONEncoder(ensure_ascii=False, default=dt.date.isoformat)


@dataclass(frozen=True)
class SheetHead:
    """What can be filled into a sheet.

    rows: how many rows can be; fills: by column of the entry the heading below which it is filled
    in; shows: headings of the cells that a row's key repeats.
    """

    run_id: str
    kind: str
    rows: int
    fills: Mapping[str, str]
    shows: Sequence[str]

    def words(self) -> str:
        """What stands above the keys."""
        told = json.dumps(asdict(self), ensure_ascii=False)
        return f"{HEAD_MARK}{_check(told)}:{told}"


@dataclass(frozen=True)
class RowKey:
    """Which row it is: the key columns of its kind of entry, and what its cells show as text."""

    values: Sequence[object]
    shown: Sequence[str]


def head_of(words: str) -> SheetHead | None:
    """What stands above keys, read back; None where it was edited."""
    check, _, told = words.removeprefix(HEAD_MARK).partition(":")
    if check != _check(told):
        return None
    return SheetHead(**json.loads(told))


def row_words(head: SheetHead, key: RowKey) -> str:
    """The key of a row as it stands in its cell."""
    told = _TELLING.encode([list(key.values), list(key.shown)])
    return f"{ROW_MARK}{_row_check(head, told)}:{told}"


def key_of(head: SheetHead, words: str) -> RowKey | None:
    """The key of a row, read back; None where it was edited, or is of another sheet or run."""
    check, _, told = words.removeprefix(ROW_MARK).partition(":")
    if not words.startswith(ROW_MARK) or check != _row_check(head, told):
        return None
    values, shown = json.loads(told)
    columns = map(ENTRIES[head.kind].column, ENTRIES[head.kind].key)
    kinds = [column.kind for column in columns]
    return RowKey([_typed(value, kind) for value, kind in zip(values, kinds, strict=True)], shown)


def _typed(value: object, kind: str) -> object:
    if value is None or kind != "date":
        return value
    return dt.date.fromisoformat(str(value))


def _row_check(head: SheetHead, told: str) -> str:
    return _check(f"{head.run_id}/{head.kind}/{told}")


def _check(told: str) -> str:
    return hashlib.sha256(told.encode()).hexdigest()[:_DIGITS]
