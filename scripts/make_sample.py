"""Writes the full-size sample: an invented maker of an invented two-seater, the same each time."""

import argparse
from pathlib import Path

from sample_parts.checks import summary
from sample_parts.contents import fill_sample
from sample_parts.readme import readme_text
from sample_parts.writing import write_folder

SAMPLES = Path(__file__).resolve().parent.parent / "sample_boms"


def main() -> None:
    """Write the sample's folder and, if asked, print what is in it."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("folder", nargs="?", type=Path, default=SAMPLES / "fenlark")
    arguments.add_argument("--summary", action="store_true", help="print counts and checks")
    chosen = arguments.parse_args()
    sample, troubles = fill_sample()
    write_folder(sample, readme_text(sample, troubles), chosen.folder)
    if chosen.summary:
        print(summary(sample))


if __name__ == "__main__":
    main()
