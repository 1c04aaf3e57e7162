"""Numbers of a list, which may bear their unit: which decimal mark is used, and what is none."""

import re
from collections.abc import Iterable

_PARTS = re.compile(r"([+-]?[0-9][0-9.,' \u00a0]*|[.,][0-9]+)\s*([^0-9\s].*)?", re.DOTALL)
_SURE_COMMA = re.compile(r"[0-9]*,(?:[0-9]{1,2}|[0-9]{4,})|0,[0-9]+|[0-9.]+\.[0-9]{3},[0-9]+")
_SURE_POINT = re.compile(r"[0-9]*\.(?:[0-9]{1,2}|[0-9]{4,})|0\.[0-9]+|[0-9,]+,[0-9]{3}\.[0-9]+")
_IN_DOUBT = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_PLAIN = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
MOST = 1e9


def split_number(text: str) -> tuple[str, str]:
    """The digits and the words behind them, as in '0,9 m2'; ("", text) if it starts otherwise."""
    parts = _PARTS.fullmatch(text.strip())
    return (parts[1].strip(), (parts[2] or "").strip()) if parts else ("", text.strip())


def decimal_mark(texts: Iterable[str]) -> str:
    """The mark that the numbers of a list use; "" if none of them tells, or they disagree."""
    numbers = [split_number(text)[0] for text in texts]
    comma = any(_SURE_COMMA.fullmatch(number) for number in numbers)
    point = any(_SURE_POINT.fullmatch(number) for number in numbers)
    return "" if comma == point else "," if comma else "."


def as_number(text: str, mark: str) -> float | None:
    """The number; None for what is none, or could be two (1,500), or is not above 0."""
    digits = split_number(text)[0]
    if not digits or (not mark and _IN_DOUBT.fullmatch(digits)):
        return None
    if mark == "," or (not mark and _SURE_COMMA.fullmatch(digits)):
        digits = digits.replace(".", "").replace(",", ".")
    elif "," in digits:
        if not re.fullmatch(r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?", digits):
            return None
        digits = digits.replace(",", "")
    if not _PLAIN.fullmatch(digits) or len(digits) > 30:
        return None
    value = float(digits)
    return value if 1e-9 <= value <= MOST else None
