"""Names that stand for a left and a right item, such as RIB-L/R."""

import re

_SIDES = (
    ("links", "rechts"),
    ("left", "right"),
    ("lh", "rh"),
    ("l", "r"),
    ("sx", "dx"),
    ("g", "d"),
)
_PAIR = re.compile(
    rf"(?P<base>.*[^A-Za-z0-9])(?P<one>{'|'.join(one for one, _ in _SIDES)})\s*/\s*"
    rf"(?P<other>{'|'.join(other for _, other in _SIDES)})",
    re.IGNORECASE,
)


def sides(item: str) -> tuple[str, ...]:
    """The items that a name stands for: two for a pair such as RIB-L/R, else itself."""
    pair = _PAIR.fullmatch(item)
    if not pair or (pair["one"].lower(), pair["other"].lower()) not in _SIDES:
        return (item,)
    return pair["base"] + pair["one"], pair["base"] + pair["other"]
