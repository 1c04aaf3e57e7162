"""The plan: level by level from the top, net each level and explode its orders to the next ones."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Flags, Floats, Ints, ints
from bomkit.planning.netting.compiled_structure import Structure, compile_structure
from bomkit.planning.netting.keys_asked_for import wanted_keys
from bomkit.planning.netting.level_by_level import Quantities, planned_quantities
from bomkit.planning.netting.supply_by_day import Supplied, supplied
from bomkit.planning.netting.too_much import too_much_named
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.words.progress import Tell, silent


@dataclass(frozen=True)
class Flows:
    """What came out, each a wide frame: key and a column a working day, the same rows in each.

    gross: requirements; supply: usable stock and receipts, less what expires; receipts alone;
    starts: quantity started by the day on which it is usable; good: expected good of it.
    lots: expiring lots with columns key, lot ..., gross (to the last day of use), used.
    """

    structure: Structure
    supplied: Supplied
    quantities: Quantities

    @cached_property
    def supply_by_row(self) -> Floats:
        """Usable stock and receipts, less what expires: all rows of the structure by days."""
        supply = np.zeros_like(self.quantities.gross)
        supply[self.supplied.rows] = self.quantities.supply
        return supply

    @cached_property
    def receipts_by_row(self) -> Floats:
        """Receipts alone: all rows of the structure by days."""
        receipts = np.zeros_like(self.quantities.gross)
        self.supplied.receipts.added_to(receipts)
        return receipts

    @cached_property
    def good_by_row(self) -> Floats:
        """Expected good of what starts, by usable day: all rows of the structure by days."""
        good: Floats = self.quantities.starts * self.structure.rules.good[:, None]
        return good

    @cached_property
    def gross(self) -> pl.DataFrame:
        """Requirements."""
        return self._wide(self.quantities.gross)

    @cached_property
    def supply(self) -> pl.DataFrame:
        """Usable stock and receipts, less what expires."""
        return self._wide(self.supply_by_row)

    @cached_property
    def receipts(self) -> pl.DataFrame:
        """Receipts alone."""
        return self._wide(self.receipts_by_row)

    @cached_property
    def starts(self) -> pl.DataFrame:
        """What is started, by the day on which it is usable."""
        return self._wide(self.quantities.starts)

    @cached_property
    def good(self) -> pl.DataFrame:
        """What is expected good of it."""
        return self._wide(self.good_by_row)

    @cached_property
    def lots(self) -> pl.DataFrame:
        """The expiring lots with gross (needed by their last day) and used (what each serves)."""
        lots = self.supplied.expiring
        needed = np.cumsum(self.quantities.gross[self.structure.rows_of(ints(lots["key"]))], axis=1)
        return lots.with_columns(
            gross=pl.Series(needed[np.arange(len(lots)), ints(lots["day"])]),
            used=pl.Series(self.quantities.used),
        )

    def lots_by_cost(self) -> pl.DataFrame:
        """Of the keys whose lots are chosen by cost whether these are proven to cost the least:
        key, proven."""
        rows = np.flatnonzero(self.structure.rules.least_cost)
        return pl.DataFrame(
            {"key": self.structure.keys[rows], "proven": self.quantities.proven[rows]}
        )

    @cached_property
    def started(self) -> pl.DataFrame:
        """What starts, or is passed on, as rows: key, usable (the day), quantity."""
        starts = self.quantities.starts[self.rows].T
        day, row = np.nonzero(starts)
        return pl.DataFrame(
            {
                "key": self.structure.keys[self.rows][row],
                "usable": day.astype(np.int64),
                "quantity": starts[day, row],
            }
        )

    @cached_property
    def rows(self) -> Ints:
        """The rows that stand in the plan, by level and key: something is there or asks for it."""
        structure = self.structure
        present: Flags = np.zeros(len(structure.keys), np.bool_)
        present[self.supplied.present] = True
        starting: Flags = np.logical_or.reduce(self.quantities.starts, axis=1)
        present[structure.child[starting[structure.parent]]] = True
        rows: Ints = structure.listed[present[structure.listed]]
        return rows

    def _wide(self, quantities: Floats) -> pl.DataFrame:
        """A frame of the rows that stand in the plan."""
        by_day = np.ascontiguousarray(quantities[self.rows].T)
        days = {str(day): pl.Series(values) for day, values in enumerate(by_day)}
        return pl.DataFrame({"key": self.structure.keys[self.rows], **days})


def plan_flows(
    network: Network,
    tell: Tell = silent,
    known: Structure | None = None,
) -> Flows:
    """Nets and explodes every level; `tell` is given a word on each level for a progress line.

    known: a structure compiled of the same items and lines, used again where it reaches as far.
    """
    reaches = known is not None and known.knows(wanted_keys(network))
    structure = known if known and reaches else compile_structure(network)
    beside = supplied(network, structure)
    with too_much_named(network, structure):
        return Flows(structure, beside, planned_quantities(structure, beside, tell))


def handed_on(network: Network, flows: Flows) -> Flags:
    """Of each row of what starts whether it is passed on: its item has no orders of its own."""
    passes: Flags = network.items["passes"].to_numpy()
    return passes[network.keys.item(ints(flows.started["key"]))]


def timed_lines(network: Network) -> pl.DataFrame:
    """The structure lines with what the parent and the child say about them."""
    lines, items = network.lines, network.items
    return lines.hstack(
        [
            *(items[name][lines["parent_id"]] for name in ("lead", "safety")),
            items["specific"][lines["child_id"]].alias("child_specific"),
        ]
    )
