"""A run looks for garbage seldom, and leaves that as it was."""

import gc
from collections.abc import Iterator

import pytest

from bomkit.runs.garbage import seldom_collected


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
