"""Suppliers and materials: cloth, core, resin, consumables, adhesive, paint, filament, metal."""

from sample_parts.catalogue import add_purchases
from sample_parts.model import Price, Sample, Supplier

SUPPLIERS = """
GARN | Garnvek Technical Textiles | 400
POLL | Pollwitter Resins | 300
SKUM | Skumlet Core Materials | 350
DREL | Drellinger Vacuum Supplies | 150
VANT | Vantoor Surface Coatings | 200
TROS | Troskin Filaments | 80
HARR | Harrowbolt Fasteners | 100
MEES | Meesburg Bearings and Rod Ends | 100
KEST | Kestergaard Engine Works | 0
LUCH | Luchtwijk Propellers | 0
BRIN | Brinkholt Rescue Systems | 0
WIEL | Wielandsen Wheels and Brakes | 250
ORIQ | Oriquet Avionics | 500
TESS | Tessendal Instruments | 200
QUOR | Quornsby Connectors | 75
STRO | Stroomvelt Wire and Cable | 120
HELD | Helderoog Transparencies | 300
SEAT | Seatonmoor Upholstery | 200
FELL | Fellgarthe Hoses and Fittings | 80
IRON | Ironmeer Metals | 150
RUBB | Rubbecke Seals and Mouldings | 60
LICH | Lichtervoor Lamps | 100
PIJP | Pijpendaal Exhausts and Weldments | 200
PLAK | Plakwijn Labels and Print | 50
CORD | Cordwainer Lane Cables | 90
"""

CLOTH_AND_CORE = """
MA101 | Carbon cloth, twill, 160 g/m2 | GARN | 21.50 | | 12 | | multiple=50 safety_stock=40
MA102 | Carbon cloth, biaxial, 270 g/m2 | GARN | 26.80 | | 15 | | multiple=50 safety_stock=20
MA103 | Glass cloth, twill, 163 g/m2 | GARN | 4.10 | | 8 | | multiple=100 safety_stock=20
MA104 | Glass cloth, twill, 280 g/m2 | GARN | 5.30 | | 8 | | multiple=100 safety_stock=30
MA105 | Carbon and aramid cloth, 188 g/m2 | GARN | 33.00 | | 15 | | multiple=25
MA106 | Carbon prepreg, unidirectional, 300 g/m2 fibre | GARN | 38.00 | | 20 | | multiple=25
MA107 | Glass tape, unidirectional, 600 g/m2 | GARN | 7.90 | | 10 | | multiple=50
MA108 | Glass surface cloth, 49 g/m2 | GARN | 1.90 | | 8 | | multiple=100 safety_stock=20
MA201 | Foam core, 3 mm, 45 kg/m3 | SKUM | 9.40 | | 10 | | multiple=10 safety_stock=10
MA202 | Foam core, 5 mm, 45 kg/m3 | SKUM | 12.60 | | 10 | | multiple=10 safety_stock=20
MA203 | Foam core, 8 mm, 60 kg/m3 | SKUM | 17.20 | | 10 | | multiple=10
MA204 | Honeycomb core, 3 mm, aramid paper | SKUM | 41.00 | | 18 | | multiple=5
"""

WET = """
MA301 | Laminating resin, epoxy | POLL | 13.20 | 1000 | 8 | | multiple=20 safety_stock=20
MA302 | Hardener, slow, for MA301 | POLL | 17.90 | 1000 | 8 | | multiple=5 safety_stock=5
MA303 | Structural paste adhesive, epoxy, old grade | POLL | 38.00 | 1000 | 10 | | multiple=5
MA304 | Structural paste adhesive, epoxy, toughened | POLL | 44.00 | 1000 | 12 | | multiple=5
MA305 | Microspheres, filler | POLL | 22.00 | 800 | 8 | | multiple=2
MA306 | Cotton flock, filler | POLL | 9.00 | 1000 | 8 | | multiple=2
MA307 | Tank sealing compound | POLL | 96.00 | 1000 | 14 | | multiple=1
MA308 | Fuel-proof tank lining, epoxy | POLL | 62.00 | 1000 | 14 | | multiple=2.5
MA309 | Contact adhesive, upholstery | POLL | 12.50 | 850 | 6 | | multiple=1 unit=l
MA310 | Thread locking fluid, medium | HARR | 390.00 | 1050 | 6 |
+ | minimum=0.05 multiple=0.05 unit=l
MA321 | Filling primer, two-pack | VANT | 31.00 | 420 | 8 | | multiple=5 unit=l safety_stock=5
MA322 | Top coat, white, two-pack | VANT | 48.00 | 540 | 10 | | multiple=5 unit=l safety_stock=5
MA323 | Trim colour, signal red | VANT | 66.00 | 680 | 12 | | multiple=1 unit=l
MA324 | Paint hardener | VANT | 54.00 | 380 | 10 | | multiple=2.5 unit=l
MA325 | Thinner | VANT | 9.80 | | 6 | | multiple=5 unit=l
MA326 | Fine surfacing filler | VANT | 19.00 | 450 | 8 | | multiple=2
MA327 | Intumescent fire paint | VANT | 74.00 | 1300 | 15 | | multiple=1 unit=l
"""

