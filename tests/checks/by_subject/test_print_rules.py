"""What is said about printed parts, their materials and the printers before anything is planned."""

from pathlib import Path

import pytest

from tests.inputs.builders import load_files, sentences

ITEMS = "item,source,unit,material,structure_class,heat_c\n"
FILES = {
    "items.csv": ITEMS
    + "KELTO,make,pc,,,\nVENT,print,pc,ASA,none,90\nJIG,print,pc,PLA,tooling,45\n"
    + "F-ASA,buy,kg,,,\nF-PLA,buy,g,,,\n",
    "structure.csv": "parent,child,quantity,unit\nKELTO,VENT,2,\nKELTO,JIG,1,\n"
    "VENT,F-ASA,48,g\nJIG,F-PLA,60,g\n",
    "build_plan.csv": "serial,item,ready_date\nKL-061,KELTO,2027-01-29\n",
    "materials.csv": "material,item,spool_kg,heat_limit_c,installed\n"
    "ASA,F-ASA,1,100,yes\nPLA,F-PLA,1,55,no\n",
    "prints.csv": "item,hours,plate_share,per_plate,printers\n"
    "VENT,2.9,0.1,,old new\nJIG,3,,6,old\n",
    "printers.csv": "kind,count,hours_per_week,plate_parts,plate_hours\n"
    "old,2,80,,\nnew,1,100,20,16\n",
}


def said_with(folder: Path, name: str, old: str, new: str) -> list[str]:
    """What is said once a file of the good ones is changed."""
    assert old in FILES[name]
    return sentences(load_files(folder, FILES | {name: FILES[name].replace(old, new)}))


def test_the_good_tables_are_good(tmp_path: Path) -> None:
    assert sentences(load_files(tmp_path, FILES)) == []


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        (
            *("materials.csv", "ASA,F-ASA,1,100", "ASA,F-ASA,1,90"),
            "items.csv line 3, column heat_c: '90' must stand 90 degrees C, but ASA only stands "
            "90 degrees C",
        ),
        (
            *("materials.csv", "ASA,F-ASA,1,100", "ASA,F-ASA,1,"),
            "items.csv line 3, column heat_c: '90' nobody says what heat ASA stands",
        ),
        (
            *("items.csv", "ASA,none,90", "ASA,none,"),
            "items.csv line 3, column heat_c: says nothing of the temperature",
        ),
        (
            *("items.csv", "PLA,tooling", "PLA,none"),
            "items.csv line 4, column material: 'PLA' may not be installed",
        ),
        (
            *("items.csv", "print,pc,ASA", "print,pc,ASAA"),
            "items.csv line 3, column material: 'ASAA' is not in materials; did you mean ASA?",
        ),
        (
            *("structure.csv", "VENT,F-ASA", "VENT,F-PLA"),
            "items.csv line 3, column material: 'ASA' VENT has no line in structure to F-ASA",
        ),
        (
            *("items.csv", "F-PLA,buy,g", "F-PLA,buy,m"),
            "materials.csv line 3, column item: 'F-PLA' is counted in m",
        ),
        (
            *("prints.csv", "VENT,2.9,0.1", "KELTO,2.9,0.1"),
            "prints.csv line 2, column item: 'KELTO' is not printed",
        ),
        (
            *("prints.csv", "JIG,3,,6,old\n", ""),
            "warning: items.csv line 4, column item: 'JIG' is printed but not in prints",
        ),
        (
            *("prints.csv", "old new", "old newer"),
            "prints.csv line 2, column printers: 'newer' is not in printers; did you mean new?",
        ),
        (
            *("prints.csv", "JIG,3,,6", "JIG,3,0.2,6"),
            "prints.csv line 3, column plate_share: '0.2' write either plate_share or per_plate",
        ),
        (
            *("prints.csv", "2.9,0.1,,old new", "17,0.1,,new"),
            "prints.csv line 2, column hours: '17' takes longer than the 16 hours",
        ),
    ],
)
def test_what_is_wrong_is_told(tmp_path: Path, name: str, old: str, new: str, said: str) -> None:
    found = said_with(tmp_path, name, old, new)
    assert any(said in sentence for sentence in found), found


def test_printed_primary_structure_is_refused_as_before(tmp_path: Path) -> None:
    (found,) = said_with(tmp_path, "items.csv", "ASA,none", "ASA,primary")
    assert "printed parts are not primary structure" in found


def test_heat_is_not_asked_of_tooling(tmp_path: Path) -> None:
    assert said_with(tmp_path, "items.csv", "PLA,tooling,45", "PLA,tooling,") == []


def test_the_engineer_in_charge_decides_about_heat(tmp_path: Path) -> None:
    (found,) = said_with(tmp_path, "materials.csv", "ASA,F-ASA,1,100", "ASA,F-ASA,1,80")
    assert "the engineer in charge decides" in found


def test_a_part_may_take_longer_than_one_of_its_printers_allows(tmp_path: Path) -> None:
    assert said_with(tmp_path, "prints.csv", "VENT,2.9", "VENT,17") == []


def test_nothing_is_asked_where_the_tables_are_not_given(tmp_path: Path) -> None:
    without = dict.fromkeys(("materials.csv", "prints.csv", "printers.csv"))
    assert sentences(load_files(tmp_path, {**FILES, **without})) == []


def test_a_part_other_than_tooling_must_say_what_heat_it_stands(tmp_path: Path) -> None:
    (said,) = said_with(tmp_path, "items.csv", "ASA,none,90", "ASA,none,")
    assert said.startswith("error: items.csv line 3, column heat_c: says nothing")
    assert said_with(tmp_path / "tool", "items.csv", "tooling,45", "tooling,") == []
