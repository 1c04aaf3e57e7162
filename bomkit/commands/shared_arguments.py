"""The arguments that many commands take, and how their paths are named and shown."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from pathlib import Path

    FileName = Callable[[click.Context, click.Parameter, Path | None], Path | None]


class PathName(click.Path):
    """A path, made one only for a command: help is shown sooner without."""

    def coerce_path_result(self, value: str | os.PathLike[str]) -> Path:
        from pathlib import Path

        return Path(value)


_OTHER_FILES = (".csv", ".tsv", ".ods", ".xls", ".xlsm")  # what somebody may have in mind

DATA = click.argument("data", type=PathName(exists=True))


def _file_name(kind: str, ending: str) -> FileName:
    """What sees to it that a path, if there is one, names a file of a kind."""

    def named(context: click.Context, parameter: click.Parameter, path: Path | None) -> Path | None:
        if path is not None and path.suffix.lower() != ending:
            message = f"{parameter.opts[0]} names {kind}; let its name end in {ending}"
            raise click.UsageError(message)
        return path

    return named


def folder_or_workbook(context: click.Context, parameter: click.Parameter, path: Path) -> Path:
    """The path, unless its name is that of a file of another kind than a workbook."""
    if path.suffix.lower() in _OTHER_FILES:
        message = (
            f"{path} names neither a folder nor a workbook; let a workbook's name end in .xlsx"
        )
        raise click.UsageError(message)
    return path


workbook_name = _file_name("a workbook", ".xlsx")
table_name = _file_name("a table", ".csv")


def from_here(path: Path) -> Path:
    """The path as seen from the current folder, if it lies in it."""
    here = type(path).cwd()
    return path.relative_to(here) if path.is_relative_to(here) else path
