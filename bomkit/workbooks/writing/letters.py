"""How wide words are in print, so that rows are as high as what stands in them needs.

The widths are those of the standard sans-serif letters that page description languages publish
(thousandths of the size of the letters); Arial has the same. What is not among them counts as wide
as a capital M.
"""

from collections.abc import Iterator
from functools import lru_cache

_WIDTHS = {
    191: "'",
    222: "ijl",
    260: "|",
    278: " !,./:;I[\\]ft\u00a0·",
    333: "()-`r{}‘’",
    355: '"',
    389: "*",
    400: "°",
    469: "^",
    500: "Jcksvxyz",
    556: "#$0123456789?L_abdeghnopqu–",
    584: "+<=>~×±÷",
    604: "■□●○",
    611: "FTZ",
    667: "&ABEKPSVXY",
    722: "CDHNRUw",
    778: "GOQ",
    833: "Mm",
    889: "%",
    850: "☐✓◆",
    944: "W",
    990: "▲",
}
_BOLD_WIDTHS = {
    278: " ,./I\\ijl|\u00a0·",
    333: "!():;-[]`ft‘’",
    389: "r*{}",
    500: "z",
    556: "#$0123456789J_aceksvxy–",
    611: "?FLTZbdghnopqu",
    667: "EPSVXY",
    722: "&ABCDHKNRU",
    778: "GOQw",
    889: "%m",
}
_OF_LETTER = {letter: width for width, letters in _WIDTHS.items() for letter in letters}
_OF_BOLD = _OF_LETTER | {
    letter: width for width, letters in _BOLD_WIDTHS.items() for letter in letters
}
_OTHER = 1000
_POINTS_OF_DIGIT = 5.25  # of the unit of column widths: seven of 96 to the inch


def room(width: float) -> float:
    """The points that words have in a column of this width."""
    return width * _POINTS_OF_DIGIT


def length(words: str, size: float, bold: bool = False) -> float:
    """How long words are, in points."""
    return _thousandths(words, bold) * size / 1000


@lru_cache(maxsize=50_000)
def _thousandths(words: str, bold: bool) -> int:
    widths = _OF_BOLD if bold else _OF_LETTER
    return sum(widths.get(letter, _OTHER) for letter in words)


def in_lines(words: str, points: float, size: float, bold: bool = False) -> list[str]:
    """The words in lines that are no longer than so many points, as spreadsheets break them."""
    return [line for part in words.split("\n") for line in _broken(part, points, size, bold)]


def _broken(words: str, points: float, size: float, bold: bool) -> Iterator[str]:
    """The lines of words without a line break; a word that is longer goes on below."""
    line, long, space = "", 0, _thousandths(" ", bold)
    for word in words.split(" "):
        longer = _thousandths(word, bold) + (long + space if line else 0)
        if longer * size / 1000 <= points:
            line, long = (f"{line} {word}" if line else word), longer
            continue
        if line:
            yield line
        *full, line = _cut(word, points, size, bold)
        long = _thousandths(line, bold)
        yield from full
    yield line


def _cut(word: str, points: float, size: float, bold: bool) -> list[str]:
    """A word in pieces that fit."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and length(pieces[-1] + letter, size, bold) > points:
            pieces.append("")
        pieces[-1] += letter
    return pieces
