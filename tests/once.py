"""What takes long and several tests look at, made once for all workers of a test run."""

import os
import pickle
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import pytest

Made = TypeVar("Made")
LONGEST_WAIT = 300  # seconds for which a worker waits for what another one makes


def once(places: pytest.TempPathFactory, name: str, made_in: Callable[[Path], Made]) -> Made:
    """What `made_in` makes in a folder of its own, made by the worker that asks first.

    name: a file name, other for each thing. The others wait and read what the first has pickled.
    """
    base = places.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    folder, pickled = shared / name, shared / f"{name}.pickle"
    try:
        folder.mkdir()
    except FileExistsError:
        return _awaited(pickled)
    unfinished = shared / f"{name}.unfinished"
    try:
        made = made_in(folder)
    except BaseException:
        _write_whole(unfinished, pickled, None)
        raise
    _write_whole(unfinished, pickled, made)
    return made


def _write_whole(unfinished: Path, pickled: Path, made: object) -> None:
    """Writes a pickle so that nobody sees half of it."""
    unfinished.write_bytes(pickle.dumps(made))
    unfinished.replace(pickled)


def _awaited(pickled: Path) -> Any:
    """What another worker makes, as soon as it is there."""
    until = time.monotonic() + LONGEST_WAIT
    while not pickled.exists():
        assert time.monotonic() < until, f"{pickled.stem}: nobody has made it"
        time.sleep(0.02)
    made = pickle.loads(pickled.read_bytes())
    assert made is not None, f"{pickled.stem}: the worker that made it failed"
    return made
