"""How words and places are written in the members of a workbook."""

import re
from functools import cache
from pathlib import Path

_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")  # not XML
_SKELETONS = Path(__file__).with_name("skeletons")


@cache
def skeleton(name: str) -> str:
    """The text that is the same in all members of a kind, from the file of this name."""
    return (_SKELETONS / name).read_text("utf-8")


@cache
def _in_one_line(name: str) -> str:
    """A skeleton without the breaks and indents that make it readable."""
    return "".join(line.strip() for line in skeleton(name).splitlines())


def filled(name: str, /, **parts: object) -> str:
    """A skeleton, in one line, with its parts put in."""
    return _in_one_line(name).format(**parts)


def escaped(words: str) -> str:
    """Words as the content of an element; what cannot stand there becomes a space."""
    if not words.isprintable():  # which is quickly seen
        words = _FORBIDDEN.sub(" ", words)
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def attribute(words: str) -> str:
    """Words as the value of an attribute, in its quotation marks."""
    return '"' + escaped(words).replace('"', "&quot;") + '"'


@cache
def column_letter(number: int) -> str:
    """What the column of this number, counted from 1, is called."""
    before, last = divmod(number - 1, 26)
    return (column_letter(before) if before else "") + chr(ord("A") + last)


def area(left: int, top: int, right: int, bottom: int) -> str:
    """The cells of these columns and rows, counted from 1, wherever they are named from."""
    first, last = (f"${column_letter(x)}${y}" for x, y in ((left, top), (right, bottom)))
    return first if first == last else f"{first}:{last}"


def on_sheet(name: str, place: str) -> str:
    """A place on the sheet of this name."""
    return "'" + name.replace("'", "''") + "'!" + place
