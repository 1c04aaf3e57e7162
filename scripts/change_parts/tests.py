"""The tests that notice a change: those that mirror its folder, the nearest first."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

from setup_venv import ROOT, clean_environment

from change_parts.changes import Change
from change_parts.nearest import ORDER, REACH, nearest

LONGEST = 600  # seconds; a change that makes the tests run for ever is noticed
PLUGINS = ("-p", "no:cacheprovider", "-p", "change_parts.reach")


class Tests:
    """A copy of the tree in which changes are made, and its tests."""

    def __init__(self, python: Path, scratch: Path) -> None:
        """Copies what the repository holds, without its history and environments."""
        self._scratch, self._tree = scratch, scratch / "tree"
        self._reached: dict[Path, dict[str, Any]] = {}
        hidden = shutil.ignore_patterns(".git", ".venv", "__pycache__", "out", ".*_cache")
        shutil.copytree(ROOT, self._tree, ignore=hidden)
        paths = os.pathsep.join([str(self._tree), str(self._tree / "scripts")])
        self._starter = subprocess.Popen(
            [str(python), "-m", "change_parts.starter"],
            cwd=self._tree,
            env={**os.environ, **clean_environment(), "PYTHONPATH": paths},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def notice(self, change: Change) -> bool:
        """Whether the tests that mirror the module's folder fail with the change."""
        folder = self._mirror(change.module)
        module = self._tree / change.module
        before, times = module.read_text(encoding="utf-8"), module.stat()
        near = nearest(self._reach(folder), before, change.module.as_posix(), change.line)
        order = self._scratch / "order.json"
        order.write_text(json.dumps(near), encoding="utf-8")
        module.write_text(change.text(ROOT), encoding="utf-8")
        try:
            return not self._pass(folder, ORDER, order)
        finally:
            module.write_text(before, encoding="utf-8")
            os.utime(module, ns=(times.st_atime_ns, times.st_mtime_ns))  # as it was compiled

    def _mirror(self, module: Path) -> Path:
        """The tests that mirror the module's folder of planning, with all that is in it; where none
        do, those of the folder above."""
        parts = module.parent.relative_to("bomkit").parts
        folder = Path("tests", *parts[:2])
        return folder if (self._tree / folder).is_dir() else folder.parent

    def _reach(self, folder: Path) -> dict[str, Any]:
        """What each test of a folder calls; they have to pass as long as nothing is changed."""
        if folder not in self._reached:
            reach = self._scratch / "reach.json"
            if not self._pass(folder, REACH, reach):
                raise SystemExit(f"{folder}: its tests fail without any change")
            self._reached[folder] = json.loads(reach.read_text(encoding="utf-8"))
        return self._reached[folder]

    def _pass(self, folder: Path, told: str, where: Path) -> bool:
        """Whether the tests of a folder pass, the plugin told of a file."""
        asked = {
            "arguments": ["-q", "-x", *PLUGINS, str(folder)],
            "environment": {told: str(where)},
            "changed": told == ORDER,
            "longest": LONGEST,
        }
        assert self._starter.stdin and self._starter.stdout
        print(json.dumps(asked), file=self._starter.stdin, flush=True)
        return self._starter.stdout.readline().strip() == "0"

    def stop(self) -> None:
        """Ends the process that starts test runs."""
        self._starter.communicate()
