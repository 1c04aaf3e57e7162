"""Which planning keys can be asked for at all, and the structure lines between them."""

from dataclasses import dataclass

import numpy as np

from bomkit.planning.netting.arrays import Flags, Ints, each_repeated, floats, ints
from bomkit.planning.tables_as_numbers.network import Network


@dataclass(frozen=True)
class Reached:
    """keys: by level, ascending. Of each line that counts between two keys: parent and child (their
    keys), line (its place among the network's lines)."""

    keys: list[Ints]
    parent: Ints
    child: Ints
    line: Ints


def reached_keys(network: Network, wanted: Ints) -> Reached:
    """What can be asked for where some keys are wanted, level by level from the top."""
    lines = _Lines(network)
    level_of = ints(network.items["level"])
    waiting: list[list[Ints]] = [[] for _ in range(int(level_of.max(initial=0)) + 1)]
    fresh = wanted
    keys, between = [], []
    for level in range(len(waiting)):
        for below, part in _by_level(level_of[network.keys.item(fresh)], fresh):
            waiting[below].append(part)
        keys.append(np.unique(np.concatenate([*waiting[level], np.zeros(0, np.int64)])))
        between.append(lines.below(keys[-1]))
        fresh = between[-1][1]
    parent, child, line = (np.concatenate(parts) for parts in zip(*between, strict=True))
    return Reached(keys, parent, child, line)


def wanted_keys(network: Network) -> Ints:
    """The keys with a demand, a receipt or stock, and those with safety stock, each once."""
    items = network.items
    kept = np.flatnonzero((floats(items["safety_stock"]) > 0) & ~items["specific"].to_numpy())
    keys = [ints(network.stock["key"]), network.keys.of(kept)]
    for part in (network.demands, network.receipts):
        keys.append(ints(part["key"])[~part["past"].to_numpy()])
    return np.unique(np.concatenate(keys))


def _by_level(levels: Ints, keys: Ints) -> list[tuple[int, Ints]]:
    """The keys parted by level."""
    return [(level, keys[levels == level]) for level in np.unique(levels).tolist()]


class _Lines:
    """The network's lines by parent, and for which serials they count."""

    def __init__(self, network: Network) -> None:
        """Sorts the lines by parent; those of one keep their order."""
        lines = network.lines
        parent = ints(lines["parent_id"])
        self.keys = network.keys
        self.by_parent = np.argsort(parent, kind="stable")
        self.count = np.bincount(parent, minlength=len(network.items))
        self.first = np.cumsum(self.count) - self.count
        self.child = ints(lines["child_id"])
        self.condition = ints(lines["condition"])
        self.specific = network.items["specific"].to_numpy()
        self.held = held_conditions(network, int(self.condition.max(initial=0)))

    def below(self, keys: Ints) -> tuple[Ints, Ints, Ints]:
        """Parent key, child key and line of every line that counts for some keys."""
        item = self.keys.item(keys)
        line = self.by_parent[each_repeated(self.first[item], self.count[item])]
        parent = np.repeat(keys, self.count[item])
        serial = self.keys.serial(parent)
        counts = self.held[self.condition[line], serial]
        parent, serial, line = parent[counts], serial[counts], line[counts]
        child = self.child[line]
        return parent, self.keys.of(child) + np.where(self.specific[child], serial, 0), line


def held_conditions(network: Network, conditions: int) -> Flags:
    """Whether each condition (row) holds for each serial; condition 0 always does."""
    held = np.zeros((conditions + 1, network.serial_count), np.bool_)
    held[ints(network.active["condition"]), ints(network.active["serial_id"])] = True
    held[0] = True
    return held
