"""What is counted together is counted in the same kind of unit."""

from pathlib import Path

from tests.checks.test_table_by_table import load_structure
from tests.inputs.builders import load_files, only_sentence


def test_the_unit_of_a_line_must_fit_the_unit_of_the_child(tmp_path: Path) -> None:
    said = load_structure(tmp_path, ",unit", "KELTO,00123,1,g", "KELTO,00123,1,ml", "KELTO,WING,1,")
    assert said == [
        "error: structure.csv line 3, column unit: 'ml' 00123 is counted in kg, "
        "so the unit must be kg or g"
    ]


def test_a_replacement_must_be_counted_like_what_it_replaces(tmp_path: Path) -> None:
    files = {"replacements.csv": "old,new\nWING,00123\n"}
    said = only_sentence(load_files(tmp_path, files))
    assert "column new: '00123' is counted in kg, but WING in pc; both must be" in said
