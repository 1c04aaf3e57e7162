"""Did you mean: which known name somebody meant who wrote another one."""

import difflib
from collections.abc import Iterable

_LEAST = 3  # letters of a beginning that tells something
_ALIKE = 0.6  # share of letters that agree, as difflib counts them; common practice, no source


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint that names the known word meant most likely; empty if none comes near.

    The only one that begins so, whatever stands between its words; else the one most alike.
    """
    by_folded = {name.casefold(): name for name in known}
    said = word.strip().casefold()
    letters = _letters(said)
    begun = [folded for folded in by_folded if _letters(folded).startswith(letters)]
    if len(begun) == 1 and len(letters) >= _LEAST:
        return _hint(by_folded[begun[0]])
    close = difflib.get_close_matches(said, by_folded, n=1, cutoff=_ALIKE)
    return _hint(by_folded[close[0]]) if close else ""


def _letters(word: str) -> str:
    """The letters and digits of a word alone."""
    return "".join(filter(str.isalnum, word))


def _hint(name: str) -> str:
    return f"did you mean {name}?"
