"""The print room: from planned orders to plates, loads, and what could be sliced anew."""

import random

import polars as pl
import pytest

from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.shops.in_work import work_in_progress
from bomkit.planning.shops.printing.print_room import PrintRoom, plan_prints
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line, need
from tests.random_tables import Row

SPOOLS: list[Row] = [
    {"material": "ASA", "item": "f-asa", "spool_kg": 1},
    {"material": "PA", "item": "f-pa"},
]
PRINTERS: list[Row] = [
    {"kind": "old", "count": 2, "hours_per_week": 30, "newer_kind": "new"},
    {"kind": "new", "count": 1, "hours_per_week": 50, "plate_hours": 16},
]


def part(name: str, material: str = "ASA", **columns: object) -> Row:
    return item(name, source="print", unit="pc", material=material, lead_days=1) | columns


def printed(name: str, hours: float, share: float, printers: str = "old new") -> Row:
    return {"item": name, "hours": hours, "plate_share": share, "printers": printers}


def room_of(
    items: list[Row], prints: list[Row], needs: list[Row], /, **tables: list[Row]
) -> PrintRoom:
    """The print room of a plan of four weeks; 10 g of filament each, unless lines say so."""
    filaments = [item("f-asa"), item("f-pa", unit="g")]
    spool = {"ASA": "f-asa", "PA": "f-pa"}
    lines = [line(str(p["item"]), spool[str(p["material"])], 10, unit="g") for p in items]
    given: dict[str, list[Row]] = {
        "plan": [{"start": MONDAY, "horizon_weeks": 4}],
        "items": [*items, *filaments],
        "structure": lines,
        "spares_orders": needs,
        "prints": prints,
        "printers": PRINTERS,
        "materials": SPOOLS,
        **tables,
    }
    typed = typed_tables(given)
    network = build_network(typed)
    in_work = work_in_progress(typed, network.axis)
    return plan_prints(network, planned_orders(network, plan_flows(network)), typed, in_work)


def rows(room: PrintRoom, *columns: str) -> list[tuple[object, ...]]:
    return room.plates.select(columns).rows()


def load(room: PrintRoom, kind: str) -> list[tuple[float, float]]:
    """Hours and the hours there are of a kind, week by week."""
    return room.loads.filter(pl.col("kind") == kind).sort("week").select("hours", "capacity").rows()


def test_plates_are_numbered_in_the_order_in_which_to_run_them() -> None:
    items = [part("clip"), part("guide", "PA"), part("vent", lead_days=3)]
    prints = [printed(name, 2, 0.9) for name in ("clip", "guide", "vent")]
    needs = [need("clip", 1, 4), need("guide", 1, 2), need("vent", 1, 1)]
    room = room_of(items, prints, needs)
    # the vent is two days late, the guide starts before the clip
    assert rows(room, "plate", "item", "late_days") == [
        ("2026-W49-01", "vent", 2),
        ("2026-W49-02", "guide", 0),
        ("2026-W49-03", "clip", 0),
    ]


def test_orders_of_a_week_share_plates_by_material() -> None:
    items = [part("clip"), part("vent"), part("guide", "PA")]
    prints = [printed("clip", 1, 0.1), printed("vent", 3, 0.4), printed("guide", 2, 0.3)]
    needs = [need("clip", 3, 2), need("vent", 2, 4), need("guide", 1, 3)]
    room = room_of(items, prints, needs)
    assert rows(room, "plate", "material", "item", "parts", "hours") == [
        ("2026-W49-01", "ASA", "clip", 2, 2.0),
        ("2026-W49-01", "ASA", "vent", 2, 6.0),
        ("2026-W49-02", "ASA", "clip", 1, 1.0),
        ("2026-W49-03", "PA", "guide", 1, 2.0),
    ]
    assert room.plates["kind"].unique().to_list() == ["old"]


def test_a_part_is_printed_in_the_week_its_order_starts() -> None:
    room = room_of([part("clip")], [printed("clip", 1, 0.1)], [need("clip", 1, 5)])
    assert rows(room, "week") == [("2026-W49",)]  # lead time of one day: Friday


