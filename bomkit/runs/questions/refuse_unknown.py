"""Whether what is asked about is there at all."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from bomkit.problems import ProblemsFound, of_whole
from bomkit.words.did_you_mean import nearest


def refuse_unknown(
    where: Path, whose: str, asked: Iterable[tuple[str, str, Sequence[str]]]
) -> None:
    """Raises ProblemsFound if a value asked for is not among the known ones, with the nearest.

    whose: such as "these tables"; asked: what it is, such as "item", the value, what is known.
    """
    unknown = []
    for what, value, known in asked:
        if value not in known:
            hint = nearest(value, known) or "look at how it is written there"
            unknown.append(of_whole(where, f"is no {what} of {whose}; {hint}", value))
    if unknown:
        raise ProblemsFound(unknown)
