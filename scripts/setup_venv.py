"""Makes the repository's own virtual environment, .venv, and installs bomkit into it.

Uses nothing but the standard library, so that it runs before anything is installed. It works again
only when .venv is missing, or when pyproject.toml, the Python or the place of the repository has
changed since.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
OLDEST = (3, 11)
_STAMP = VENV / "bomkit-installed.txt"

# at the import already: an older Python stumbles over what the other scripts say further down
if sys.version_info < OLDEST:
    sys.stderr.write(
        f"bomkit needs Python {OLDEST[0]}.{OLDEST[1]} or newer, and this one is "
        f"{'.'.join(map(str, sys.version_info[:3]))}. Install a newer Python and run this script "
        f"with it, such as: python{OLDEST[0]}.{OLDEST[1]} {sys.argv[0]}\n"
    )
    sys.exit(2)


def ready_python(*extras: str) -> Path:
    """The Python of a .venv in which bomkit and these extras are installed.

    Ends the program with a sentence and exit code 2 if that can't be had.
    """
    python = python_of(VENV)
    digest, installed = _stamp()
    if digest != _wanted_digest() or not set(extras) <= installed or not _runs(python):
        if VENV.is_symlink():  # to clear or install would do so where it leads to
            _stop(
                f"{_shown(VENV)} leads to the environment of another folder, which was made for "
                "something else and is left alone. Remove the link and run this script again."
            )
        if digest != _wanted_digest() or not _runs(python):
            installed = set()
            make_venv(VENV)
        _install(python, sorted(installed | set(extras)))
    return python


def python_of(venv: Path) -> Path:
    """The interpreter in a virtual environment."""
    return venv / "Scripts/python.exe" if os.name == "nt" else venv / "bin/python"


def clean_environment() -> dict[str, str]:
    """The environment variables, less those that let other Python packages leak in, and what keeps
    each of many processes from finding compiled what the one before it compiled."""
    left_out = ("PYTHONPATH", "PYTHONHOME", "PYTHONDONTWRITEBYTECODE")
    return {name: value for name, value in os.environ.items() if name not in left_out}


def make_venv(folder: Path) -> None:
    """An empty virtual environment in the folder, in place of what was there."""
    print(f"making {_shown(folder)} ...", flush=True)
    made = _run_quietly([sys.executable, "-m", "venv", "--clear", str(folder)])
    if made.returncode:
        _stop(
            f"{_shown(folder)} can't be made: this Python lacks the venv module or may not write "
            "there. On Debian and Ubuntu the package python3-venv adds the module.",
            made,
        )


def _install(python: Path, extras: list[str]) -> None:
    """Installs bomkit, editable, and writes down what it was installed from."""
    wanted = f".[{','.join(extras)}]" if extras else "."
    print(f"installing bomkit and what it needs into {_shown(VENV)} ...", flush=True)
    _STAMP.unlink(missing_ok=True)
    pip = [str(python), "-m", "pip", "--disable-pip-version-check", "install", "--quiet"]
    done = _run_quietly([*pip, "--editable", wanted])
    if done.returncode:
        _stop(
            "pip could not install what bomkit needs. Is there a network connection? "
            "Run this script again once there is; pip's own last words are above.",
            done,
        )
    _STAMP.write_text("\n".join([_wanted_digest(), *extras]) + "\n", encoding="utf-8")


def _wanted_digest() -> str:
    """A digest over everything that makes an installation out of date."""
    told = [sys.version.encode(), str(ROOT).encode(), (ROOT / "pyproject.toml").read_bytes()]
    return hashlib.sha256(b"\n".join(told)).hexdigest()


def _stamp() -> tuple[str, set[str]]:
    """The digest and the extras of the installation that is there; empty if there is none."""
    if not _STAMP.exists():
        return "", set()
    digest, *extras = _STAMP.read_text(encoding="utf-8").split()
    return digest, set(extras)


def _runs(python: Path) -> bool:
    """Whether the interpreter is there and starts: it does not once its base has been removed."""
    return python.exists() and _run_quietly([str(python), "-c", ""]).returncode == 0


def _run_quietly(command: list[str]) -> subprocess.CompletedProcess[str]:
    """Runs a command in the repository and keeps its words."""
    return subprocess.run(
        command, cwd=ROOT, env=clean_environment(), capture_output=True, text=True, check=False
    )


def _shown(folder: Path) -> str:
    """The folder's name as a person would write it."""
    return str(folder.relative_to(ROOT)) if folder.is_relative_to(ROOT) else str(folder)


def _stop(sentence: str, failed: subprocess.CompletedProcess[str] | None = None) -> None:
    """Ends the program with the last lines of what failed and a sentence; exit code 2."""
    if failed is not None:
        words = (failed.stdout + failed.stderr).strip().splitlines()
        print("\n".join(words[-5:]), file=sys.stderr)
    print(sentence, file=sys.stderr)
    raise SystemExit(2)


if __name__ == "__main__":
    print(ready_python(*sys.argv[1:]))
