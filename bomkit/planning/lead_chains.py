"""Chains of lead times: how long what is below an item takes at the most."""

import polars as pl

from bomkit.planning.tables_as_numbers.network import Network


def days_below(network: Network) -> dict[int, int]:
    """By item_id the working days that lead and safety times below it add up to at most."""
    below: dict[int, list[tuple[int, int]]] = {}
    for parent, child, sooner in asked_sooner(network):
        below.setdefault(parent, []).append((child, sooner))
    ordered = network.items.sort("level", descending=True)
    own = own_days(network)
    chains: dict[int, int] = {}
    for item in ordered["item_id"]:
        chains[item] = max(
            (own[child] + chains[child] + sooner for child, sooner in below.get(item, ())),
            default=0,
        )
    return chains


def asked_sooner(network: Network) -> list[tuple[int, int, int]]:
    """Parent, child and the working days by which the line asks for it before the start."""
    lines = network.lines.select("parent_id", "child_id", -pl.col("offset").clip(upper_bound=0))
    return lines.unique().rows()


def own_days(network: Network) -> dict[int, int]:
    """By item_id the working days from start to use."""
    days = pl.col("lead") + pl.col("safety")
    return dict(network.items.select("item_id", days).iter_rows())