def test_per_plate_is_another_way_to_say_the_share() -> None:
    prints: list[Row] = [{"item": "clip", "hours": 1, "per_plate": 3, "printers": "old"}]
    room = room_of([part("clip")], prints, [need("clip", 7, 1)])
    assert rows(room, "parts", "share") == [(3, 1.0), (3, 1.0), (1, pytest.approx(1 / 3))]


def test_grams_are_those_of_the_structure_with_waste_and_what_an_order_takes_once() -> None:
    lines = [
        line("clip", "f-asa", 45, unit="g", waste=0.1),
        line("clip", "f-asa", 25, unit="g", per="order"),
    ]
    prints = [printed("clip", 1, 0.5)]
    room = room_of([part("clip")], prints, [need("clip", 3, 1)], structure=lines)
    assert rows(room, "parts", "grams") == [(2, 125.0), (1, 50.0)]


def test_the_grams_on_the_plates_are_what_is_asked_of_the_filament() -> None:
    items = [part("clip", scrap_rate=0.2), part("vent")]
    prints = [printed("clip", 1, 0.07), printed("vent", 3, 0.4)]
    needs = [need("clip", 30, 2), need("vent", 9, 4), need("clip", 5, 11)]
    room = room_of(items, prints, needs)
    started = 38 + 6 + 9  # 30 / 0.8 and what is then lacking of 35 / 0.8
    assert room.plates["grams"].sum() == pytest.approx(10 * started)


def test_work_goes_to_the_kinds_on_which_the_profile_is_approved() -> None:
    items = [part("both"), part("only-old")]
    prints = [printed("both", 10, 0.1), printed("only-old", 10, 0.1, "old")]
    room = room_of(items, prints, [need("both", 5, 1), need("only-old", 5, 1)])
    # the old ones have 60 hours: the part for both kinds makes room
    assert load(room, "old")[0] == (60.0, 60.0)
    assert load(room, "new")[0] == (40.0, 50.0)
    assert room.overloads.is_empty()


def test_a_piece_that_fits_no_kind_whole_goes_where_it_is_least_beyond_the_hours() -> None:
    printers: list[Row] = [
        {"kind": "old", "count": 1, "hours_per_week": 5},
        {"kind": "new", "count": 1, "hours_per_week": 4},
    ]
    room = room_of(
        [part("clip")], [printed("clip", 3, 0.1)], [need("clip", 3, 2)], printers=printers
    )
    # nine hours there are, but three pieces of three do not fit into five and four
    assert load(room, "old")[0] == (6, 5)
    assert load(room, "new")[0] == (3, 4)


def test_a_part_that_takes_too_long_for_a_plate_of_one_kind_goes_to_another() -> None:
    prints = [printed("spar-jig", 20, 0.9, "new old")]
    room = room_of([part("spar-jig")], prints, [need("spar-jig", 1, 1)])
    assert rows(room, "kind") == [("old",)]


def test_what_does_not_fit_is_named_with_its_week() -> None:
    room = room_of([part("clip")], [printed("clip", 10, 0.1, "old")], [need("clip", 7, 6)])
    assert room.overloads.select("kind", "week", "hours", "capacity").rows() == [
        ("old", "2026-W50", 70.0, 60.0)
    ]


def test_closed_days_take_their_hours() -> None:
    closed: list[Row] = [{"date": MONDAY}]
    prints = [printed("clip", 10, 0.1, "old")]
    room = room_of([part("clip")], prints, [need("clip", 1, 6)], calendar=closed)
    assert [capacity for _, capacity in load(room, "old")] == [48.0, 60.0, 60.0, 60.0]


def test_parts_approved_on_old_printers_only_are_listed_with_the_hours_they_would_free() -> None:
    items = [part("both"), part("only-old"), part("only-new")]
    prints = [
        printed("both", 1, 0.1),
        printed("only-old", 2, 0.1, "old"),
        printed("only-new", 1, 0.1, "new"),
    ]
    needs = [need(name, 3, 1) for name in ("both", "only-old", "only-new")]
    room = room_of(items, prints, [*needs, need("only-old", 5, 9)])
    assert room.reslicing.rows() == [("only-old", "old", "new", 16.0, "2026-W50", 10.0)]


