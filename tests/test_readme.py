"""README.md and DEVELOPERS.md say what is there: commands and their help, tables, modules."""

import re
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from bomkit.cli import main
from bomkit.runs.week.plan import Run
from bomkit.screens.kit import kit_lines
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.results.by_name import RESULTS

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
TWO_COMMANDS = ("python scripts/demo.py", "python scripts/test.py")


def on_one_line(text: str) -> str:
    """The text without line breaks, as terminals of different widths break it differently."""
    return " ".join(text.split())


def real_help(*words: str) -> str:
    """What a command says when asked for help."""
    return (
        CliRunner().invoke(main, [*words, "--help"], prog_name="bomkit", terminal_width=80).output
    )


def section(heading: str) -> str:
    """What stands below a heading, up to the next one."""
    _, _, rest = README.partition(f"\n{heading}\n")
    return re.split(r"\n#+ ", rest)[0]


def test_the_first_code_after_the_first_paragraph_is_the_two_commands() -> None:
    title, paragraph, code = README.split("\n\n")[:3]
    assert title == "# bomkit"
    assert len(paragraph.split()) > 40
    assert code.startswith("```")
    assert [line.split("  ")[0] for line in code.splitlines()[1:-1]] == list(TWO_COMMANDS)


@pytest.mark.parametrize("command", TWO_COMMANDS)
def test_the_scripts_named_are_there(command: str) -> None:
    assert (ROOT / command.split()[1]).is_file()


def test_the_help_of_the_program_is_the_real_one() -> None:
    assert on_one_line(real_help()) in on_one_line(section("## Commands"))


@pytest.mark.parametrize("name", main.commands)
def test_every_command_stands_there_with_its_real_help(name: str) -> None:
    assert on_one_line(real_help(name)) in on_one_line(section(f"### bomkit {name}"))


def test_the_packing_list_shown_is_what_comes_out(full_run: Run) -> None:
    _, _, shown = section("### bomkit kit").partition("\n$ bomkit kit sample_boms/fenlark SP-2613 ")
    lines = [line for line in shown.split("```")[0].splitlines()[1:] if line.strip() != "..."]
    assert len(lines) > 3
    assert [line for line in kit_lines(full_run.report, "SP-2613") if line in lines] == lines


def test_no_command_is_documented_that_is_not_there() -> None:
    assert set(re.findall(r"^### bomkit (\S+)", README, re.MULTILINE)) == set(main.commands)


def test_the_exit_codes_are_those_of_the_program() -> None:
    codes = re.findall(r"^\| (\d) \|", section("### Exit codes"), re.MULTILINE)
    assert codes == ["0", "1", "2"]
    assert click.UsageError.exit_code == 2


def test_the_table_of_input_tables_is_the_declared_one() -> None:
    rows = re.findall(r"^\| `(\w+)` \| (yes|) \| (.*) \|$", README, re.MULTILINE)
    declared = [
        (name, "yes" if table.required else "", table.help) for name, table in INPUTS.items()
    ]
    assert rows == declared


def test_every_result_table_is_named() -> None:
    (told,) = re.findall(r"`tables/` holds the complete result as Parquet files \((.*?)\)", README)
    assert sorted(re.findall(r"`(\w+)`", told)) == sorted(RESULTS)


def test_the_caution_stands_there() -> None:
    for words in ("never releases a part to flight", "Printed parts are not primary structure"):
        assert words in README


def test_the_developers_guide_names_every_module_of_planning() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`(\w+\.py)`", guide))
    modules = {path.name for path in (ROOT / "bomkit" / "planning").glob("[a-z]*.py")}
    assert modules <= named
