"""A command works on one thread, seldom looks for garbage, ends without a look, is never mute."""

import gc
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from bomkit.cli import main
from tests.samples import TINY

POLARS = "POLARS_MAX_THREADS"
FULL = Path("/dev/full")
ENDING = """
import atexit, gc
atexit.register(lambda: print(gc.get_freeze_count()))
import bomkit.cli
"""  # what is registered first is called last

ON_ONE_THREAD = """
import sys
from bomkit.cli import main
from click import Command
def look():
    assert not {"polars", "numpy"} & set(sys.modules), "they ask for threads when first imported"
    import os, polars
    print(polars.thread_pool_size(), os.environ["OPENBLAS_NUM_THREADS"])
main.add_command(Command("look", callback=look))
main(["look"])
"""


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


@pytest.mark.parametrize(("asked", "given"), [({}, ["1", "1"]), ({POLARS: "3"}, ["3", "1"])])
def test_every_command_works_on_one_thread_unless_asked_otherwise(
    asked: dict[str, str], given: list[str]
) -> None:
    bare = {name: told for name, told in os.environ.items() if not name.endswith("_THREADS")}
    done = subprocess.run(
        [sys.executable, "-c", ON_ONE_THREAD],
        capture_output=True,
        text=True,
        check=True,
        env=bare | asked,
    )
    assert done.stdout.split() == given


def test_a_character_that_the_screen_lacks_is_printed_as_another_one() -> None:
    words = [sys.executable, "-m", "bomkit", "tree", str(TINY), "rudder"]
    said = subprocess.run(
        words, capture_output=True, check=True, env={**os.environ, "PYTHONIOENCODING": "cp1252"}
    )
    assert b"??? rudder-skin  2 pc" in said.stdout and said.stderr == b""


@pytest.mark.skipif(not FULL.exists(), reason="there is no disk that is always full")
def test_where_nothing_can_be_printed_that_is_said() -> None:
    words = [sys.executable, "-m", "bomkit", "tree", str(TINY), "rudder"]
    with FULL.open("wb") as full:
        ended = subprocess.run(words, stdout=full, stderr=subprocess.PIPE, text=True)
    assert ended.returncode == 1
    assert ended.stderr == "Error: can't print here: No space left on device\n"
