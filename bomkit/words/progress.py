"""Words while something is worked out, for whoever waits in front of a screen."""

from collections.abc import Callable

Tell = Callable[[str], None]  # is given what is being done


def silent(words: str) -> None:
    """Tells nobody."""
