"""The needs and supplies of one level, key by key, handed to `allocate`."""

from collections.abc import Iterator

import polars as pl

from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.pegging.allocate import allocate
from bomkit.planning.pegging.counter import LASTS, Need, Supply
from bomkit.planning.pegging.lasting import Foreseen, Lasting
from bomkit.planning.pegging.supplies import RANKS, STOCK
from bomkit.units import WHOLE_UNITS

NEED = ("key", "day", "quantity", "from_id", "demand_id", "asked_id", "leaves", "rank")
_FOUND = {
    "need_row": pl.Int64,
    "key": pl.Int64,
    "quantity": pl.Float64,
    "supply_id": pl.UInt32,
}


# need row (None: for nobody), key, quantity, supply (None: none)
_ALIKE = ("key", "rank", "day", "until", "shelf", "whose")
_NONE = 2**32 - 1  # stands for no supply while needs are told apart
_ORDER = ("key", "day", "from_id")
_OF_ORDER = pl.col("from_id") >= 0
# what an order takes is for all whom it serves: of the first rank of theirs, lasting for each
_AS_ONE = (
    ("rank", pl.col("rank").min().over(_ORDER)),
    ("until", pl.col("until").max().over(_ORDER)),
    ("shelf", pl.col("shelf").max().over(_ORDER)),
    (
        "whose",
        pl.when(pl.col("whose").n_unique().over(_ORDER) == 1).then("whose").otherwise(pl.lit("")),
    ),
)
_Stretch = tuple[int | None, int, float, int | None]


