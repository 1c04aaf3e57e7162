"""Spares orders held against the configuration of the aircraft they name."""

from collections.abc import Iterator
from datetime import date
from functools import cache
from random import Random

import polars as pl
import pytest

from bomkit.checks.by_serial.fitting import misfit_findings
from bomkit.checks.everything import load_inputs
from bomkit.planning.forecast.peg_tables import asking_order
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.pegging.peg import peg
from bomkit.planning.structure.options_and_serials import serial_specific_items
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.problems import Finding
from tests.builders import typed_tables
from tests.planning.driver import item, line, need
from tests.random_tables import Row
from tests.samples import SAMPLES

LATER = date(2027, 1, 15)
FLEET: list[Row] = [
    {"serial": "K-1", "item": "kelto", "options": "SKIS"},
    {"serial": "K-2", "item": "kelto", "options": ""},
    {"serial": "G-1", "item": "gerlo", "options": ""},
]
ITEMS = [
    *(item(name, source="make", unit="pc") for name in ("kelto", "gerlo", "leg", "tail")),
    *(item(name, unit="pc") for name in ("ski", "tyre", "tyre 2", "lamp", "manual")),
    item("ski kit", source="kit", unit="pc"),
]
STRUCTURE = [
    line("kelto", "leg"),
    line("leg", "ski", with_option="SKIS"),
    line("leg", "tyre", without_option="SKIS"),
    line("gerlo", "tail"),
    line("tail", "lamp", from_serial="G-2"),
    line("ski kit", "ski", with_option="SKIS"),
    line("ski kit", "manual", to_serial="K-1"),
]


def findings(*orders: tuple[str, str], **tables: list[Row]) -> list[Finding]:
    """What is found for orders of an item for a serial."""
    rows = [
        need(name, 1, LATER, order=f"S-{number}", serial=serial)
        for number, (name, serial) in enumerate(orders)
    ]
    typed = typed_tables(
        {"items": ITEMS, "structure": STRUCTURE, "fleet": FLEET, "spares_orders": rows, **tables}
    )
    return misfit_findings(typed, serial_specific_items(typed["structure"], typed["build_plan"]))


def verdict(name: str, serial: str, **tables: list[Row]) -> str:
    found = findings((name, serial), **tables)
    assert len(found) <= 1
    return found[0].severity if found else "fits"


@pytest.mark.parametrize(
    ("name", "serial", "expected"),
    [
        ("ski", "K-1", "fits"),
        ("ski", "K-2", "warning"),  # common, but shut out of every place on this aircraft
        ("tyre", "K-1", "warning"),
        ("tyre", "K-2", "fits"),
        ("leg", "K-1", "fits"),
        ("leg", "G-1", "error"),  # of another kind of aircraft
        ("tail", "G-1", "fits"),
        ("lamp", "G-1", "warning"),
        ("ski kit", "K-1", "fits"),
        ("ski kit", "K-2", "error"),  # no ski, and the manual is for K-1
        ("manual", "G-1", "fits"),  # a loose part
        ("kelto", "K-1", "fits"),
        ("tyre", "", "fits"),  # for nobody in particular
        ("tyre", "K-77", "fits"),  # an unknown serial is a problem of its own
    ],
)
def test_what_is_ordered_fits_the_aircraft_or_not(name: str, serial: str, expected: str) -> None:
    assert verdict(name, serial) == expected


def test_the_message_names_the_lines_and_what_they_ask_for() -> None:
    [lamp] = findings(("lamp", "G-1"))
    [kit] = findings(("ski kit", "K-2"))
    [leg] = findings(("leg", "G-1"))
    assert "tail -> lamp from G-2" in lamp.message
    assert "does not fit G-1 (options: none)" in lamp.message
    assert "ski kit -> ski with SKIS; ski kit -> manual up to K-1" in kit.message
    assert "no line of gerlo leads to it" in leg.message
    assert (kit.table, kit.row, kit.column, kit.value) == ("spares_orders", 2, "item", "ski kit")


