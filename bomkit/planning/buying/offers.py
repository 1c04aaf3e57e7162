"""What suppliers ask for a quantity by a day: price breaks, and which offer is the right one.

Money in one currency is never added to, or compared with, money in another.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import rounded_up
from bomkit.units import TOLERANCE


@dataclass(frozen=True)
class Break:
    """One row of the price list of an item: a price for each unit from a quantity on."""

    supplier: str
    from_quantity: float
    price: float
    currency: str
    lead: int  # working days
    valid_to: dt.date | None = None  # last day on which it may be ordered at


@dataclass(frozen=True)
class Wish:
    """What is to be bought: a quantity, ordered on a day, wanted some working days later."""

    quantity: float
    ordered: dt.date
    days: int  # working days from ordering to when it is wanted; negative: it was wanted before
    multiple: float = 0.0  # larger quantities are rounded up to it; 0: not at all
    whole: bool = False


@dataclass(frozen=True)
class Offer:
    """A quantity from a supplier at the break that counts for it."""

    supplier: str
    quantity: float
    price: float
    currency: str
    lead: int

    @property
    def total(self) -> float:
        """What it costs."""
        return self.quantity * self.price


@dataclass(frozen=True)
class Advice:
    """What to order, and what else is worth a word.

    best: the lowest total that comes in time, or the lowest where nothing does;
    larger: more than is needed that costs less in total; faster: who comes first,
    where best is late; abroad: the lowest totals in other currencies, which are not compared.
    """

    best: Offer
    late: int  # working days that best comes after the day wanted
    larger: Offer | None = None
    faster: Offer | None = None
    abroad: tuple[Offer, ...] = ()

    @property
    def extra(self) -> float | None:
        """What the faster offer costs more; None without one, or in another currency."""
        if self.faster is None or self.faster.currency != self.best.currency:
            return None
        return self.faster.total - self.best.total


def advised(wish: Wish, breaks: Iterable[Break], currency: str) -> Advice | None:
    """The right offer among the breaks of an item that are valid on the day of ordering.

    currency: in which to look first; where nobody offers in it, the first by name counts. None
    where no break is valid.
    """
    sources = _by_source(_valid(breaks, wish.ordered))
    offers = [offer for own in sources for offer in _offers(wish, own)]
    if not offers:
        return None
    nearest = _nearest(offers)
    in_time = [offer for offer in nearest if offer.lead <= wish.days]
    best = _cheapest(in_time or nearest, currency)
    alike = [offer for offer in offers if offer.currency == best.currency]
    larger = [
        offer
        for offer in alike
        if offer.quantity > wish.quantity * (1 + TOLERANCE)
        and offer.lead <= max(wish.days, best.lead)
        and offer.total < best.total * (1 - TOLERANCE)
    ]
    sooner = [offer for offer in nearest if offer.lead < best.lead and not in_time]
    return Advice(
        best,
        max(0, best.lead - wish.days),
        min(larger, key=_by_total, default=None),
        min(sooner, key=lambda offer: (offer.lead, *_by_total(offer)), default=None),
        _abroad(in_time or nearest, best.currency),
    )


def price_for(quantity: float, breaks: Sequence[Break]) -> float | None:
    """The price a unit at a quantity, of one supplier's breaks; None below the lowest one."""
    reached = [each for each in breaks if each.from_quantity <= quantity * (1 + TOLERANCE)]
    return max(reached, key=lambda each: each.from_quantity).price if reached else None


def present_offer(
    quantity: float, day: dt.date, breaks: Iterable[Break], currency: str
) -> Offer | None:
    """The cheapest offer of just a quantity among breaks that are valid on a day; None below all.

    currency: in which to look first, as in advised.
    """
    offers = [_offer(quantity, own) for own in _by_source(_valid(breaks, day))]
    told = [offer for offer in offers if offer is not None]
    return _cheapest(told, currency) if told else None


def _valid(breaks: Iterable[Break], day: dt.date) -> list[Break]:
    """The breaks at which may be ordered on a day."""
    return [each for each in breaks if each.valid_to is None or each.valid_to >= day]


def _offer(quantity: float, breaks: Sequence[Break]) -> Offer | None:
    """What one supplier offers a quantity at; None below its lowest break."""
    price, about = price_for(quantity, breaks), breaks[0]
    if price is None:
        return None
    return Offer(about.supplier, quantity, price, about.currency, about.lead)


def _by_source(breaks: Iterable[Break]) -> list[list[Break]]:
    """The breaks of each supplier in each currency and lead time, by from_quantity.

    Of two that begin at the same quantity the one that ends first counts: it is the present one.
    """
    by_source: dict[tuple[str, str, int], dict[float, Break]] = {}
    for each in sorted(breaks, key=lambda row: (row.from_quantity, row.valid_to or dt.date.max)):
        own = by_source.setdefault((each.supplier, each.currency, each.lead), {})
        own.setdefault(each.from_quantity, each)
    return [list(own.values()) for _, own in sorted(by_source.items())]


def _offers(wish: Wish, breaks: Sequence[Break]) -> list[Offer]:
    """What one supplier offers: the quantity wished for, and each larger one a break begins at."""
    ordered = partial(rounded_up, multiple=wish.multiple, whole=wish.whole)
    amounts = {wish.quantity, *(ordered(each.from_quantity) for each in breaks)}
    offers = (_offer(amount, breaks) for amount in sorted(amounts) if amount >= wish.quantity)
    return [offer for offer in offers if offer is not None]


def _nearest(offers: Iterable[Offer]) -> list[Offer]:
    """Of each supplier, currency and lead time the smallest quantity that is enough."""
    nearest: dict[tuple[str, str, int], Offer] = {}
    for offer in offers:
        nearest.setdefault((offer.supplier, offer.currency, offer.lead), offer)
    return list(nearest.values())


def _by_total(offer: Offer) -> tuple[float, int, str]:
    return (offer.total, offer.lead, offer.supplier)


def _cheapest(offers: Sequence[Offer], currency: str) -> Offer:
    """The lowest total in a currency, or in the first one by name where there is none in it."""
    known = {offer.currency for offer in offers}
    chosen = currency if currency in known else min(known)
    return min((offer for offer in offers if offer.currency == chosen), key=_by_total)


def _abroad(offers: Sequence[Offer], currency: str) -> tuple[Offer, ...]:
    """The lowest total in each other currency."""
    others = sorted({offer.currency for offer in offers} - {currency})
    return tuple(_cheapest(offers, other) for other in others)
