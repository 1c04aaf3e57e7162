"""The frames of a plan are what is declared of them."""

import polars as pl
import pytest

from bomkit.planning.tables_as_numbers import frame_columns
from bomkit.planning.tables_as_numbers.keys import Keys
from bomkit.planning.tables_as_numbers.network import Network, build_network
from tests.builders import typed_tables
from tests.random_tables import random_tables

DECLARED = {
    "items": frame_columns.ITEMS,
    "serials": frame_columns.SERIALS,
    "lines": frame_columns.LINES,
    "active": frame_columns.ACTIVE,
    "demands": frame_columns.DEMANDS,
    "receipts": frame_columns.RECEIPTS,
    "stock": frame_columns.STOCK,
    "least": frame_columns.LEAST,
}


@pytest.fixture(scope="module")
def network() -> Network:
    """The network of random tables."""
    return build_network(typed_tables(random_tables(3)))


@pytest.mark.parametrize("name", DECLARED)
def test_a_network_has_the_columns_declared_in_their_order(network: Network, name: str) -> None:
    assert getattr(network, name).schema == pl.Schema(DECLARED[name])


def test_a_key_names_its_item_and_serial() -> None:
    keys = Keys(serial_count=4)
    assert keys.of(3) + 2 == 14
    assert (keys.item(14), keys.serial(14)) == (3, 2)


def test_the_key_of_a_common_item_names_no_serial(network: Network) -> None:
    common = network.items.filter(~pl.col("specific"))["item_id"]
    assert network.keys.serial(network.keys.of(common)).unique().to_list() == [0]
