"""What only the tables as a whole show, once each holds by itself: gathered from modules here."""

from collections.abc import Iterable, Iterator

import polars as pl

from bomkit.checks.by_serial.configured import configured_checks
from bomkit.checks.by_serial.fitting import misfit_findings
from bomkit.checks.by_serial.untold_inspections import untold_inspection_checks
from bomkit.checks.by_subject.horizon import horizon_findings
from bomkit.checks.by_subject.loops_and_unused import (
    item_checks,
    links_between_items,
    loop_findings,
)
from bomkit.checks.by_subject.odd_days_and_pieces import (
    far_date_checks,
    nothing_within_findings,
    past_to_come_checks,
    whole_piece_checks,
)
from bomkit.checks.by_subject.price_rules import holding_findings
from bomkit.checks.row_check import RowCheck
from bomkit.planning.structure.levels import low_level_codes
from bomkit.planning.structure.options_and_serials import serial_specific_items
from bomkit.problems import Finding
from bomkit.tables.schema import Tables


def structure_findings(tables: Tables) -> list[Finding]:
    """Everything wrong with the structure, the serials and the horizon.

    tables: typed; a cell that could not be read is null and gives no further finding.
    """
    tables = {**tables, "items": tables["items"].filter(pl.col("item").is_not_null())}
    links = links_between_items(tables)
    levels = low_level_codes(tables["items"]["item"].unique(), links)
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    return [
        *loop_findings(levels, links),
        # round a loop everything goes into everything, so it is left open what is configured
        *_findings_of(configured_checks(tables, specific) if levels.tangled.is_empty() else []),
        *_findings_of(item_checks(tables)),
        *horizon_findings(tables, levels, links),
        *nothing_within_findings(tables),
        *holding_findings(tables),
        *_findings_of(past_to_come_checks(tables)),
        *_findings_of(far_date_checks(tables)),
        *_findings_of(whole_piece_checks(tables)),
        *_findings_of(untold_inspection_checks(tables)),
        *misfit_findings(tables, specific),
    ]


def _findings_of(checks: Iterable[RowCheck]) -> Iterator[Finding]:
    """What the checks find."""
    for check in checks:
        yield from check.findings()
