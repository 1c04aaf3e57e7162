"""Mass, cost and hours rolled up, by hand and against the inverse of (I - N).

Source of the second way: Vazsonyi, Management Science 1(1), 1954; total requirements are
(I - N)^-1, so what one unit is worth is its own values times that. Inverted here with SciPy.
"""

import random
from datetime import date

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import inv  # type: ignore[import-untyped]  # ships no types

from bomkit.planning.structure.mass_cost_hours import Roll, RollUp, mean_lots, roll_up
from tests.builders import typed_tables
from tests.naive_planner import converted, line_is_active, names_in, number_in, text_in
from tests.planning.driver import MONDAY, airframe, day, item, line
from tests.random_tables import Row, Tables, is_conditional, random_tables


def rolled(
    kind: Roll, items: list[Row], serials: tuple[str, ...] = ("",), /, **tables: list[Row]
) -> RollUp:
    """What is rolled up of these tables, from a plan of four weeks."""
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 4}]
    return roll_up(typed_tables({"plan": plan, "items": items, **tables}), kind, serials)


def usual(**lots: float) -> pl.DataFrame:
    """The mean lot of some items."""
    return pl.DataFrame({"item": list(lots), "usual_lot": list(lots.values())})


def value(found: RollUp, name: str, serial: str = "") -> float:
    """The rolled-up value of one unit, free of what only arithmetic adds."""
    return round(found.values(serial)[name], 9)


WING = [
    item("wing", source="make", unit="pc", process="bond", hours_each=6, hours_per_order=2),
    item("skin", source="make", unit="pc", scrap_rate=0.2, hours_each=4, minimum=2, multiple=3),
    item("cloth", unit="m2", cost=20, mass_g=200),
    item("resin", unit="kg", cost=15),
    item("bolt", unit="pc", cost=0.5, scrap_rate=0.5),
]
WING_LINES = [
    line("wing", "skin", 2),
    line("wing", "bolt", 8),
    line("skin", "cloth", 1.2, waste=0.25),
    line("skin", "resin", 240, unit="g", waste=0.2),
    line("skin", "resin", 90, unit="g", per="order"),
]
PROCESSES: list[Row] = [{"process": "bond", "scrap_rate": 0.5}]


def test_a_mass_is_that_of_what_is_built_in_without_scrap_waste_and_what_an_order_uses_up() -> None:
    found = rolled("mass", WING, structure=WING_LINES, processes=PROCESSES)
    assert value(found, "skin") == 0.48  # 1.2 m2 x 200 g and 240 g of resin
    assert value(found, "wing") == 0.96


def test_what_has_no_mass_is_named_and_counts_as_nothing() -> None:
    found = rolled("mass", WING, structure=WING_LINES, processes=PROCESSES)
    assert found.lacking("wing", "") == ["bolt"]
    assert found.lacking("skin", "") == []


def test_a_stated_mass_goes_before_that_of_what_is_in_the_item() -> None:
    items = [*WING[:1], WING[1] | {"mass_g": 500}, *WING[2:]]
    found = rolled("mass", items, structure=WING_LINES, processes=PROCESSES)
    assert value(found, "wing") == 1.0


def test_a_cost_pays_for_scrap_waste_and_what_an_order_uses_up() -> None:
    found = rolled("cost", WING, structure=WING_LINES, processes=PROCESSES)
    # cloth 1.2 / 0.75 x 20 = 32; resin 0.24 / 0.8 x 15 = 4.5, and 0.09 x 15 for every 3 started
    skin = (32 + 4.5 + 1.35 / 3) / 0.8
    assert value(found, "skin") == pytest.approx(skin)
    # half of the bolts are bad, and so are half of the wings
    assert value(found, "wing") == pytest.approx((2 * skin + 8 * 0.5 / 0.5) / 0.5)


def test_hours_are_those_of_every_unit_that_has_to_be_started() -> None:
    found = rolled("hours", WING, structure=WING_LINES, processes=PROCESSES)
    assert value(found, "skin") == 5.0  # 4 h, and one in five is scrapped
    assert value(found, "wing") == 36.0  # 6 h and 2 h an order of one, 2 skins, twice over