def test_a_part_configured_for_each_aircraft_is_an_error_where_it_is_shut_out() -> None:
    structure = [line("kelto", "leg", with_option="SKIS"), line("leg", "ski", with_option="LIGHTS")]
    assert verdict("leg", "K-1", structure=structure) == "fits"
    assert verdict("leg", "K-2", structure=structure) == "error"


def test_a_part_fits_in_the_place_of_the_one_it_replaces_and_the_other_way_round() -> None:
    replaced: list[Row] = [{"old": "tyre", "new": "tyre 2"}]
    assert verdict("tyre 2", "K-2", replacements=replaced) == "fits"
    assert verdict("tyre 2", "K-1", replacements=replaced) == "warning"
    newer = [line("kelto", "tyre 2", without_option="SKIS")]
    assert verdict("tyre", "K-2", structure=newer, replacements=replaced) == "fits"
    assert verdict("tyre", "K-1", structure=newer, replacements=replaced) == "warning"


def test_an_aircraft_that_is_still_being_built_counts_with_its_own_options() -> None:
    built: list[Row] = [
        {"serial": "K-9", "item": "kelto", "ready_date": LATER, "options": "SKIS"},
    ]
    assert verdict("ski", "K-9", build_plan=built) == "fits"
    assert verdict("tyre", "K-9", build_plan=built) == "warning"


def test_nothing_is_said_where_a_line_could_not_be_read() -> None:
    rows = [need("ski", 1, LATER, serial="K-2")]
    tables = typed_tables(
        {"items": ITEMS, "structure": STRUCTURE, "fleet": FLEET, "spares_orders": rows}
    )
    spoiled = tables["structure"].with_columns(
        with_option=pl.when(pl.col("row") == 4).then(pl.lit(None)).otherwise("with_option")
    )
    assert misfit_findings({**tables, "structure": spoiled}, pl.Series(["leg"])) == []


# ---------------------------------------------------------------- a naive second way


def counts(row: dict[str, object], options: str, serial: str) -> bool:
    """Whether a line counts, worked out without the planner's own functions."""
    have = set(options.split())
    number = int(serial.split("-")[1])
    first, last = (str(row[name] or "").split("-")[-1] for name in ("from_serial", "to_serial"))
    return (
        set(str(row["with_option"]).split()) <= have
        and have.isdisjoint(str(row["without_option"]).split())
        and (not first or number >= int(first))
        and (not last or number <= int(last))
    )


@cache
def fenlark() -> dict[str, pl.DataFrame]:
    return load_inputs(SAMPLES / "fenlark").tables


def children(name: str, serial: str, options: str) -> Iterator[str]:
    """The items that an order of one item draws for a serial; sets are opened."""
    tables = fenlark()
    phantoms = set(tables["items"].filter(pl.col("source") == "phantom")["item"])
    for row in tables["structure"].filter(pl.col("parent") == name).iter_rows(named=True):
        if counts(row, options, serial):
            child = str(row["child"])
            yield from children(child, serial, options) if child in phantoms else (child,)


