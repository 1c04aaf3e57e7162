"""What was written into the folder of a run, and what somebody did to it since."""

import hashlib
import json
import os
from pathlib import Path

RUN_FILE = "run.json"  # what a folder of an earlier run is known by
_FILES = "files"  # in it: of every other file of the folder the digest of its bytes
_NOBODYS = ("Thumbs.db", "desktop.ini")  # what file managers leave; likewise . and ~$ in front


def digest(content: bytes) -> str:
    """The SHA-256 of a file's bytes."""
    return hashlib.sha256(content).hexdigest()


def with_digests(told: dict[str, object], folder: Path) -> dict[str, object]:
    """What run.json says, and with it the digest of every file that lies in the folder."""
    return {**told, _FILES: {name: digest(path.read_bytes()) for name, path in _files(folder)}}


def changed_since_written(out: Path) -> list[str]:
    """The files of a run that are not as they were written, or were not written by it.

    None of a folder that is no run, or of a run that did not write down its files.
    """
    written = files_written(out)
    return [
        name
        for name, path in (_files(out) if written else ())
        if digest(path.read_bytes()) != written.get(name)
    ]


def files_written(out: Path) -> dict[str, str]:
    """The files that a run wrote, by name within its folder, each with its digest; none of a folder
    that is no run, or of a run that did not write them down."""
    try:
        written = json.loads((out / RUN_FILE).read_text()).get(_FILES)
    except (OSError, ValueError, AttributeError):
        return {}
    return written if isinstance(written, dict) else {}


def run_around(out: Path) -> Path | None:
    """The folder of a run in which OUT would lie, if it would."""
    for folder in out.resolve().parents:
        try:
            if "run_id" in json.loads((folder / RUN_FILE).read_text()):
                return folder
        except (OSError, ValueError, TypeError):
            continue
    return None


def _files(folder: Path) -> list[tuple[str, Path]]:
    """All files below a folder, but run.json and what file managers leave, by name within it."""
    files = []
    for parent, _, names in os.walk(folder):
        for name in names:
            path = Path(parent, name)
            within = path.relative_to(folder).as_posix()
            if within != RUN_FILE and not name.startswith((".", "~$")) and name not in _NOBODYS:
                files.append((within, path))
    return sorted(files)
