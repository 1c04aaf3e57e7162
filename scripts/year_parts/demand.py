"""What customers want along the year: more airframes, other options, grounded aircraft."""

from __future__ import annotations

import datetime as dt
import random
import re
from collections.abc import Mapping
from pathlib import Path

import polars as pl

from bomkit.inputs.tables_as_text import table_files
from bomkit.problems import has_errors
from bomkit.runs.checked_tables import checked_inputs
from bomkit.tables.columns_and_rules.by_name import INPUTS

Frames = Mapping[str, pl.DataFrame]


class Customers:
    """Draws what customers want; knows the airframes and options of the first week."""

    def __init__(self, seed: int, first: Frames) -> None:
        self.chance = random.Random(seed + 1)
        line = first["build_plan"].sort("ready_date")
        self.options = sorted(set(line["options"]))
        self.items = sorted(set(first["spares_orders"]["item"])) or sorted(set(line["item"]))
        days = (line["ready_date"][-1] - line["ready_date"][0]).days
        self.apart = max(1, round(days / max(1, len(line) - 1)))
        self.weeks_of_new_options = sorted(self.chance.sample(range(4, 48), 2))
        self.told: list[str] = []

    def want(self, folder: Path, tables: dict[str, pl.DataFrame], number: int) -> Frames:
        """Adds what is new in a week to the tables, and to the folder they lie in."""
        changes = []
        if number % 4 == 3:
            changes.append(self._next_airframes)
        if number % 4 == 1:
            changes.append(self._grounded)
        if number in self.weeks_of_new_options:
            changes.append(self._other_options)
        for change in changes:
            for _ in range(10):  # what does not fit an aircraft is drawn again
                wanted, words = change(tables, number)
                if _sound(folder, wanted):
                    break
            else:
                raise AssertionError(f"week {number}: nothing drawn is in order")
            tables = wanted
            self.told.append(words)
        return tables

    def _next_airframes(
        self, tables: dict[str, pl.DataFrame], number: int
    ) -> tuple[dict[str, pl.DataFrame], str]:
        """The build plan goes on to where it reached in the first week, seen from today."""
        plan = tables["build_plan"]
        until = tables["plan"]["start"][0] + dt.timedelta(
            weeks=min(26, tables["plan"]["horizon_weeks"][0])
        )
        known = pl.concat([tables[n].select("serial", "item") for n in ("build_plan", "fleet")])
        last = max(known["serial"], key=lambda name: (len(name), name))
        day = max([*plan["ready_date"], tables["plan"]["start"][0]])
        item = known.filter(pl.col("serial") == last)["item"][0]
        rows = []
        while day + dt.timedelta(days=self.apart) < until:
            day += dt.timedelta(days=self.apart)
            last = _after(last)
            options = self.chance.choice(self.options)
            rows.append({"serial": last, "item": item, "ready_date": day, "options": options})
        added = pl.DataFrame(rows, schema=INPUTS["build_plan"].schema)
        return {**tables, "build_plan": pl.concat([plan, added])}, f"airframes up to {last}"

    def _grounded(
        self, tables: dict[str, pl.DataFrame], number: int
    ) -> tuple[dict[str, pl.DataFrame], str]:
        """An aircraft waits for a part."""
        serial = self.chance.choice(sorted(tables["fleet"]["serial"]))
        item = self.chance.choice(self.items)
        day = tables["plan"]["start"][0] + dt.timedelta(days=4)
        row = {
            "order": f"G-{number:03}",
            "item": item,
            "quantity": 1.0,
            "need_date": day,
            "serial": serial,
            "urgency": "grounded",
            "customer": "",
            "min_shelf_days": 0,
        }
        added = pl.DataFrame([row], schema=INPUTS["spares_orders"].schema)
        orders = pl.concat([tables["spares_orders"], added])
        return {**tables, "spares_orders": orders}, f"{serial} grounded for {item}"

    def _other_options(
        self, tables: dict[str, pl.DataFrame], number: int
    ) -> tuple[dict[str, pl.DataFrame], str]:
        """The customer of the last airframe of the line wants it otherwise."""
        plan = tables["build_plan"].sort("ready_date", "serial")
        serial, options = plan["serial"][-1], self.chance.choice(self.options)
        wanted = pl.when(pl.col("serial") == serial).then(pl.lit(options)).otherwise("options")
        changed = tables["build_plan"].with_columns(options=wanted)
        return {**tables, "build_plan": changed}, f"{serial} with options '{options}'"


def _after(serial: str) -> str:
    """The next serial number, with as many digits."""
    found = re.fullmatch(r"(.*?)(\d+)", serial)
    assert found is not None, serial
    return f"{found[1]}{int(found[2]) + 1:0{len(found[2])}}"


def _sound(folder: Path, tables: Frames) -> bool:
    """Writes the tables into the folder; whether they are in order."""
    for name, content in table_files(tables).items():
        (folder / name).write_bytes(content)
    return not has_errors(checked_inputs(folder)[1])
