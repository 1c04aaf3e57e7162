"""How long the chains of lead times are that pulling has to leave time for."""

from bomkit.planning.lead_chains import days_below
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, line, piece


def chains(*lines: dict[str, object]) -> dict[str, int]:
    """By item the working days that pass below it."""
    items = [
        piece("wing", "make", 4),
        piece("rib", "make", 3, safety_days=2),
        piece("nail", lead=7),
        piece("glue", lead=11),
    ]
    settings = [{"start": MONDAY, "horizon_weeks": 4}]
    network = build_network(
        typed_tables({"plan": settings, "items": items, "structure": list(lines)})
    )
    names = dict(network.items.select("item_id", "item").iter_rows())
    return {names[number]: days for number, days in days_below(network).items()}


def test_lead_and_safety_days_of_the_longest_way_down_add_up() -> None:
    found = chains(line("wing", "rib"), line("rib", "nail"), line("wing", "glue"))
    assert found == {"wing": 12, "rib": 7, "nail": 0, "glue": 0}


def test_what_is_needed_before_an_order_starts_makes_the_chain_longer_and_later_not_shorter() -> (
    None
):
    assert chains(line("wing", "rib", offset_days=-3))["wing"] == 8
    assert chains(line("wing", "rib", offset_days=3))["wing"] == 5