SHOP = """
MA401 | Peel ply, nylon, 85 g/m2 | DREL | 3.10 | | 6 | | multiple=100 unit=m2 safety_stock=30
MA402 | Release film, perforated | DREL | 1.20 | | 6 | | multiple=100 unit=m2 safety_stock=30
MA403 | Breather fleece | DREL | 1.60 | | 6 | | multiple=100 unit=m2 safety_stock=30
MA404 | Vacuum bagging film | DREL | 0.95 | | 6 | | multiple=200 unit=m2 safety_stock=40
MA405 | Bag sealing tape | DREL | 0.62 | | 6 | | multiple=150 unit=m safety_stock=75
MA406 | Mould release wax, liquid | DREL | 28.00 | | 6 | | multiple=1 unit=l safety_stock=2
MA501 | Filament PLA, 1.75 mm | TROS | 17.00 | | 4 | | multiple=1 unit=kg safety_stock=1
MA502 | Filament PETG, 1.75 mm | TROS | 19.00 | | 4 | | multiple=1 unit=kg safety_stock=2
MA503 | Filament ABS, 1.75 mm | TROS | 21.00 | | 4 | | multiple=1 unit=kg safety_stock=1
MA504 | Filament ASA, 1.75 mm | TROS | 26.00 | | 6 | | multiple=1 unit=kg safety_stock=2
MA505 | Filament PA12, 1.75 mm, dried and sealed | TROS | 58.00 | | 8 | | multiple=0.75 unit=kg
MA506 | Print bed adhesive | TROS | 34.00 | | 4 | | multiple=0.5 unit=l
MA601 | Aluminium bar and plate, heat-treated | IRON | 9.60 | 1000 | 10 | | multiple=5 unit=kg
MA602 | Aluminium sheet, 1.5 mm, clad | IRON | 34.00 | 4100 | 10 | | multiple=2 unit=m2
MA603 | Alloy steel bar | IRON | 7.40 | 1000 | 10 | | multiple=5 unit=kg
MA604 | Aluminium tube, 25 x 1.5 mm | IRON | 8.20 | 300 | 10 | | multiple=6 unit=m
MA605 | Stainless steel rod, 4 mm | IRON | 3.30 | 99 | 10 | | multiple=3 unit=m
"""

# item, supplier, least quantity, price, lead days (empty: as the item says)
PRICES = """
MA101 | GARN | 0 | 21.50 |
MA101 | GARN | 200 | 19.60 |
MA101 | DREL | 0 | 24.80 | 5
MA102 | GARN | 0 | 26.80 |
MA102 | GARN | 150 | 24.10 |
MA104 | GARN | 0 | 5.30 |
MA104 | GARN | 300 | 4.70 |
MA201 | SKUM | 0 | 9.40 |
MA201 | SKUM | 40 | 8.20 |
MA301 | POLL | 0 | 13.20 |
MA301 | POLL | 60 | 11.90 |
MA402 | DREL | 0 | 1.20 |
MA402 | DREL | 400 | 1.05 |
MA604 | IRON | 0 | 8.20 |
MA604 | PIJP | 0 | 7.90 | 18
"""
PAID_AT_ONCE = ("KEST",)  # the engine maker; all others within thirty days

# from memory, as an example of the kind; the safety data sheet of what is bought rules
HAZARDS = {
    "MA301": "UN 3082, class 9",
    "MA302": "UN 2735, class 8",
    "MA309": "UN 1133, class 3",
    "MA322": "UN 1263, class 3",
    "MA323": "UN 1263, class 3",
    "MA325": "UN 1263, class 3",
    "FU706": "UN 3164, class 2.2",
    "FU714": "UN 1044, class 2.2",
    "0008850": "UN 0432, class 1.4S",
    "AV708": "UN 3091, class 9",
    "AV730": "UN 3480, class 9",
}


def add_materials(sample: Sample) -> None:
    """Add the suppliers and all materials; their use is written with the parts.

    The mass of a paint is what stays on the aircraft once it is dry and sanded.
    """
    for row in SUPPLIERS.strip().splitlines():
        code, name, least = (cell.strip() for cell in row.split("|"))
        mail_host = "example.org" if len(name) % 3 == 0 else "example.com"
        email = f"orders.{code.lower()}@{mail_host}"
        days = 0 if code in PAID_AT_ONCE else 30
        supplier = Supplier(code, name, email, float(least), payment_days=days)
        sample.suppliers.append(supplier)
    for row in PRICES.strip().splitlines():
        item, code, least, price, lead = (cell.strip() for cell in row.split("|"))
        lead_days = int(lead) if lead else None
        sample.prices.append(Price(item, code, float(least), float(price), lead_days=lead_days))
    add_purchases(sample, CLOTH_AND_CORE, unit="m2", cover_days=15, safety_days=2)
    add_purchases(sample, WET, unit="kg", cover_days=15, safety_days=2)
    add_purchases(sample, SHOP, cover_days=15, safety_days=1)
    for code, days in {"MA106": 60, "MA301": 120, "MA302": 120, "MA303": 100, "MA304": 90}.items():
        sample.items[code].longest_cover_days = days
    for code, days in {"MA307": 60, "MA322": 120, "MA324": 90, "MA505": 100}.items():
        sample.items[code].longest_cover_days = days


def add_hazards(sample: Sample) -> None:
    """Mark the dangerous goods among all items."""
    for code, words in HAZARDS.items():
        sample.items[code].hazard = words
