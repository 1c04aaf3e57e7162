"""Whether two plans are of the same things: how many items and airframes are in both."""

from dataclasses import dataclass

from bomkit.tables.schema import Tables

LEAST_SHARED = 0.1  # of the shorter list of items


@dataclass(frozen=True)
class SharedNames:
    """How many items there are before, after and in both; airframes: how many are in both."""

    before: int
    after: int
    both: int
    airframes: int

    @property
    def related(self) -> bool:
        """Whether one plan can be what became of the other."""
        return self.airframes > 0 or self.both >= LEAST_SHARED * min(self.before, self.after)


def shared_names(before: Tables, after: Tables) -> SharedNames:
    """What two sets of input tables share; an airframe is a serial number of one and the same item,
    in the build plan or in the fleet."""
    one, other = (set(tables["items"]["item"]) for tables in (before, after))
    airframes = _airframes(before) & _airframes(after)
    return SharedNames(len(one), len(other), len(one & other), len(airframes))


def _airframes(tables: Tables) -> set[tuple[str, str]]:
    """Serial number and item of all that is to be built and all that flies."""
    columns = ("serial", "item")
    return {row for name in ("build_plan", "fleet") for row in tables[name].select(columns).rows()}
