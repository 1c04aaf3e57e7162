"""How problems are said."""

from bomkit.problems import visible


def test_what_could_command_or_mislead_is_spelt_out_and_what_people_write_is_not() -> None:
    assert visible("red \x1b[31m bell \x07 back\u202ewards") == (
        "red \\x1b[31m bell \\x07 back\\u202ewards"
    )
    assert visible("12\u00a0mm Träger, 2 Stück\n") == "12\u00a0mm Träger, 2 Stück\n"
    assert visible("half a letter \ud800") == "half a letter \\ud800"
