"""A year in the life of a shop: plan, work, write down what happened, book it, plan again.

Chance draws scrap (plates fail whole), late and short deliveries, refused pieces, miscounts, other
options for two airframes, and an aircraft grounded a month, all from one seed. After every week
the account must close, no stock be negative, the books be what lies on the shelves (so that no
piece is used twice or lost), and every finished airframe hold what its configuration asks for.
"""

from __future__ import annotations

import argparse
import datetime as dt
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

import polars as pl

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from bomkit.planning.closing.close_week import next_week  # noqa: E402 - after the path is set
from bomkit.planning.comparing.changed_orders import changed_orders, nervousness  # noqa: E402
from bomkit.problems import ProblemsFound  # noqa: E402
from bomkit.runs.files.run_files import FinishedRun, whole_run  # noqa: E402
from bomkit.runs.week.plan import weekly_run  # noqa: E402
from bomkit.words.progress import silent  # noqa: E402
from scripts.year_parts.books import hand_in, to_count  # noqa: E402
from scripts.year_parts.demand import Customers  # noqa: E402
from scripts.year_parts.held import Contents, broken  # noqa: E402
from scripts.year_parts.shop import Shop, Week  # noqa: E402

TINY = ROOT / "sample_boms" / "tiny_glider_tail"


@dataclass
class Year:
    """What a simulated year came to.

    late: calendar days by which each delivered airframe was late (0: in time); value: stock at the
    end of each week; placed, moved: purchases ordered and moved; nervous: share of orders to begin
    within four weeks that changed, each week; broken: what did not hold.
    """

    weeks: int = 0
    late: list[int] = field(default_factory=list)
    spares_late: list[int] = field(default_factory=list)
    value: list[float] = field(default_factory=list)
    placed: int = 0
    moved: int = 0
    scrapped: float = 0.0
    nervous: list[float] = field(default_factory=list)
    broken: list[str] = field(default_factory=list)
    told: list[str] = field(default_factory=list)

    def report(self) -> list[str]:
        """The year in lines."""
        on_time = sum(days == 0 for days in self.late)
        late = [days for days in self.late if days]
        spares = sum(days == 0 for days in self.spares_late)
        most = max(late, default=0)
        mean = sum(self.value) / max(1, len(self.value))
        nervous = f"{100 * _mean(self.nervous):.0f} % of the orders of four weeks"
        return [
            f"weeks                    {self.weeks}",
            f"airframes delivered      {len(self.late)}, {on_time} on time",
            f"calendar days late       {_mean(late):.1f} on average of those late, {most} at most",
            f"spares orders sent       {len(self.spares_late)}, {spares} on time",
            f"stock value              {mean:,.0f} on average, {self.value[-1]:,.0f} at the end",
            f"purchases placed, moved  {self.placed}, {self.moved}",
            f"scrapped pieces          {self.scrapped:,.0f}",
            f"nervousness              {nervous}",
            f"what did not hold        {len(self.broken)}",
        ]


def _mean(values: list[int] | list[float]) -> float:
    return sum(values) / max(1, len(values))


def simulate(data: Path, weeks: int, seed: int, scratch: Path) -> Year:
    """Runs some weeks of a folder of tables; everything lies in a scratch folder."""
    year, contents = Year(), Contents()
    shop, customers, before = None, None, None
    for number in range(weeks):
        run_folder = scratch / f"run-{number:03}"
        weekly_run(data, run_folder, False, silent)
        run = whole_run(run_folder)
        shop = shop or Shop(seed, run.inputs["stock"])
        customers = customers or Customers(seed, run.inputs)
        if before is not None:
            start = run.inputs["plan"]["start"][0]
            changes = changed_orders(before.tables["orders"], run.tables["orders"], start)
            year.nervous.append(nervousness(changes, start))
        until = next_week(run.inputs)
        name = _week_name(run)
        counts = to_count(run_folder, name)
        week = shop.week(name, until, run.inputs, run.tables, counts)
        data = scratch / f"data-{number + 1:03}"
        try:
            taken = hand_in(run_folder, name, week, data)
        except ProblemsFound as found:
            said = [problem.sentence() for problem in found.problems]
            year.broken += [f"{_week_name(run)} refused: {words}" for words in said]
            break
        contents.add(week)
        _look_at(year, run, week, contents)
        after = customers.want(data, taken.tables, number)
        year.broken += [
            f"{_week_name(run)}: {words}"
            for words in broken(run.inputs, after, taken.account, shop.shelf)
        ]
        year.value.append(_value(after))
        before = run
        year.weeks += 1
        print(f"{name} closed", file=sys.stderr, flush=True)
    year.told = customers.told if customers else []
    return year


def _week_name(run: FinishedRun) -> str:
    return run.run_id.rpartition("-")[0]


def _look_at(year: Year, run: FinishedRun, week: Week, contents: Contents) -> None:
    """Adds what a week brought."""
    year.placed += len(week.rows.get("ordered", []))
    year.moved += len(week.rows.get("answered", []))
    year.scrapped += sum(row.get("scrapped") or 0 for row in week.rows.get("worked", []))
    year.spares_late += week.shipped_late
    plan = {row["serial"]: row for row in run.inputs["build_plan"].iter_rows(named=True)}
    for row in week.rows.get("delivered", []):
        wanted = plan[row["serial"]]
        late: dt.timedelta = row["delivered_on"] - wanted["ready_date"]
        year.late.append(max(0, late.days))
        year.broken += contents.wrong(row["serial"], wanted["options"], run.inputs)


def _value(tables: dict[str, pl.DataFrame]) -> float:
    priced = tables["stock"].join(tables["items"].select("item", "cost"), on="item")
    return float((priced["quantity"] * priced["cost"].fill_null(0.0)).sum())


def main() -> int:
    """Simulates and reports; 1 if anything did not hold."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("data", nargs="?", type=Path, default=TINY, help="folder of tables")
    parser.add_argument("--weeks", type=int, default=52)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seeds", type=int, default=1, help="so many years, from --seed on")
    asked = parser.parse_args()
    code = 0
    for seed in range(asked.seed, asked.seed + asked.seeds):
        with tempfile.TemporaryDirectory() as scratch:
            year = simulate(asked.data, asked.weeks, seed, Path(scratch))
        print(f"seed                     {seed}")
        print("\n".join([*year.report(), *year.broken[:20]]), flush=True)
        code = max(code, int(bool(year.broken)))
    return code


if __name__ == "__main__":
    sys.exit(main())
