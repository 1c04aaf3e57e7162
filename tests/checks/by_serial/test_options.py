"""Options that lines count by and no aircraft has."""

from pathlib import Path

from tests.checks.test_table_by_table import load_structure
from tests.inputs.builders import load_files


def test_an_option_that_no_aircraft_has_is_a_warning_told_once(tmp_path: Path) -> None:
    said = load_structure(
        tmp_path,
        ",with_option,without_option",
        'KELTO,WING,1,"FLOATS, FLOTS",',
        "KELTO,00123,1,,FLOTS;SKIS",
    )
    assert said == [
        "warning: structure.csv line 2, column with_option: 'FLOTS' is fitted to no aircraft "
        "in build_plan or fleet, but named in 2 lines; did you mean FLOATS?",
        "warning: structure.csv line 3, column without_option: 'SKIS' is fitted to no aircraft "
        "in build_plan or fleet",
    ]


def test_options_of_the_fleet_count_as_well(tmp_path: Path) -> None:
    files = {
        "structure.csv": "parent,child,quantity,with_option\nKELTO,WING,2,SKIS\n",
        "fleet.csv": "serial,item,options\nKL-001,KELTO,FLOATS;SKIS\n",
    }
    inputs = load_files(tmp_path, files)
    assert inputs.problems == []
    assert inputs.tables["fleet"]["options"].to_list() == ["FLOATS SKIS"]
