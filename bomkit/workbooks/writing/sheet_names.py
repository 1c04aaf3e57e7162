"""Names that spreadsheets accept for sheets."""

import re
from collections.abc import Sequence

LONGEST = 31  # characters; a limit of the file format


def sheet_names(words: Sequence[str], taken: Sequence[str] = ()) -> dict[str, str]:
    """A sheet name for each of the words: allowed characters, short enough, none twice."""
    used = {name.casefold() for name in taken}
    names: dict[str, str] = {}
    for word in words:
        base = re.sub(r"[\[\]:*?/\\\x00-\x1f]", "-", word).strip("' ")[:LONGEST] or "-"
        name, number = base, 2
        while name.casefold() in used or name.casefold() == "history":
            ending = f" ({number})"
            name, number = base[: LONGEST - len(ending)] + ending, number + 1
        used.add(name.casefold())
        names[word] = name
    return names
