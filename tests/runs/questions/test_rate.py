"""The study of other rates, from files to its verdict."""

from pathlib import Path

import pytest

from bomkit.runs.questions.rate import rate_study
from bomkit.words.progress import silent
from tests.inputs.builders import load_files

FILES = {
    "items.csv": "item,source,unit,lead_days,material,structure_class\nkelto,make,pc,1,,\n"
    "clip,print,pc,1,PLA,tooling\nvent,print,pc,1,PLA,tooling\nf-pla,buy,kg,1,,\n",
    "structure.csv": "parent,child,quantity,unit\nkelto,clip,1,\nkelto,vent,1,\n"
    "clip,f-pla,10,g\nvent,f-pla,10,g\n",
    "build_plan.csv": "serial,item,ready_date\nKL-1,kelto,2026-12-16\n",
    "materials.csv": "material,item,spool_kg\nPLA,f-pla,1\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\n",
    "printers.csv": "kind,count,hours_per_week,newer_kind\nold,1,5,new\nnew,1,500,\n",
}


def verdict(folder: Path, kinds_of_vent: str, name: str = "rates", weeks: int = 0) -> list[str]:
    prints = f"item,hours,per_plate,printers\nclip,3,4,old\nvent,3,4,{kinds_of_vent}\n"
    settings = f"{FILES['plan.toml']}pull_ahead_weeks = {weeks}\n"
    load_files(folder / "data", FILES | {"prints.csv": prints, "plan.toml": settings})
    return rate_study(folder / "data", [2], folder / f"{name}.xlsx", False, silent).verdict


def test_parts_that_could_be_sliced_anew_are_counted_where_printers_give_way(
    tmp_path: Path,
) -> None:
    assert verdict(tmp_path, "old")[-1].startswith("2 of the parts printed there")


def test_rates_at_which_levelling_comes_to_no_end_are_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    unsettled = "At 2 a month levelling came to no end"
    assert not any(words.startswith(unsettled) for words in verdict(tmp_path, "old", weeks=1))
    monkeypatch.setattr("bomkit.planning.levelling.levelled_plan._MOST_TURNS", 0)
    assert verdict(tmp_path, "old", "again", weeks=1)[-1].startswith(unsettled)
