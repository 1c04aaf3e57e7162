"""A run looks for garbage seldom, and leaves that as it was."""

import gc

import pytest

from bomkit.runs.garbage import seldom_collected


def test_garbage_is_looked_for_seldom_within_and_as_usual_afterwards() -> None:
    usual = gc.get_threshold()
    with seldom_collected():
        assert gc.get_threshold()[0] > 100 * usual[0]
        assert gc.isenabled()
    assert gc.get_threshold() == usual


def test_garbage_is_looked_for_as_usual_after_a_run_that_fails() -> None:
    usual = gc.get_threshold()
    with pytest.raises(ValueError, match="fails"), seldom_collected():
        raise ValueError("fails")
    assert gc.get_threshold() == usual
