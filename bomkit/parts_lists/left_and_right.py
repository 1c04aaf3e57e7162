"""Names that stand for a left and a right item, such as RIB-L/R."""

import re

_SIDES = (
    ("links", "rechts"),
    ("gauche", "droite"),
    ("left", "right"),
    ("lh", "rh"),
    ("l", "r"),
    ("sx", "dx"),
    ("g", "d"),
)
_WORDS = "|".join(word for pair in _SIDES for word in pair)
_PAIR = re.compile(
    rf"(?P<base>.*[^A-Za-z0-9])(?P<one>{_WORDS})\s*/\s*(?P<other>{_WORDS})", re.IGNORECASE
)


def sides(item: str) -> tuple[str, ...]:
    """The items that a name stands for: two for a pair such as RIB-L/R or RIB-R/L, the left one
    first; else itself."""
    pair = _PAIR.fullmatch(item)
    if pair is None:
        return (item,)
    named = (pair["one"].lower(), pair["other"].lower())
    one, other = pair["base"] + pair["one"], pair["base"] + pair["other"]
    if named in _SIDES:
        return one, other
    return (other, one) if named[::-1] in _SIDES else (item,)