class Matching:
    """Knows of each need in which turn it is served and how long it must last."""

    def __init__(
        self,
        network: Network,
        demands: pl.DataFrame,
        supplies: pl.DataFrame,
        asked: pl.DataFrame,
        foreseen: Foreseen | None = None,
    ) -> None:
        """demands, supplies, foreseen: as peg has them; asked: as spares_rows gives them."""
        self.comes = supplies["comes"] if foreseen is None else foreseen.comes
        served = demands.sort("rank", "date", "demand", "whose")["demand_id"]
        self.turns = pl.zeros(len(served), pl.Int64, eager=True).scatter(
            served, pl.int_range(len(served), eager=True)
        )
        self.whose = demands["whose"]
        self.serial_count = network.serial_count
        self.pieces: list[bool] = network.items["unit"].is_in(WHOLE_UNITS).to_list()
        self.lasting = Lasting(network.axis.dates, asked, foreseen)
        self.ordinals: list[int] = self.lasting.ordinals.tolist()

    def in_line(self, needs: pl.DataFrame) -> pl.DataFrame:
        """The needs of one level, those alike added up, by key and day; those of one order stand
        together, as it takes whole pieces for all whom it serves."""
        first = pl.when(_OF_ORDER).then(pl.col("turn").min().over(_ORDER)).otherwise("turn")
        return (
            needs.with_columns(turn=self.turns.gather(needs["demand_id"]))
            .with_columns(first=first)
            .sort("key", "day", "first", "from_id", "turn", "asked_id", "leaves", "quantity")
            .group_by(
                *("key", "day", "from_id", "demand_id", "asked_id", "leaves"), maintain_order=True
            )
            .agg(pl.col("quantity").sum(), pl.col("rank").min())
            .select(NEED)
        )

    def side_by_side(self, needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.DataFrame:
        """Which supply serves which need: a row for each stretch.

        Columns of the need (null: supply that nothing needs) and supply_id (null: a need that
        nothing serves) with the quantity of the stretch.
        """
        ordered = supplies.with_columns(comes=self.comes.gather(supplies["supply_id"])).sort(
            *("key", "comes"),
            pl.col("kind").replace_strict(RANKS),
            pl.col("expires").fill_null(pl.date(9999, 12, 31)),
            *("usable", "supply_id"),
        )
        rows = needs.with_row_index("need_row").with_columns(pl.col("need_row").cast(pl.Int64))
        choosy = _choosy(rows, ordered)
        with_choice = pl.col("key").is_in(choosy.implode())
        met = pl.concat(
            [
                laid_along(rows.filter(~with_choice), ordered.filter(~with_choice)),
                self._chosen(rows.filter(with_choice), ordered.filter(with_choice)),
            ]
        ).sort("key", "need_row", nulls_last=True, maintain_order=True)
        place = met["need_row"]
        others = [name for name in NEED if name not in ("key", "quantity")]
        columns = {name: needs[name].gather(place) for name in others}
        return met.with_columns(**columns).select(*NEED, "supply_id")

    def _chosen(self, needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.DataFrame:
        """The stretches of keys that take a choice: need_row, key, quantity, supply_id."""
        offered = _offered(supplies)
        alike = self._alike(needs, supplies)
        unit = pl.when(_OF_ORDER).then("from_id").otherwise(-1 - pl.col("need_row"))
        units = alike.group_by(*_ALIKE, unit=unit, maintain_order=True).agg(
            pl.col("quantity").sum()
        )
        groups = units.group_by(*_ALIKE, maintain_order=True).agg(parts="quantity")
        asked: dict[int, list[Need]] = {}
        for key, rank, day, until, shelf, whose, parts in groups.iter_rows():
            need = Need(rank, day, sum(parts), until, shelf, whose, parts)
            asked.setdefault(key, []).append(need)
        got: list[tuple[int, float, int | None]] = []
        free: list[_Stretch] = []
        number = 0
        for key in sorted(asked.keys() | offered.keys()):
            ids, own = offered.get(key, ([], []))
            pieces = self.pieces[key // self.serial_count]
            allocate(asked.get(key, []), own, self.ordinals, pieces)
            left = [supply.quantity for supply in own]
            for need in asked.get(key, []):
                for place, quantity in need.taken():
                    got.append((number, quantity, None if place is None else ids[place]))
                    if place is not None:
                        left[place] -= quantity
                number += 1
            free += _left_over(key, left, ids, own)
        served = _told_apart(alike, groups, got)
        return pl.concat([served, pl.DataFrame(free, schema=_FOUND, orient="row")])

    def _alike(self, needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.DataFrame:
        """The needs in the order in which they are served, with what tells them apart: until (0
        where nothing expires), shelf, whose ("" where nothing is kept for anybody)."""
        expiring = supplies.filter(pl.col("expires").is_not_null())["key"].unique()
        kept = supplies.filter(pl.col("meant_for") != "")["key"].unique()
        lasting = self.lasting.of(needs, needs["key"].is_in(expiring.implode()).to_numpy())
        whose = pl.when(pl.col("key").is_in(kept.implode())).then("whose")
        return (
            needs.with_columns(*lasting, whose=self.whose.gather(needs["demand_id"]))
            .with_columns(whose=whose.otherwise(pl.lit("")))
            .with_columns(
                pl.when(_OF_ORDER).then(each).otherwise(name).alias(name) for name, each in _AS_ONE
            )
            .sort("key", "rank", maintain_order=True)
        )


def _choosy(needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.Series:
    """The keys whose needs are of different ranks, leave the house, or may not have all of it."""
    asked = needs.group_by("key").agg(
        ranks=pl.col("rank").n_unique(), leaves=pl.col("leaves").any()
    )
    several = asked.filter((pl.col("ranks") > 1) | pl.col("leaves"))["key"]
    limited = supplies.filter(pl.col("expires").is_not_null() | (pl.col("meant_for") != ""))["key"]
    return pl.concat([several, limited]).unique()


def laid_along(needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.DataFrame:
    """Needs and supplies laid along their running sums, each in its order: need_row (null: for
    nobody), key, quantity, supply_id (null: a need that nothing serves).

    That is what `allocate` gives where all needs are of one rank and may have every supply.
    """
    end = pl.col("quantity").cum_sum().over("key")
    asked = needs.select("key", "need_row", end=end, supply_id=pl.lit(None, pl.UInt32))
    offered = supplies.select("key", "supply_id", end=end, need_row=pl.lit(None, pl.Int64)).select(
        asked.columns
    )
    stretch = pl.col("end") - pl.col("end").shift(1, fill_value=0.0).over("key")
    return (
        pl.concat([asked, offered])
        .sort("key", "end", maintain_order=True)
        .with_columns(pl.col("need_row", "supply_id").backward_fill().over("key"), quantity=stretch)
        .filter(pl.col("quantity") > pl.col("end") * TOLERANCE)
        .select(_FOUND.keys())
    )


def _offered(ordered: pl.DataFrame) -> dict[int, tuple[list[int], list[Supply]]]:
    """By key the numbers of its supplies and the supplies, in their order."""
    found: dict[int, tuple[list[int], list[Supply]]] = {}
    columns = ("key", "supply_id", "quantity", "comes", "kind", "expires", "meant_for")
    for key, number, quantity, comes, kind, expires, kept in ordered.select(columns).iter_rows():
        ids, own = found.setdefault(key, ([], []))
        ids.append(number)
        last = LASTS if expires is None else expires.toordinal()
        own.append(Supply(quantity, comes, kind == STOCK, last, kept))
    return found


def _told_apart(
    alike: pl.DataFrame, groups: pl.DataFrame, got: list[tuple[int, float, int | None]]
) -> pl.DataFrame:
    """What groups of needs got, laid along the needs themselves."""
    numbered = groups.select(_ALIKE).with_row_index("group")
    of_needs = alike.join(numbered, on=_ALIKE, maintain_order="left").select(
        pl.col("group").cast(pl.Int64), "need_row", "key", "quantity"
    )
    schema = {"key": pl.Int64, "quantity": pl.Float64, "supply_id": pl.UInt32}
    takes = pl.DataFrame(got, schema=schema, orient="row").with_columns(
        supply_id=pl.col("supply_id").fill_null(_NONE)
    )
    laid = laid_along(of_needs.select("need_row", "quantity", key="group"), takes)
    keys = numbered["key"].gather(laid["key"])
    return laid.filter(pl.col("need_row").is_not_null()).with_columns(
        key=keys.filter(laid["need_row"].is_not_null()),
        supply_id=pl.when(pl.col("supply_id") != _NONE).then("supply_id"),
    )


def _left_over(
    key: int, left: list[float], ids: list[int], supplies: list[Supply]
) -> Iterator[_Stretch]:
    """What of the supplies of a key nobody has."""
    for quantity, number, supply in zip(left, ids, supplies, strict=True):
        if quantity > supply.quantity * TOLERANCE:
            yield None, key, quantity, number
