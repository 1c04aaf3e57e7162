"""Runs every check: style, types, the tests, a clean installation, and every script here.

With arguments it runs pytest alone and hands them on, such as: python scripts/test.py -k netting
"""

from __future__ import annotations

import filecmp
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextvars import ContextVar
from pathlib import Path

from setup_venv import ROOT, clean_environment, make_venv, python_of, ready_python

SCRIPTS = ROOT / "scripts"
SAMPLES = ROOT / "sample_boms"
SIDE_BY_SIDE = 2  # steps at a time; each of them keeps little more than one core busy
Command = Sequence[str | Path]
Step = tuple[str, Callable[[Path], None]]

# what a step that runs beside others has said so far; None: it says it at once
_said: ContextVar[list[str] | None] = ContextVar("said", default=None)


class Failed(Exception):  # noqa: N818 - reads as what happened
    """Raised by a step that found something wrong; says what."""


def main() -> int:
    """Run all steps, or pytest alone with the arguments given."""
    python = ready_python("test")
    if sys.argv[1:]:
        return _code([python, "-m", "pytest", *sys.argv[1:]])
    alone: list[Step] = [
        ("ruff check", lambda _: _must_pass([python, "-m", "ruff", "check", "."])),
        ("ruff format", lambda _: _must_pass([python, "-m", "ruff", "format", "--check", "."])),
        ("mypy", lambda _: _must_pass([python, "-m", "mypy"])),
        ("pytest", lambda _: _must_pass([python, "-m", "pytest", "-n", "auto"])),
    ]
    install: Step = ("clean install", lambda scratch: _clean_install(python, scratch))
    found = [(name, *_outcome(name, step)) for name, step in alone]
    found += _side_by_side([install, *_script_steps(python)])
    print("\nstep                   result   seconds")
    for name, passed, seconds in found:
        print(f"{name:22} {'ok' if passed else 'FAILED':6} {seconds:9.1f}")
    return 0 if all(passed for _, passed, _ in found) else 1


def _side_by_side(steps: Sequence[Step]) -> list[tuple[str, bool, float]]:
    """Runs steps a few at a time; what each says is printed as a whole once it has ended."""

    def outcome(step: Step) -> tuple[str, bool, float]:
        said: list[str] = []
        _said.set(said)
        passed, seconds = _outcome(*step)
        print("\n".join(said), flush=True)
        return step[0], passed, seconds

    with ThreadPoolExecutor(SIDE_BY_SIDE) as workers:
        return list(workers.map(outcome, steps))


def _say(words: str) -> None:
    """Prints words, or keeps them until the step has ended."""
    said = _said.get()
    if said is None:
        print(words, flush=True)
    else:
        said.append(words)


def _outcome(name: str, step: Callable[[Path], None]) -> tuple[bool, float]:
    """Runs one step in a scratch folder: whether it passed, and the seconds it took."""
    _say(f"\n== {name}")
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as scratch:
        try:
            step(Path(scratch))
        except Failed as failed:
            _say(f"{name}: {failed}")
            return False, time.monotonic() - began
    return True, time.monotonic() - began


def _clean_install(python: Path, scratch: Path) -> None:
    """Builds the wheel, installs it where nothing else is, and plans a sample from elsewhere."""
    build: Command = [python, "-m", "build", "--wheel", "--outdir", scratch / "wheel"]
    _must_pass([*build, ROOT], quiet=True)
    (wheel,) = (scratch / "wheel").glob("*.whl")
    make_venv(scratch / "venv")
    fresh = python_of(scratch / "venv")
    pip: Command = [fresh, "-m", "pip", "--disable-pip-version-check", "install", "--quiet"]
    _must_pass([*pip, wheel], scratch, quiet=True)
    bomkit = fresh.with_name(f"bomkit{fresh.suffix}")
    _must_pass([bomkit, "--version"], scratch)
    _must_pass([bomkit, "--help"], scratch, quiet=True)
    tiny = SAMPLES / "tiny_glider_tail"
    _must_pass([bomkit, "plan", tiny, "--out", scratch / "run"], scratch, quiet=True)
    if not (scratch / "run" / "overview.xlsx").is_file():
        raise Failed("the plan of the tiny sample wrote no overview.xlsx")


def _script_steps(python: Path) -> list[Step]:
    """A step for every other script of this folder, each in a quick way."""
    quick: dict[str, Callable[[Path], None]] = {
        "make_sample.py": lambda scratch: _same_sample(python, scratch),
        "make_pictures.py": lambda _: _must_pass([python, SCRIPTS / "make_pictures.py", "--check"]),
        "demo.py": lambda scratch: _must_pass(
            [sys.executable, SCRIPTS / "demo.py", "--out", scratch / "run"]
        ),
        "bench_allocation.py": lambda _: _must_pass(
            [python, SCRIPTS / "bench_allocation.py", "--quick"]
        ),
        "bench_large.py": lambda _: _must_pass([python, SCRIPTS / "bench_large.py", "--quick"]),
        "bench_plan.py": lambda _: _must_pass([python, SCRIPTS / "bench_plan.py", "--quick"]),
        "try_changes.py": lambda _: _must_pass(
            [python, SCRIPTS / "try_changes.py", "--quick", "--at-least", "0.5"]
        ),
        "fuzz_lists.py": lambda _: _must_pass([python, SCRIPTS / "fuzz_lists.py", "--quick"]),
        "fuzz_fillings.py": lambda _: _must_pass([python, SCRIPTS / "fuzz_fillings.py", "--quick"]),
        "bench_start.py": lambda _: _must_pass([python, SCRIPTS / "bench_start.py", "--quick"]),
        "simulate_year.py": lambda _: _must_pass(
            [python, SCRIPTS / "simulate_year.py", SAMPLES / "fenlark", "--weeks", "1"]
        ),
    }
    ours = {Path(__file__).name, "setup_venv.py"}
    found = sorted(path.name for path in SCRIPTS.glob("*.py") if path.name not in ours)
    return [(name, quick.get(name, _unknown_script)) for name in found]


def _unknown_script(scratch: Path) -> None:
    """Fails for a script that nobody has said how to try."""
    raise Failed("say in scripts/test.py how to run this script in a quick way")


def _same_sample(python: Path, scratch: Path) -> None:
    """Writes the full-size sample again and compares it byte for byte with what is kept."""
    _must_pass([python, SCRIPTS / "make_sample.py", scratch / "fenlark"])
    kept, fresh = SAMPLES / "fenlark", scratch / "fenlark"
    names = {path.name for folder in (kept, fresh) for path in folder.iterdir() if path.is_file()}
    _, differing, missing = filecmp.cmpfiles(kept, fresh, sorted(names), shallow=False)
    if differing or missing:
        raise Failed(f"{', '.join(differing + missing)}: not what scripts/make_sample.py writes")


def _must_pass(command: Command, folder: Path = ROOT, quiet: bool = False) -> None:
    """Runs a command; quiet: shows what it says only if it fails. Raises Failed."""
    code = _code(command, folder, quiet)
    if code:
        words = (word.name if isinstance(word, Path) else word for word in command)
        raise Failed(f"{' '.join(words)} ended with {code}")


def _code(command: Command, folder: Path = ROOT, quiet: bool = False) -> int:
    """The exit code of a command run in a folder."""
    words = [str(word) for word in command]
    environment = clean_environment()
    if not quiet and _said.get() is None:
        return subprocess.run(words, cwd=folder, env=environment, check=False).returncode
    done = subprocess.run(
        words, cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    if done.returncode or not quiet:
        _say(done.stdout + done.stderr)
    return done.returncode


if __name__ == "__main__":
    sys.exit(main())
