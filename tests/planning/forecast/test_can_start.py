"""Which orders can start, counted component by component."""

from datetime import date

from tests.planning.driver import Plan, day, line, lot, need, piece, plan_of, receipt

Counted = tuple[str, int, int, int, int]


def counted(plan: Plan, name: str) -> Counted:
    """State, components, those in stores, coming and missing of an item's order."""
    columns = ("state", "components", "in_stores", "coming", "missing")
    found: Counted = plan.ready.filter(item=name).select(columns).row(0)
    return found


def waits(plan: Plan, name: str) -> tuple[date, str, str]:
    """When an item's order can start, and for what it waits from where."""
    found: tuple[date, str, str] = (
        plan.ready.filter(item=name).select("can_start", "waits_for", "waits_from").row(0)
    )
    return found


def test_components_are_counted_once_each_by_where_they_are() -> None:
    parts = ("axle", "bolt", "clip", "disc", "edge", "foil")
    plan = plan_of(
        [piece("fin", "make", 3), *(piece(name, "buy", 15) for name in parts)],
        structure=[line("fin", name, 2) for name in parts],
        spares_orders=[need("fin", 1, 8)],
        # two from one shelf each; two bolts from a shelf and on order are coming
        stock=[lot("axle", 2), lot("bolt", 1)],
        open_orders=[
            receipt("bolt", 1, 4),
            receipt("clip", 2, 5),
            *(receipt(name, 2, 6) for name in ("disc", "edge", "foil")),
        ],
    )
    assert counted(plan, "fin") == ("waiting", 6, 1, 2, 3)
    # equally late: the first by name
    assert waits(plan, "fin") == (day(6), "disc", "due on 2026-12-08")


def test_an_order_waits_for_what_comes_last_and_names_the_last_supply_of_it() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("bolt", "buy", 15), piece("lamp", "buy", 15)],
        structure=[line("fin", "bolt"), line("fin", "lamp", 2)],
        spares_orders=[need("fin", 1, 8)],
        open_orders=[
            receipt("bolt", 1, 7, order="B-3"),
            receipt("lamp", 1, 9, order="B-1"),
            receipt("lamp", 1, 6, order="B-2"),
        ],
    )
    assert waits(plan, "fin") == (day(9), "lamp", "B-1")


def test_what_can_still_be_ordered_only_a_day_too_late_is_short() -> None:
    items = [piece("fin", "make", 3), piece("lamp", "buy", 6)]
    for when, told in ((8, ("short", 1, 0, 0, 1)), (9, ("complete", 1, 0, 1, 0))):
        plan = plan_of(items, structure=[line("fin", "lamp")], spares_orders=[need("fin", 1, when)])
        assert counted(plan, "fin") == told


def test_what_comes_in_time_is_not_short_though_its_order_is_late_for_somebody_else() -> None:
    # one order of lamps for both: the rib wants it on day 1, the fin on day 7
    plan = plan_of(
        [
            piece("fin", "make", 3),
            piece("rib", "make", 3),
            piece("lamp", "buy", 6, cover_days=15),
        ],
        structure=[line("fin", "lamp"), line("rib", "lamp")],
        spares_orders=[need("fin", 1, 10), need("rib", 1, 4)],
    )
    assert counted(plan, "fin")[0] == "complete"
    assert counted(plan, "rib")[0] == "short"


def test_an_order_without_components_is_complete() -> None:
    plan = plan_of([piece("fin", "make", 3)], spares_orders=[need("fin", 1, 8)])
    assert counted(plan, "fin") == ("complete", 0, 0, 0, 0)
    assert waits(plan, "fin") == (day(5), "", "")


def test_what_is_in_a_phantom_counts_and_the_phantom_does_not() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("set", "phantom"), piece("bolt"), piece("nut")],
        structure=[line("fin", "set"), line("set", "bolt"), line("set", "nut")],
        spares_orders=[need("fin", 1, 8)],
        stock=[lot("bolt", 1), lot("nut", 1)],
    )
    assert counted(plan, "fin") == ("complete", 2, 2, 0, 0)
    # it could have all of it today, and starts on its day
    assert waits(plan, "fin")[0] == day(5)
