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
_OTHER = 1000
WIDEST = _OTHER / 1000  # of the size of the letters: no letter is wider


class _ByLetter(dict[str, int]):
    """The width of each letter."""

    def __missing__(self, letter: str) -> int:
        return _OTHER


_OF_LETTER = _ByLetter((letter, width) for width, each in _WIDTHS.items() for letter in each)
_OF_BOLD = _ByLetter(
    _OF_LETTER | {letter: width for width, each in _BOLD_WIDTHS.items() for letter in each}
)
_POINTS_OF_DIGIT = 5.25  # of the unit of column widths: seven of 96 to the inch


def room(width: float) -> float:
    """The points that words have in a column of this width."""
    return width * _POINTS_OF_DIGIT


def length(words: str, size: float, bold: bool = False) -> float:
    """How long words are, in points."""
    return thousandths(words, bold) * size / 1000


@lru_cache(maxsize=50_000)
def thousandths(words: str, bold: bool) -> int:
    """How long words are, in thousandths of the size of the letters."""
    return sum(map((_OF_BOLD if bold else _OF_LETTER).__getitem__, words))


def in_lines(words: str, points: float, size: float, bold: bool = False) -> list[str]:
    """The words in lines that are no longer than so many points, as spreadsheets break them."""
    if "\n" not in words and thousandths(words, bold) * size / 1000 <= points:
        return [words.lstrip(" ")]
    return [line for part in words.split("\n") for line in _broken(part, points, size, bold)]


def _broken(words: str, points: float, size: float, bold: bool) -> Iterator[str]:
    """The lines of words without a line break; a word that is longer goes on below."""
    parts, space = words.split(" "), thousandths(" ", bold)
    first = long = 0  # of the line that is not full yet
    for place, word in enumerate(parts):
        wide = thousandths(word, bold)
        longer = wide + long + space if long else wide
        if longer * size / 1000 <= points:
            first, long = (first if long else place), longer
            continue
        if long:
            yield " ".join(parts[first:place])
        *full, parts[place] = _cut(word, points, size, bold)
        first, long = place, thousandths(parts[place], bold)
        yield from full
    yield " ".join(parts[first:])


def _cut(word: str, points: float, size: float, bold: bool) -> list[str]:
    """A word in pieces that fit."""
    if thousandths(word, bold) * size / 1000 <= points:
        return [word]
    pieces, first, long = [], 0, 0
    for place, letter in enumerate(word):
        wide = thousandths(letter, bold)
        if long and (long + wide) * size / 1000 > points:
            pieces.append(word[first:place])
            first, long = place, 0
        long += wide
    return [*pieces, word[first:]]