def test_each_serial_has_its_own_sum() -> None:
    items = [
        item("kelto", source="make", unit="pc"),
        item("float", mass_g=9000, unit="pc"),
        item("wheel", mass_g=4000, unit="pc"),
    ]
    lines = [
        line("kelto", "float", 2, with_option="floats"),
        line("kelto", "wheel", 3, without_option="floats"),
        line("kelto", "wheel", 1, from_serial="KL-2"),
    ]
    plan = [airframe("KL-1", "kelto", 10), airframe("KL-2", "kelto", 10, "floats")]
    found = rolled("mass", items, ("KL-1", "KL-2"), structure=lines, build_plan=plan)
    assert value(found, "kelto", "KL-1") == 12.0
    assert value(found, "kelto", "KL-2") == 22.0


def test_dated_lines_count_if_they_hold_on_the_day_the_airframe_is_ready() -> None:
    items = [item("kelto", source="make", unit="pc"), item("old", mass_g=1), item("new", mass_g=2)]
    lines = [line("kelto", "old", to_date=day(9)), line("kelto", "new", from_date=day(10))]
    plan = [airframe("KL-1", "kelto", 9), airframe("KL-2", "kelto", 10)]
    found = rolled("mass", items, ("KL-1", "KL-2"), structure=lines, build_plan=plan)
    assert value(found, "kelto", "KL-1") == 0.001
    assert value(found, "kelto", "KL-2") == 0.002


def test_a_replaced_item_counts_as_its_replacement() -> None:
    items = [
        item("wing", source="make", unit="pc"),
        item("old", unit="pc", cost=3, hours_each=5),
        item("new", unit="pc", cost=4),
    ]
    tables = {"structure": [line("wing", "old", 2)], "replacements": [{"old": "old", "new": "new"}]}
    assert value(rolled("cost", items, **tables), "wing") == 8.0
    assert value(rolled("hours", items, **tables), "wing") == 0.0


# ---------------------------------------------------------------- against the inverse


def with_values(tables: Tables, seed: int) -> Tables:
    """Random tables with masses, costs and hours on some of the items."""
    chance = random.Random(seed)
    columns = ("mass_g", "cost", "hours_each", "hours_per_order")
    items = [
        row | {name: chance.choice([None, round(chance.uniform(0, 90), 2)]) for name in columns}
        for row in tables["items"]
    ]
    return {**tables, "items": items}


