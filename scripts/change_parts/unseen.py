"""Changes that are declared as changing nothing, each with its reason, in unseen_changes.toml."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

DECLARED = Path(__file__).with_name("unseen_changes.toml")


@dataclass(frozen=True)
class Unseen:
    """Changes in a module ("*": any), of some kinds, on lines on which some words stand."""

    module: str
    what: tuple[str, ...]
    line: str

    def means(self, module: str, what: str, line: str) -> bool:
        """Whether a change is meant; line: as the module has it."""
        return self.module in ("*", module) and what in self.what and self.line in line


def declared(folders: list[Path]) -> list[Unseen]:
    """What is declared; folders: where the modules are looked for. Stops where a declaration is out
    of date or gives no reason."""
    found = []
    for row in tomllib.loads(DECLARED.read_text(encoding="utf-8"))["unseen"]:
        what = (row["what"],) if isinstance(row["what"], str) else tuple(row["what"])
        unseen = Unseen(row["module"], what, row["line"])
        if not row["why"].strip():
            raise SystemExit(f"{DECLARED.name}: {unseen.line!r} needs a reason")
        if unseen.module != "*" and not any(
            unseen.line in _text(folder / unseen.module) for folder in folders
        ):
            raise SystemExit(f"{DECLARED.name}: {unseen.line!r} is not in {unseen.module}")
        found.append(unseen)
    return found


def _text(module: Path) -> str:
    return module.read_text(encoding="utf-8") if module.is_file() else ""
