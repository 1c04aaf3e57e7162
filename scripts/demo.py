"""Plans the full-size sample and says where the workbooks are.

Makes .venv at the first run; after that it takes a few seconds.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
from pathlib import Path

from setup_venv import ROOT, clean_environment, ready_python

SAMPLE = ROOT / "sample_boms" / "fenlark"


def main() -> int:
    """Plan the sample; the exit code of `bomkit plan`."""
    arguments = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    arguments.add_argument("--out", type=Path, default=ROOT / "out" / SAMPLE.name)
    out = arguments.parse_args().out
    python = ready_python()
    command = [str(python), "-m", "bomkit", "plan", _shown(SAMPLE), "--out", _shown(out)]
    print(f"\nbomkit {' '.join(command[3:])}\n", flush=True)
    command.append("--replace")  # what is there is the run of an earlier demo
    code = subprocess.run(command, cwd=ROOT, env=clean_environment(), check=False).returncode
    if code == 0:
        print(_where_to_look(out))
    return code


def _where_to_look(out: Path) -> str:
    """Which workbooks there are, in the order in which to open them."""
    first_week = sorted(folder.name for folder in out.iterdir() if "-W" in folder.name)[0]
    return f"""
All of it is invented; {_shown(SAMPLE)}/README.md tells the story. In {_shown(out)}, open

  1. overview.xlsx        first: work load, late orders, every item week by week
  2. shortages.xlsx       which airframe waits for what, what can start, when spares can leave
  3. {first_week}/make.xlsx   what the shops start this week, and what to draw from stores
     {first_week}/print.xlsx  what the printers make, plate by plate
     {first_week}/picks.xlsx  what stores hand out, day by day
     {first_week}/buy.xlsx    what to order, supplier by supplier
  4. kits/                what to pack for each spares order
"""


def _shown(path: Path) -> str:
    """The path as seen from the repository, if it lies in it."""
    path = path.resolve()
    return str(path.relative_to(ROOT)) if path.is_relative_to(ROOT) else str(path)


if __name__ == "__main__":
    sys.exit(main())
