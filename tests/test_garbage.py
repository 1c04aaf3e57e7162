"""A command looks for garbage seldom, and its process ends without another look."""

import gc
import subprocess
import sys
from collections.abc import Iterator

import click
import pytest
from click.testing import CliRunner

from bomkit.cli import main

ENDING = """
import atexit, gc
atexit.register(lambda: print(gc.get_freeze_count()))
import bomkit.cli
"""  # what is registered first is called last


@pytest.fixture
def usual() -> Iterator[tuple[int, int, int]]:
    """The thresholds that Python begins with; the suite has its own."""
    of_suite = gc.get_threshold()
    gc.set_threshold(700, 10, 10)
    yield gc.get_threshold()
    gc.set_threshold(*of_suite)


def test_every_command_looks_for_garbage_seldom(usual: tuple[int, int, int]) -> None:
    seen = []
    look = click.Command("look", callback=lambda: seen.append(gc.get_threshold()))
    main.add_command(look)
    try:
        CliRunner().invoke(main, ["look"], catch_exceptions=False)
    finally:
        del main.commands["look"]
    assert seen[0][0] > 1000 * usual[0]
    assert seen[0][1:] == usual[1:]
    assert gc.isenabled()


def test_all_objects_are_left_alone_when_a_process_ends() -> None:
    done = subprocess.run(
        [sys.executable, "-c", ENDING], capture_output=True, text=True, check=True
    )
    assert int(done.stdout) > 1000
