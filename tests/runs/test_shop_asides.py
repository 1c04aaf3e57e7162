"""What a run says in words of the shops: what is asked for more than there is."""

from pathlib import Path

import pytest

from bomkit.runs.planned_tables import planned
from bomkit.tables.results.finished_plan import Choices
from bomkit.words.progress import silent
from bomkit.workbooks.overview.moulds import moulds_sheet
from tests.inputs.builders import load_files

FILES = {
    "items.csv": "item,source,process,unit,lead_days,hours_each\n"
    "kelto,make,assemble,pc,1,\nskin,make,lay-up,pc,1,7\n",
    "structure.csv": "parent,child,quantity\nkelto,skin,3\n",
    "build_plan.csv": "serial,item,ready_date\nKL-1,kelto,2026-12-09\n",
    "processes.csv": "process,hours_per_week\nlay-up,14\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\n",
}


def asides(folder: Path, **changed: str) -> list[str]:
    files = {**FILES, **{name.replace("_csv", ".csv"): words for name, words in changed.items()}}
    report = planned(load_files(folder, files), Choices(), silent)
    return [words for words in report.asides if "Overloaded" in words]


def test_a_process_with_more_hours_than_there_are_is_named_with_the_week(tmp_path: Path) -> None:
    assert asides(tmp_path) == ["Overloaded: lay-up, 2026-W50, 7.0 h too many."]


def test_a_process_that_has_the_hours_is_not_named(tmp_path: Path) -> None:
    assert asides(tmp_path, processes_csv="process,hours_per_week\nlay-up,21\n") == []


@pytest.mark.parametrize(("left", "said"), [(3, "■ none left after what is planned"), (4, "")])
def test_a_mould_that_the_plan_uses_up_to_the_last_pull_is_marked(
    tmp_path: Path, left: int, said: str
) -> None:
    moulds = f"mould,item,pulls_per_week,pulls_left\nM1,skin,9,{left}\n"
    report = planned(load_files(tmp_path, FILES | {"moulds.csv": moulds}), Choices(), silent)
    (sheet,) = moulds_sheet(report)
    assert sheet.lines[0].cells[-1][0] == said
