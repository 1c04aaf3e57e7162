"""Writes the full-size sample: an invented maker of an invented two-seater, the same each time."""

import argparse
import sys
from pathlib import Path

from sample_parts.contents import fill_sample
from sample_parts.readme import readme_text
from sample_parts.writing import write_tables

from bomkit.problems import has_errors
from bomkit.runs.checked_tables import checked_inputs

SAMPLES = Path(__file__).resolve().parent.parent / "sample_boms"


def main() -> int:
    """Write the sample's folder; its tables are held against all checks first."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("folder", nargs="?", type=Path, default=SAMPLES / "fenlark")
    folder = arguments.parse_args().folder
    sample, troubles = fill_sample()
    write_tables(sample, folder)
    inputs, problems = checked_inputs(folder)
    if has_errors(problems):
        print(*problems, sep="\n")
        return 1
    page = readme_text(sample, inputs.tables, troubles)
    (folder / "README.md").write_text(page, encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
