"""Commands as a person gives them, on small folders of tables."""

from collections.abc import Mapping
from pathlib import Path

from click.testing import CliRunner, Result

from bomkit.cli import main


def bomkit(*words: str | Path) -> Result:
    """The result of a command line."""
    return CliRunner().invoke(main, [str(word) for word in words])


def written(folder: Path, files: Mapping[str, str]) -> Path:
    """The folder with these files in it; made if it is not there."""
    folder.mkdir(exist_ok=True)
    for name, words in files.items():
        (folder / name).write_text(words)
    return folder
