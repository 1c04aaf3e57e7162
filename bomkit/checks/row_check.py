"""Checks that say the same of each row they find."""

from dataclasses import dataclass

import polars as pl

from bomkit.problems import Finding, Severity


@dataclass(frozen=True)
class RowCheck:
    """Rows of a table in which something can't hold, and what to say of each.

    column: which the findings point at, with what stands there.
    message: what must hold, and what to try; names of columns in braces stand for their values.
    """

    table: str
    column: str
    rows: pl.DataFrame
    message: str
    severity: Severity = "error"

    def findings(self) -> list[Finding]:
        """One finding for each of the rows."""
        return [
            Finding(
                self.table,
                row["row"],
                self.column,
                "" if row[self.column] is None else str(row[self.column]),
                self.message.format_map(row),
                self.severity,
            )
            for row in self.rows.iter_rows(named=True)
        ]
