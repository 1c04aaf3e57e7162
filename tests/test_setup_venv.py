"""The environment of the repository: never cleared or installed into where it is another's."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "scripts"))

import setup_venv


def test_an_environment_that_is_a_link_to_another_folder_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    theirs, link = tmp_path / "theirs", tmp_path / ".venv"
    theirs.mkdir()
    (theirs / "kept").write_text("theirs")
    link.symlink_to(theirs)

    def must_not(*words: object) -> None:
        raise AssertionError("something was changed")

    monkeypatch.setattr(setup_venv, "VENV", link)
    monkeypatch.setattr(setup_venv, "_STAMP", link / "bomkit-installed.txt")
    monkeypatch.setattr(setup_venv, "make_venv", must_not)
    monkeypatch.setattr(setup_venv, "_install", must_not)
    with pytest.raises(SystemExit) as ended:
        setup_venv.ready_python("test")
    assert ended.value.code == 2
    assert "leads to the environment of another folder" in capsys.readouterr().err
    assert (theirs / "kept").read_text() == "theirs"


def test_commands_see_no_other_packages_and_keep_what_they_compiled(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for name in ("PYTHONPATH", "PYTHONHOME", "PYTHONDONTWRITEBYTECODE", "LANG"):
        monkeypatch.setenv(name, "theirs")
    seen = setup_venv.clean_environment()
    assert not {"PYTHONPATH", "PYTHONHOME", "PYTHONDONTWRITEBYTECODE"} & seen.keys()
    assert seen["LANG"] == "theirs"
