"""The structure of the unfinished sample as frames, for what bomkit's own planning says of it."""

import polars as pl

from bomkit.planning.structure.levels import low_level_codes
from bomkit.planning.structure.options_and_serials import CONDITIONS, serial_specific_items
from sample_parts.model import Sample


def serial_specific(sample: Sample) -> set[str]:
    """The items that are planned for each serial number of their own."""
    columns = ("parent", "child", *CONDITIONS)
    lines = [{name: getattr(line, name) for name in columns} for line in sample.structure]
    airframes = pl.DataFrame({"item": [row.item for row in sample.build_plan]})
    return set(serial_specific_items(pl.DataFrame(lines), airframes))


def levels(sample: Sample) -> dict[str, int]:
    """Each item's low-level code; ValueError if there is a loop."""
    links = [(line.parent, line.child) for line in sample.structure]
    links += [(row.old, row.new) for row in sample.replacements]
    frame = pl.DataFrame(links, schema=["parent", "child"], orient="row")
    found = low_level_codes(pl.Series("item", list(sample.items)), frame)
    if len(found.tangled):
        raise ValueError("the structure has a loop")
    return dict(found.codes.iter_rows())
