"""The full-size sample: three a month fit into the shops, four do not, for one reason."""

import polars as pl
import pytest

from bomkit.planning.levelling.resources import Resource
from bomkit.planning.rates.rate_limit import Loads, with_one_more
from bomkit.planning.rates.rates import Window, study_window
from bomkit.runs.checked_tables import checked_inputs
from bomkit.words.progress import silent
from tests.once import once
from tests.samples import FENLARK as FULL

BENCH = Resource("printer", "bench", ("bench",))


class Shops:
    """The sample's shops and what each rate asks of them."""

    def __init__(self) -> None:
        """Read the sample."""
        inputs, _ = checked_inputs(FULL)
        self.tables = inputs.tables
        self.window: Window = study_window(self.tables)
        self.loads = Loads(self.tables, self.window, silent)

    def over(self, per_month: float, tables: dict[str, pl.DataFrame] | None = None) -> set[str]:
        """What is asked for more than there is at a rate."""
        asked = self.loads.at(per_month)
        there = self.loads.there(tables or self.tables)
        return {name for name, (_, each) in there.items() if asked.get(name, 0.0) > each}


@pytest.fixture(scope="module")
def shops(tmp_path_factory: pytest.TempPathFactory) -> Shops:
    """The sample, read once, and its loads at both rates."""
    found = Shops()
    loads_at = found.loads.at
    found.loads.known = once(
        tmp_path_factory, "sample-loads", lambda folder: {rate: loads_at(rate) for rate in (3, 4)}
    )
    return found


def test_three_a_month_fit(shops: Shops) -> None:
    assert shops.over(3) == set()


def test_four_do_not_and_the_old_printers_are_the_one_reason(shops: Shops) -> None:
    assert shops.over(4) == {BENCH.key}


def test_with_one_more_of_them_four_fit(shops: Shops) -> None:
    more, named = with_one_more(shops.tables, BENCH)
    assert named == "bench"
    assert shops.over(4, more) == set()


def test_there_are_200_moulds_of_which_three_wear(shops: Shops) -> None:
    moulds = shops.tables["moulds"]
    assert len(moulds) == 200
    assert moulds["pulls_left"].count() == 3
    assert (moulds.filter(pl.col("pulls_left").is_not_null())["replacement"] != "").all()
