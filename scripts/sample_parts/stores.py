"""Where stock lies, and the lots and expiry dates of what spoils."""

from datetime import date, timedelta
from random import Random

from sample_parts.model import Item, Stock

# material: days a fresh lot keeps
LIFE_DAYS = {
    "MA106": 330,
    "MA301": 540,
    "MA302": 540,
    "MA303": 360,
    "MA304": 360,
    "MA307": 270,
    "MA308": 360,
    "MA309": 360,
    "MA310": 540,
    "MA321": 540,
    "MA322": 540,
    "MA323": 540,
    "MA324": 360,
    "MA326": 540,
    "MA327": 360,
    "MA502": 720,
    "MA503": 720,
    "MA504": 720,
    "MA505": 360,
}
PLACES = {
    "MA1": "cloth store, rack {}",
    "MA2": "core store, shelf {}",
    "MA3": "cool store, shelf {}",
    "MA4": "lay-up shop, cabinet {}",
    "MA5": "print shop, dry box {}",
    "MA6": "metal store, bay {}",
    "HW": "hardware bins, row {}",
    "AV": "avionics cage, shelf {}",
    "CK": "avionics cage, shelf {}",
    "PP": "engine bay, rack {}",
    "00": "main store, rack {}",
    "PL": "office store, shelf {}",
}
MADE_PLACES = {
    "lay-up": "lay-up rack {}",
    "print": "print shop, bin {}",
    "machine": "machined parts, drawer {}",
    "core-trim": "lay-up rack {}",
}
FIRST_LOT_DATE = date(2026, 8, 3)


def stock_rows(item: Item, quantity: float, serial: str, random: Random) -> list[Stock]:
    """The stock of an item: one row, or two lots with expiry dates for what spoils."""
    place = "freezer 1" if item.item == "MA106" else _place(item, random)
    if serial:
        return [Stock(item.item, quantity, "assembly hall", serial=serial)]
    life = LIFE_DAYS.get(item.item)
    if not life:
        return [Stock(item.item, quantity, place)]
    first = round(quantity * random.uniform(0.3, 0.6), 1)
    made = FIRST_LOT_DATE + timedelta(days=random.randint(0, 40))
    rows = []
    for part in (first, round(quantity - first, 4)):
        if part:
            lot = f"{item.item[2:]}-{made:%y%m}{random.choice('ABCD')}"
            expires = made + timedelta(days=life)
            rows.append(Stock(item.item, part, place, lot, expires=expires))
        made += timedelta(days=random.randint(25, 45))
    return rows


def _place(item: Item, random: Random) -> str:
    """A place in the store or shop that suits the item."""
    made = MADE_PLACES.get(item.process, "assembly hall, rack {}")
    bought = PLACES.get(item.item[:3]) or PLACES.get(item.item[:2], "main store, rack {}")
    return (bought if item.source == "buy" else made).format(random.randint(1, 14))
