"""What could take the place of a missing item: where it lies, how long it lasts, why it is held."""

from tests.planning.driver import Plan, day, line, lot, need, piece, plan_of
from tests.random_tables import Row

ITEMS = [piece("fin", "make", 3), piece("lamp", "buy", 9), piece("light", safety_stock=1)]
Told = tuple[str, str, float, str, object, str]


def proposed(*stock: Row, spares: Row | None = None) -> list[Told]:
    """Kind, stand-in, quantity, places, last day and note of what could serve for the lamp."""
    plan: Plan = plan_of(
        ITEMS,
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 8), *([spares] if spares else [])],
        stock=list(stock),
        alternates=[{"item": "lamp", "alternate": "light", "note": "landing only"}],
    )
    columns = ("kind", "stand_in", "quantity", "locations", "expires", "note")
    return plan.stand_ins.select(columns).rows()


def test_all_its_places_are_named_and_the_day_on_which_the_first_of_it_expires() -> None:
    found = proposed(
        lot("light", 2, 19, location="R2", lot="a"),
        lot("light", 3, 18, location="R1", lot="b"),
        lot("light", 1, lot="c"),
    )
    assert found == [("alternate", "light", 5.0, "R1, R2", day(18), "landing only")]


def test_rows_of_one_lot_in_one_place_count_with_the_first_day_on_which_any_expires() -> None:
    found = proposed(
        lot("light", 2, 19, location="R1", lot="a"),
        lot("light", 2, 18, location="R1", lot="a"),
        lot("light", 0, 17, location="R9", lot="b"),
    )
    assert found == [("alternate", "light", 3.0, "R1", day(18), "landing only")]


def test_no_more_than_is_always_kept_is_no_alternate() -> None:
    assert proposed(lot("light", 1)) == []


def test_a_place_of_which_all_is_spoken_for_is_not_named() -> None:
    found = proposed(
        lot("light", 2, location="R1", lot="a"),
        lot("light", 3, location="R2", lot="b"),
        spares=need("light", 2, 1),
    )
    assert found == [("alternate", "light", 2.0, "R2", None, "landing only")]


def test_what_is_held_is_told_by_reason_with_its_places_and_its_first_day_of_expiry() -> None:
    found = proposed(
        lot("lamp", 2, 30, location="Q2", status="hold", reason="no papers"),
        lot("lamp", 1, 25, location="Q1", status="hold", reason="no papers"),
        lot("lamp", 4, status="quarantine", reason="dropped"),
        lot("lamp", 0, status="hold", reason="gone"),
        lot("lamp", 1, status="hold", reason="of another", serial="K-9"),
    )
    assert sorted(found) == [
        ("held", "hold", 3.0, "Q1, Q2", day(25), "no papers"),
        ("held", "quarantine", 4.0, "", None, "dropped"),
    ]


def test_several_reasons_stand_in_the_order_of_their_words() -> None:
    reasons = ("wet", "dropped", "no papers", "bent")
    found = proposed(*(lot("lamp", 1, status="hold", reason=reason) for reason in reasons))
    assert [row[-1] for row in found] == sorted(reasons)
