"""Plans small tables and shows what came out by day numbers.

Every plan starts on Monday 2026-11-30, the first day of 2026-W49. Days are numbered as on the
planner's own axis; `day` gives their dates in plans without closed days.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from functools import cached_property

import polars as pl

from bomkit.planning.allocation import Stores, allocated, stores_tables
from bomkit.planning.allocation_by_forecast import Made
from bomkit.planning.forecast.finished_from_house import finishable
from bomkit.planning.forecast.forecast import Forecast
from bomkit.planning.forecast.peg_graph import NO_BOUNDS
from bomkit.planning.forecast.peg_tables import asking_order
from bomkit.planning.netting.netted_plan import Flows, plan_flows
from bomkit.planning.netting.planned_orders import planned_orders, projection
from bomkit.planning.orders_for_unserved_needs import Making, covered
from bomkit.planning.pegging.peg import Pegged, peg_next
from bomkit.planning.shop_plan import ShopPlan, last_turn, told
from bomkit.planning.tables_as_numbers.network import Network, build_network
from bomkit.words.progress import silent
from tests.builders import typed_tables
from tests.random_tables import Row, Tables

MONDAY = date(2026, 11, 30)
USUAL_SHELF = {"min_shelf_days": 90}  # as the table has it, where a test is about shelf life
WEEK = 5  # working days

# start day, due day, quantity started
Shape = tuple[int, int, float]
# demand, day of the need, quantity, kind of supply, name of the supply
Peg = tuple[str, int, float, str, str]

# item, supply, start date (of a planned order), days, finish date
Link = tuple[str, str, date | None, int, date]


def day(number: int) -> date:
    """The date of a working day; day -1 is the Friday before the plan starts."""
    return MONDAY + timedelta(days=number // 5 * 7 + number % 5)


def on(when: int | date) -> date:
    """The date meant by a day number or a date."""
    return day(when) if isinstance(when, int) else when


def item(name: str, **columns: object) -> Row:
    """An item: bought by the kilogram unless the columns say something else."""
    return {"item": name, "source": "buy", "unit": "kg"} | columns


def piece(name: str, source: str = "buy", lead: int = 0, **columns: object) -> Row:
    """An item counted in pieces."""
    return item(name, source=source, unit="pc", lead_days=lead, **columns)


def line(parent: str, child: str, quantity: float = 1, **columns: object) -> Row:
    """A structure line."""
    return {"parent": parent, "child": child, "quantity": quantity} | columns


def need(name: str, quantity: float, when: int | date, **columns: object) -> Row:
    """A spares order; what is packed for it must last until it leaves, and no longer."""
    row: Row = {"order": f"need of {on(when)}", "item": name, "quantity": quantity}
    return row | {"need_date": on(when), "min_shelf_days": 0} | columns


def lot(name: str, quantity: float, expires: int | date | None = None, **columns: object) -> Row:
    """A row of stock."""
    last = None if expires is None else on(expires)
    return {"item": name, "quantity": quantity, "expires": last} | columns


def receipt(name: str, quantity: float, when: int | date, **columns: object) -> Row:
    """An open order."""
    row: Row = {"order": f"due on {on(when)}", "item": name, "quantity": quantity}
    return row | {"due_date": on(when)} | columns


def airframe(serial: str, name: str, ready: int | date, options: str = "") -> Row:
    """A row of the build plan."""
    return {"serial": serial, "item": name, "ready_date": on(ready), "options": options}


def needs_by_period(name: str, quantities: Sequence[float]) -> list[Row]:
    """A need on the first day of each period in which there is one; the first is period 1."""
    return [need(name, q, period * WEEK) for period, q in enumerate(quantities) if q]


def plan_of(items: list[Row], /, **tables: list[Row]) -> "Plan":
    """The plan of these tables for four weeks, days 0 to 19."""
    return plan_over(4, items, **tables)


def plan_over(weeks: int, items: list[Row], /, **tables: list[Row]) -> "Plan":
    """The plan of these tables for some weeks from the first Monday on."""
    settings: list[Row] = [{"start": MONDAY, "horizon_weeks": weeks}]
    return Plan({"plan": settings, "items": items, **tables})


class Netted:
    """The plan of a network by netting alone: nothing pulled forward, blind to who gets what."""

    def __init__(self, network: Network) -> None:
        """Plan the network."""
        self.network = network
        self.flows: Flows = plan_flows(network)

    @cached_property
    def orders(self) -> pl.DataFrame:
        """The planned orders."""
        return planned_orders(self.network, self.flows)

    @cached_property
    def projection(self) -> pl.DataFrame:
        """The planning record by week."""
        return projection(self.network, self.flows)


def plan_shops(network: Network, tables: dict[str, pl.DataFrame], pull_weeks: int) -> ShopPlan:
    """The plan of a network, pulled forward by at most some weeks, with all that is told of it."""
    return told(last_turn(network, tables, pull_weeks, silent), tables)


def netted(tables: Tables) -> Netted:
    """The plan of these tables by netting alone."""
    return Netted(build_network(typed_tables(tables)))


class Plan:
    """One plan: its network, its flows and its result tables."""

    def __init__(self, tables: Tables) -> None:
        """Plan the tables."""
        self.tables = typed_tables(tables)
        making = Making(lambda network, _: Netted(network), self._pegged, self._allocated)
        plan, self.stores, self.left_to_plan = covered(build_network(self.tables), making)
        self.network, self.flows, self.orders = plan.network, plan.flows, plan.orders

    def _pegged(self, plan: Netted, last: Pegged | None) -> Pegged:
        return peg_next(plan.network, plan.flows, plan.orders, self.tables, last)

    def _allocated(self, plan: Netted, first: Pegged) -> Stores:
        made = Made(plan.network, self.tables, plan.flows, plan.orders, NO_BOUNDS)
        return allocated(made, first)

    @cached_property
    def projection(self) -> pl.DataFrame:
        """The planning record by week."""
        return projection(self.network, self.flows)

    @property
    def pegged(self) -> Pegged:
        """Needs and pegs."""
        return self.stores.pegged

    @cached_property
    def told_pegs(self) -> pl.DataFrame:
        """The pegs with what they say of their supplies, and the names of the orders that ask."""
        columns = ("kind", "supply", "location", "usable")
        told = self.pegged.told(self.pegged.pegs, *columns)
        return told.with_columns(
            pl.col("supply", "location").fill_null(""),
            from_order=asking_order(self.orders, told["from_id"]),
        )

    @cached_property
    def told_needs(self) -> pl.DataFrame:
        """The needs with the names of the orders that ask."""
        needs = self.pegged.needs
        return needs.with_columns(from_order=asking_order(self.orders, needs["from_id"]))

    @property
    def ahead(self) -> Forecast:
        """The forward pass over the pegs."""
        return self.stores.ahead

    @cached_property
    def results(self) -> dict[str, pl.DataFrame]:
        """The result tables of the stores."""
        return stores_tables(self.stores)

    @property
    def pegs(self) -> pl.DataFrame:
        """The result table pegs."""
        return self.results["pegs"]

    @property
    def pacing(self) -> pl.DataFrame:
        """The result table pacing."""
        return self.results["pacing"]

    @property
    def forecast(self) -> pl.DataFrame:
        """The result table forecast."""
        return self.results["forecast"]

    @property
    def ready(self) -> pl.DataFrame:
        """The result table ready."""
        return self.results["ready"]

    @property
    def stand_ins(self) -> pl.DataFrame:
        """The result table stand_ins."""
        return self.results["stand_ins"]

    @property
    def packing(self) -> pl.DataFrame:
        """The result table packing."""
        return self.results["packing"]

    @property
    def promises(self) -> pl.DataFrame:
        """The result table promises."""
        return self.results["promises"]

    @cached_property
    def from_house(self) -> pl.DataFrame:
        """Which airframes could be finished if nothing more arrived."""
        return finishable(self.network)

    def earliest_of(self, demand: str) -> tuple[date, int, int]:
        """Earliest date, late days and spare days of an airframe or spares order."""
        found = self.forecast.filter(pl.col("demand") == demand)
        row: tuple[date, int, int] = found.select("earliest_date", "late_days", "spare_days").row(0)
        return row

    def chain_of(self, demand: str) -> list[Link]:
        """The chain that paces a demand."""
        found = self.pacing.filter(pl.col("demand") == demand).sort("step")
        return found.select("item", "supply", "start_date", "days", "finish_date").rows()

    def orders_of(self, name: str, serial: str = "") -> list[Shape]:
        """Start day, due day and quantity of an item's orders, by start day."""
        found = self._own(self.orders, name, serial).sort("start", "usable")
        return found.select("start", "due", "quantity").rows()

    def late_days_of(self, name: str, serial: str = "") -> list[int]:
        """Late days of an item's orders, in the order of the days on which they are usable."""
        return self._own(self.orders, name, serial).sort("usable")["late_days"].to_list()

    def gross_of(self, name: str, serial: str = "") -> dict[int, float]:
        """What is asked of an item on each day on which something is."""
        by_day = self._by_day(self.flows.gross, name, serial)
        return {number: quantity for number, quantity in enumerate(by_day) if quantity}

    def on_hand_of(self, name: str, serial: str = "") -> list[float]:
        """What is on hand of an item at the end of each day, planned orders included."""
        frames = (self.flows.supply, self.flows.good, self.flows.gross)
        supply, good, gross = (self._by_day(frame, name, serial) for frame in frames)
        balance = 0.0
        balances = []
        for number in range(self.network.axis.count):
            balance += supply[number] + good[number] - gross[number]
            balances.append(round(balance, 9))
        return balances

    def weekly(self, name: str, column: str, serial: str = "") -> list[float]:
        """One column of an item's planning record, week by week."""
        found = self.projection.filter(pl.col("item") == name, pl.col("serial") == serial)
        return found.sort("week")[column].to_list()

    def pegs_of(self, name: str, serial: str = "") -> list[Peg]:
        """Which supply serves which need of an item, in the order in which they are served."""
        named = self.told_pegs.join(
            self.pegged.demands.select("demand_id", "demand"), on="demand_id", maintain_order="left"
        ).with_columns(pl.col("quantity").round(9))
        columns = ("demand", "day", "quantity", "kind", "supply")
        return self._own(self.network.named(named), name, serial).select(columns).rows()

    def needs_of(self, name: str, serial: str = "") -> list[tuple[str, int, float, str]]:
        """Demand, day, quantity and asking order of an item's needs, in the order of service."""
        named = self.told_needs.join(
            self.pegged.demands.select("demand_id", "demand"), on="demand_id", maintain_order="left"
        ).with_columns(pl.col("quantity").round(9))
        columns = ("demand", "day", "quantity", "from_order")
        return self._own(self.network.named(named), name, serial).select(columns).rows()

    def _own(self, frame: pl.DataFrame, name: str, serial: str) -> pl.DataFrame:
        return frame.filter(pl.col("item") == name, pl.col("serial") == serial)

    def _by_day(self, wide: pl.DataFrame, name: str, serial: str) -> list[float]:
        days = [str(number) for number in range(self.network.axis.count)]
        rows = self._own(self.network.named(wide), name, serial).select(days).rows()
        return [round(quantity, 9) for quantity in rows[0]] if rows else [0.0] * len(days)


def releases(plan: Plan, name: str, periods: int) -> list[float]:
    """What is started of an item in each period."""
    started = [0.0] * periods
    for start, _, quantity in plan.orders_of(name):
        started[start // WEEK] += quantity
    return started