def test_kits_and_assemblies_of_the_whole_fleet_hold_what_the_naive_way_finds() -> None:
    """Every kit, and assemblies with conditions, ordered for every aircraft of the sample."""
    tables = dict(fenlark())
    kits = tables["items"].filter(pl.col("source") == "kit")["item"].to_list()
    conditional = pl.any_horizontal(
        pl.col(name) != "" for name in ("with_option", "without_option", "from_serial", "to_serial")
    )
    phantoms = tables["items"].filter(pl.col("source") == "phantom")["item"]
    parents = tables["structure"].filter(conditional & ~pl.col("parent").is_in(phantoms.implode()))[
        "parent"
    ]
    wanted = [*kits, *parents.unique().sort().to_list()[:6]]
    fleet = tables["fleet"].select("serial", "options").rows()
    orders: list[Row] = [
        need(name, 1, date(2027, 5, 20), order=f"{name} for {serial}", serial=serial)
        for name in wanted
        for serial, _ in fleet
    ]
    empty = {name: tables[name].clear() for name in ("stock", "open_orders", "allocations")}
    undated = tables["structure"].with_columns(
        pl.lit(None, pl.Date).alias("from_date"), pl.lit(None, pl.Date).alias("to_date")
    )
    tables |= {
        **empty,
        "structure": undated,
        "replacements": tables["replacements"].clear(),
        "spares_orders": typed_tables({"spares_orders": orders})["spares_orders"],
        "build_plan": tables["build_plan"].head(0),
    }
    network = build_network(tables)
    flows = plan_flows(network)
    made = planned_orders(network, flows)
    pegged = peg(network, flows, made)
    drawn = (
        network.named(
            pegged.needs.with_columns(from_order=asking_order(made, pegged.needs["from_id"]))
        )
        .join(pegged.demands, on="demand_id")
        .join(made.select(from_order="order", parent="item"), on="from_order")
        .filter(pl.col("demand") == pl.format("{} for {}", "parent", pl.col("demand").str.tail(6)))
    )
    passed_on = set(tables["items"].filter(pl.col("source") == "phantom")["item"])
    found: dict[str, set[str]] = {}
    for demand, name in drawn.select("demand", "item").iter_rows():
        if name not in passed_on:
            found.setdefault(demand, set()).add(name)
    fenlark_structure = {
        f"{name} for {serial}": set(children(name, serial, options))
        for name in wanted
        for serial, options in fleet
    }
    assert found == {demand: held for demand, held in fenlark_structure.items() if held}
    assert len({frozenset(held) for held in found.values()}) > len(wanted)


def test_the_orders_of_the_sample_fit() -> None:
    tables = fenlark()
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    assert misfit_findings(tables, specific) == []


@pytest.mark.parametrize("seed", range(25))
def test_random_orders_are_judged_as_the_naive_way_does(seed: int) -> None:
    chance = Random(seed)
    names = ["kelto", *(f"part {number}" for number in range(8)), "kit 1", "kit 2"]
    conditions: list[Row] = [
        {},
        {"with_option": "A"},
        {"without_option": "B"},
        {"from_serial": "K-2"},
        {"to_serial": "K-2", "with_option": "B"},
    ]
    lines = []
    for _ in range(12):
        above, below = sorted(chance.sample(range(9), 2))
        lines.append(line(names[above], names[below], **chance.choice(conditions)))
    for kit in ("kit 1", "kit 2"):
        for part in chance.sample(names[1:9], 2):
            lines.append(line(kit, part, **chance.choice(conditions[1:])))
    fleet: list[Row] = [
        {"serial": f"K-{n}", "item": "kelto", "options": chance.choice(("", "A", "B", "A B"))}
        for n in (1, 2, 3)
    ]
    typed = typed_tables({"structure": lines, "fleet": fleet})
    rows = typed["structure"].rows(named=True)
    items = [
        item(name, source="kit" if name.startswith("kit ") else "make", unit="pc") for name in names
    ]
    specific = set(serial_specific_items(typed["structure"], typed["build_plan"]))
    orders = [(name, str(craft["serial"])) for craft in fleet for name in names]
    found = findings(*orders, items=items, structure=lines, fleet=fleet)
    told = {orders[finding.row - 2]: finding.severity for finding in found}
    assert len(told) == len(found)
    for craft in fleet:
        serial, options = str(craft["serial"]), str(craft["options"])
        own, any_ = reached(rows, "kelto", options, serial), reached(rows, "kelto", None, serial)
        for name in names:
            lines_of = [row for row in rows if row["parent"] == name]
            expected = "fits"
            if name.startswith("kit "):
                packed = any(counts(row, options, serial) for row in lines_of)
                expected = "fits" if packed or not lines_of else "error"
            elif name in any_ and name not in own:
                expected = "error" if name in specific else "warning"
            assert told.get((name, serial), "fits") == expected, (name, serial, options)


def reached(rows: list[dict[str, object]], top: str, options: str | None, serial: str) -> set[str]:
    """What is reached from the top, over lines that count, or over all of them."""
    found = {top}
    while True:
        more = {
            str(row["child"])
            for row in rows
            if row["parent"] in found and (options is None or counts(row, options, serial))
        }
        if more <= found:
            return found
        found |= more
