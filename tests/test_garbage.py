"""A command looks for garbage seldom, and leaves that as it was."""

import gc
from collections.abc import Iterator

import click
import pytest
from click.testing import CliRunner

from bomkit.cli import main
from bomkit.commands.garbage import seldom_collected


@pytest.fixture
def usual() -> Iterator[tuple[int, int, int]]:
    """The thresholds that Python begins with; the suite has its own."""
    of_suite = gc.get_threshold()
    gc.set_threshold(700, 10, 10)
    yield gc.get_threshold()
    gc.set_threshold(*of_suite)


def test_garbage_is_looked_for_seldom_within_and_as_usual_afterwards(
    usual: tuple[int, int, int],
) -> None:
    with seldom_collected():
        assert gc.get_threshold()[0] > 100 * usual[0]
        assert gc.isenabled()
    assert gc.get_threshold() == usual


def test_garbage_is_looked_for_as_usual_after_a_run_that_fails(
    usual: tuple[int, int, int],
) -> None:
    with pytest.raises(ValueError, match="fails"), seldom_collected():
        raise ValueError("fails")
    assert gc.get_threshold() == usual


def test_every_command_looks_for_garbage_seldom(usual: tuple[int, int, int]) -> None:
    seen = []
    look = click.Command("look", callback=lambda: seen.append(gc.get_threshold()[0]))
    main.add_command(look)
    try:
        CliRunner().invoke(main, ["look"], catch_exceptions=False)
    finally:
        del main.commands["look"]
    assert seen[0] > 100 * usual[0]
    assert gc.get_threshold() == usual