class Naive:
    """The rolled-up values by matrix inversion, in the plainest way."""

    def __init__(self, tables: Tables, kind: Roll, serial: str) -> None:
        """Invert (I - N) for one serial number."""
        self.tables, self.kind, self.serial = tables, kind, serial
        self.items = {text_in(row, "item"): row for row in tables["items"]}
        self.replaced = {
            text_in(r, "old"): text_in(r, "new") for r in tables.get("replacements", [])
        }
        names = list(self.items)
        place = {name: number for number, name in enumerate(names)}
        n = np.zeros((len(names), len(names)))
        for parent, child, quantity in self.links():
            n[place[parent], place[child]] += quantity
        own = np.array([self.own(name) for name in names])
        self.values = dict(zip(names, inv(np.eye(len(names)) - n) @ own, strict=True))

    def passes(self, name: str) -> bool:
        return name in self.replaced or self.items[name]["source"] == "phantom"

    def good(self, name: str) -> float:
        row = self.items[name]
        if self.passes(name) or self.kind == "mass":
            return 1.0
        processes = {text_in(r, "process"): r for r in self.tables.get("processes", [])}
        of_process = number_in(processes.get(text_in(row, "process"), {}), "scrap_rate")
        return 1 - number_in(row, "scrap_rate", of_process)

    def lot(self, name: str) -> float:
        row = self.items[name]
        if self.passes(name):
            return 1.0
        least, step = max(1.0, number_in(row, "minimum")), number_in(row, "multiple") or 1.0
        return float(np.ceil(round(least / step, 9)) * step)

    def stated(self, name: str) -> float | None:
        """The value that stands for all that is in an item."""
        row = self.items[name]
        if self.kind == "hours" or name in self.replaced:
            return None
        if self.kind == "cost":
            return None if row.get("cost") is None else number_in(row, "cost") / self.good(name)
        if row.get("mass_g") is not None:
            return number_in(row, "mass_g") / 1000
        return {"kg": 1.0, "g": 0.001}.get(text_in(row, "unit"))

    def own(self, name: str) -> float:
        row = self.items[name]
        if self.kind != "hours":
            return self.stated(name) or 0.0
        each = number_in(row, "hours_each") + number_in(row, "hours_per_order") / self.lot(name)
        return 0.0 if self.passes(name) else each / self.good(name)

    def links(self) -> list[tuple[str, str, float]]:
        found = []
        for old, new in self.replaced.items():
            units = text_in(self.items[old], "unit"), text_in(self.items[new], "unit")
            found.append((old, new, converted(1.0, *units)))
        for row in self.tables["structure"]:
            parent, child = text_in(row, "parent"), text_in(row, "child")
            per_order = row.get("per") == "order"
            left_out = parent in self.replaced or self.stated(parent) is not None
            if left_out or not self.active(row) or (per_order and self.kind == "mass"):
                continue
            unit = text_in(self.items[child], "unit")
            quantity = converted(number_in(row, "quantity"), text_in(row, "unit", unit), unit)
            if self.kind != "mass":
                quantity /= 1 - number_in(row, "waste")
            quantity /= self.good(parent) * (self.lot(parent) if per_order else 1.0)
            found.append((parent, child, quantity))
        return found

    def active(self, row: Row) -> bool:
        start = self.tables["plan"][0]["start"]
        if not self.serial and is_conditional(row):
            return False
        options: set[str] = set()
        when = start
        for name, day_column in (("fleet", "delivered"), ("build_plan", "ready_date")):
            for aircraft in self.tables.get(name, []):
                if aircraft["serial"] == self.serial:
                    options = names_in(aircraft, "options")
                    when = aircraft.get(day_column) or start
        assert isinstance(when, date)
        return line_is_active(row, self.serial, options, when)


@pytest.mark.parametrize("kind", ["mass", "cost", "hours"])
@given(seed=st.integers(0, 99_999))
@settings(deadline=None, derandomize=True, max_examples=15)
def test_every_rolled_up_value_is_that_of_the_inverse(kind: Roll, seed: int) -> None:
    tables = with_values(random_tables(seed), seed)
    serials = ["", *(text_in(row, "serial") for row in tables["build_plan"])]
    found = roll_up(typed_tables(tables), kind, serials)
    for serial in serials:
        expected = Naive(tables, kind, serial).values
        assert found.values(serial) == pytest.approx(expected, rel=1e-9)


def test_what_an_order_takes_once_is_spread_over_the_usual_lot_where_there_is_one() -> None:
    items = [
        item("pin", source="make", unit="pc", hours_each=1, hours_per_order=6, minimum=2),
        item("bush", source="make", unit="pc", hours_per_order=6, minimum=2),
        item("wax", unit="kg", cost=8),
    ]
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 4}]
    lines = [line("pin", "wax", 1, per="order")]
    tables = typed_tables({"plan": plan, "items": items, "structure": lines})
    hours = roll_up(tables, "hours", ("",), usual(pin=4))
    assert (value(hours, "pin"), value(hours, "bush")) == (2.5, 3)
    assert value(roll_up(tables, "cost", ("",), usual(pin=4)), "pin") == 2


def test_the_usual_lot_of_a_part_is_the_mean_of_its_orders() -> None:
    orders = pl.DataFrame({"item": ["pin", "bush", "pin"], "quantity": [3.0, 7.0, 5.0]})
    assert dict(mean_lots(orders).iter_rows()) == {"pin": 4, "bush": 7}


@given(st.lists(st.floats(0.1, 99), min_size=1, max_size=9))
def test_spread_over_the_usual_lot_all_orders_take_just_what_they_take_once_each(
    started: list[float],
) -> None:
    orders = pl.DataFrame({"item": ["pin"] * len(started), "quantity": started})
    [(_, lot)] = mean_lots(orders).iter_rows()
    assert sum(3.0 / lot * each for each in started) == pytest.approx(3.0 * len(started))
