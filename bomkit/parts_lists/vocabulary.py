"""The words by which lists call their columns, units and sums, in the languages of the trade.

Common practice, no source: what drawing programs and spreadsheets write at the head of a list.
"""

import re
import unicodedata
from functools import lru_cache

HEADINGS: dict[str, tuple[str, ...]] = {
    "level": ("level", "lvl", "depth", "stufe", "ebene", "niveau", "nivel", "livello"),
    "position": (
        "position",
        "pos",
        "index",
        "pos nr",
        "repere",
        "posicion",
        "posizione",
        "outline",
    ),
    "parent": (
        *("parent", "goes into", "assembly", "used in", "parent item", "baugruppe", "ubergeordnet"),
        *("geht in", "ensemble", "parent", "conjunto", "padre", "assieme", "va in", "va en"),
    ),
    "item": (
        *("item", "part", "part no", "part number", "item no", "number", "article", "child"),
        *("artikel", "artikelnummer", "teil", "teilenummer", "sachnummer", "nummer", "code"),
        *("reference", "ref", "piece", "codice", "codigo", "pieza", "componente", "component"),
    ),
    "description": (
        *("description", "name", "title", "bezeichnung", "benennung", "beschreibung"),
        *("designation", "libelle", "descrizione", "denominazione", "descripcion", "nombre"),
    ),
    "total": (
        *("total", "total qty", "total quantity", "qty total", "gesamt", "gesamtmenge"),
        *("menge gesamt", "quantite totale", "qte totale", "quantita totale", "cantidad total"),
    ),
    "quantity": (
        *("quantity", "qty", "qty each", "number off", "no off", "count", "menge", "anzahl"),
        *("stuckzahl", "quantite", "qte", "quantita", "q ta", "cantidad", "cant", "aantal"),
        *("qty per", "qty per parent", "menge je", "quantity each", "per parent"),
    ),
    "unit": ("unit", "uom", "unit of measure", "einheit", "me", "unite", "unita", "unidad", "um"),
    "source": ("source", "make or buy", "make buy", "herkunft", "beschaffung", "origine", "origen"),
    "material": ("material", "werkstoff", "matiere", "materiale"),
}
_TOKENS = {role: [set(name.split()) for name in names] for role, names in HEADINGS.items()}
EACH_WORDS = {"each", "per", "je", "par", "por", "cada", "ciascuno", "parent"}
TOTAL_WORDS = {"total", "gesamt", "gesamtmenge", "totale", "totales", "totaux"}
SUM_ROWS = {"total", "totals", "sum", "summe", "gesamt", "gesamtsumme", "somme", "totale", "suma"}
UNIT_WORDS: dict[str, tuple[str, ...]] = {
    "pc": (
        *("pc", "pcs", "piece", "pieces", "ea", "each", "off", "no", "stk", "stck", "st", "stuck"),
        *("pce", "pces", "pz", "pezzi", "pezzo", "ud", "uds", "unidades", "pieza", "piezas"),
    ),
    "m": ("m", "meter", "meters", "metre", "metres", "metro", "metri", "metros", "mtr", "lfm"),
    "cm": ("cm", "centimetre", "centimeter", "zentimeter", "centimetri", "centimetros"),
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimetri", "milimetros"),
    "m2": ("m2", "sqm", "qm", "sq m", "square metre", "square metres", "quadratmeter", "mq"),
    "kg": ("kg", "kgs", "kilo", "kilogram", "kilogramm", "kilogramme", "chilogrammi"),
    "g": ("g", "gr", "gram", "grams", "gramm", "gramme", "grammes", "grammi", "gramos"),
    "l": ("l", "ltr", "liter", "litre", "litres", "litri", "litros"),
    "ml": ("ml", "milliliter", "millilitre", "millilitres", "millilitri"),
}
SOURCE_WORDS: dict[str, tuple[str, ...]] = {
    "make": ("make", "made", "in house", "eigenfertigung", "fertigung", "fabrique", "interno"),
    "buy": ("buy", "bought", "purchase", "purchased", "kauf", "kaufteil", "achat", "acquisto"),
    "print": ("print", "printed", "druck", "gedruckt", "imprime", "stampato"),
}


@lru_cache(maxsize=10_000)  # the same few words stand in many cells
def plain(words: str) -> str:
    """The words in small letters without accents and signs: m² is m2, Qté is qte."""
    flat = unicodedata.normalize("NFKD", words).casefold().replace("ß", "ss")
    kept = "".join(char for char in flat if not unicodedata.combining(char))
    return " ".join(re.sub(r"[^0-9a-z]+", " ", kept).split())


def known_word(words: str, meanings: dict[str, tuple[str, ...]]) -> str:
    """The meaning of the words; "" if they are not known."""
    said = plain(words)
    return (
        next((meaning for meaning, names in meanings.items() if said in names), "") if said else ""
    )


@lru_cache(maxsize=10_000)
def heading_fit(words: str, role: str) -> float:
    """From 0 to 1: how well a heading names a role."""
    said = plain(words)
    if not said:
        return 0.0
    if said in HEADINGS[role]:
        return 1.0
    tokens = set(said.split())
    inside = any(name <= tokens for name in _TOKENS[role])
    return 0.6 if inside else 0.0