def test_the_bound_stands_beside_the_plates() -> None:
    prints = [printed("clip", 1, 0.51, "old")]
    room = room_of([part("clip")], prints, [need("clip", 3, 1)])
    assert room.loads.filter(pl.col("hours") > 0).select("plates", "fewest").rows() == [(3, 3)]


def test_without_printers_there_are_no_plates() -> None:
    room = room_of([part("clip")], [], [need("clip", 3, 1)], printers=[])
    assert room.plates.is_empty() and room.loads.is_empty() and room.reslicing.is_empty()


def test_through_two_steps_the_newest_kind_is_what_to_slice_for() -> None:
    printers: list[Row] = [
        {"kind": "first", "count": 1, "hours_per_week": 30, "newer_kind": "second"},
        {"kind": "second", "count": 1, "hours_per_week": 30, "newer_kind": "third"},
        {"kind": "third", "count": 1, "hours_per_week": 30},
    ]
    items = [part(name) for name in ("clip", "vent", "cap", "cover")]
    prints = [
        printed("clip", 1, 0.1, "first"),
        printed("vent", 2, 0.1, "first second"),
        printed("cap", 3, 0.1, "second third"),
        printed("cover", 4, 0.1, "second"),
    ]
    needs = [need(name, 1, 4) for name in ("clip", "vent", "cap", "cover")]
    room = room_of(items, prints, needs, printers=printers)
    assert room.reslicing.select("item", "kind", "newer_kind", "hours").rows() == [
        ("cover", "second", "third", 4),
        ("vent", "first", "third", 2),
        ("clip", "first", "third", 1),
    ]


def test_without_prints_nothing_is_said_of_the_printers() -> None:
    assert room_of([part("clip")], [], [need("clip", 3, 2)]).loads.is_empty()


def test_what_an_order_takes_once_is_on_one_plate_though_two_kinds_print_it() -> None:
    kinds: list[Row] = [
        {"kind": "old", "count": 1, "hours_per_week": 6},
        {"kind": "new", "count": 1, "hours_per_week": 50},
    ]
    lines = [line("clip", "f-asa", 10, unit="g"), line("clip", "f-asa", 50, unit="g", per="order")]
    room = room_of(
        [part("clip")],
        [printed("clip", 1, 0.1)],
        [need("clip", 10, 9)],
        printers=kinds,
        structure=lines,
    )
    assert set(room.plates["kind"]) == {"old", "new"}
    assert room.plates["grams"].sum() == 10 * 10 + 50


def test_a_left_over_piece_goes_to_an_approved_kind_that_has_the_hours() -> None:
    kinds: list[Row] = [
        {"kind": name, "count": 1, "hours_per_week": hours}
        for name, hours in (("tiny", 30), ("new", 80), ("old", 50))
    ]
    prints = [printed("clip", 10.3, 0.1, "tiny new old")]
    room = room_of([part("clip")], prints, [need("clip", 9, 9)], printers=kinds)
    # two on tiny, seven on new: 92.7 hours, of which old has to take the last
    assert room.overloads.is_empty()


@pytest.mark.parametrize("seed", range(150))
def test_no_piece_is_above_the_hours_where_an_approved_kind_has_them(seed: int) -> None:
    chance = random.Random(seed)
    kinds: list[Row] = [
        {"kind": name, "count": 1, "hours_per_week": chance.randint(5, 60)} for name in "abc"
    ]
    prints = [
        printed(
            name,
            chance.choice([1.5, 2.9, 7, 10.3]),
            0.1,
            " ".join(chance.sample("abc", chance.randint(1, 3))),
        )
        for name in ("clip", "vent", "guide")
    ]
    needs = [need(name, chance.randint(1, 6), 9) for name in ("clip", "vent", "guide")]
    room = room_of([part(n) for n in ("clip", "vent", "guide")], prints, needs, printers=kinds)
    by_kind = room.loads.filter(pl.col("week") == "2026-W50")
    free = {row["kind"]: row["capacity"] - row["hours"] for row in by_kind.iter_rows(named=True)}
    for row in prints:
        approved = str(row["printers"]).split()
        used = set(room.plates.filter(pl.col("item") == row["item"])["kind"])
        above = [kind for kind in used if free[kind] < -1e-6]
        hours = float(str(row["hours"]))
        assert not above or all(free[kind] < hours - 1e-6 for kind in approved)
