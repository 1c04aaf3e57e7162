"""What must agree between tables, whichever row it is: gathered here, each found by its module."""

from collections.abc import Mapping

from bomkit.checks.by_serial.options import find_unknown_options
from bomkit.checks.by_serial.serial_numbers import find_bad_serial_ranges, find_built_and_delivered
from bomkit.checks.by_subject.price_rules import find_price_problems
from bomkit.checks.by_subject.print_rules import find_print_problems
from bomkit.checks.by_subject.references import find_dangling
from bomkit.checks.by_subject.units_agree import find_other_dimensions
from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding
from bomkit.tables.schema import Tables


def find_disagreements(texts: Mapping[str, TextTable], frames: Tables) -> list[Finding]:
    """Every disagreement between the tables; what could not be read is not held against them."""
    findings = [
        finding
        for text in texts.values()
        if not text.frame.is_empty()
        for column in text.table.columns
        if column.refers_to and column.name in text.frame.columns
        for finding in find_dangling(text, column, texts, frames)
    ]
    findings += find_other_dimensions(frames)
    findings += find_bad_serial_ranges(frames)
    findings += find_built_and_delivered(texts, frames)
    findings += find_unknown_options(texts, frames)
    findings += find_print_problems(texts, frames)
    findings += find_price_problems(frames)
    return findings
