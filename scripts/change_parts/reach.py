"""A pytest plugin for tests of changed rules: the nearest tests are run first.

With `REACH` in the environment it writes which functions each test calls, and how long it takes;
with `ORDER` it runs the tests that are named there first, in that order. What several tests look
at is often made only once, by the first that asks, so tests that call nothing still follow.
"""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from change_parts.nearest import ORDER, REACH

_reached: dict[str, dict[str, Any]] = {}


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Notes the functions of the package that are called while a test runs."""
    if REACH not in os.environ:
        return (yield)
    package = str(Path.cwd() / "bomkit") + os.sep
    calls: dict[str, set[int]] = {}

    def note(frame: FrameType, event: str, argument: object) -> None:
        code = frame.f_code
        if code.co_filename.startswith(package):
            calls.setdefault(code.co_filename, set()).add(code.co_firstlineno)

    began = time.perf_counter()
    sys.settrace(note)
    try:
        return (yield)
    finally:
        sys.settrace(None)
        _reached[item.nodeid] = {
            "seconds": time.perf_counter() - began,
            "calls": {_below(name): sorted(lines) for name, lines in calls.items()},
        }


def _below(name: str) -> str:
    return Path(name).relative_to(Path.cwd()).as_posix()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Puts the nearest tests first."""
    if ORDER in os.environ:
        order = json.loads(Path(os.environ[ORDER]).read_text(encoding="utf-8"))
        place = {test: number for number, test in enumerate(order)}
        items.sort(key=lambda item: place.get(item.nodeid, len(place)))


def pytest_sessionfinish() -> None:
    """Writes what was noted."""
    if REACH in os.environ:
        Path(os.environ[REACH]).write_text(json.dumps(_reached), encoding="utf-8")
