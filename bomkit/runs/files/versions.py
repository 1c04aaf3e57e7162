"""With what a run was planned: two runs by the same of it plan the same tables the same way."""

import hashlib
from functools import cache
from pathlib import Path

import polars as pl

import bomkit

_RULES = ("planning", "tables", "units.py")  # what a plan of checked tables depends on


@cache
def versions() -> dict[str, str]:
    """The versions of bomkit and polars, and a digest over the rules as they stand here, which may
    be changed without another version."""
    return {"bomkit": bomkit.__version__, "polars": pl.__version__, "rules": _rules()}


def _rules() -> str:
    """The SHA-256 of all modules of the rules with their places."""
    package = Path(bomkit.__file__).parent
    told = hashlib.sha256()
    for name in _RULES:
        place = package / name
        for module in sorted(place.rglob("*.py")) if place.is_dir() else [place]:
            told.update(f"{module.relative_to(package).as_posix()}\n".encode())
            told.update(module.read_bytes())
    return told.hexdigest()
