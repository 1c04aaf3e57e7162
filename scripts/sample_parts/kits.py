"""Service kits for the fleet, placards and papers."""

from sample_parts.catalogue import add_purchases, add_sets, add_uses
from sample_parts.model import Sample

SETS = """
KT001 | Door seal kit, both doors | kit | 2 | 0.4 |
KT002 | Nose-leg service kit | kit | 2 | 0.4 |
KT003 | Main wheel and brake kit | kit | 2 | 0.5 |
KT004 | Annual inspection kit, engine and airframe | kit | 3 | 0.8 |
KT005 | Rudder cable kit | kit | 2 | 0.4 |
KT006 | Wing tip repair kit | kit | 2 | 0.6 |
KT007 | Printed fairing and bracket set | kit | 1 | 0.3 |
PL001 | Papers and placards set | phantom | | | FENLARK 1 offset_days=12
"""

PAPER = """
PL701 | Flight and maintenance handbook | PLAK | 46 |  | 10 | PL001 1 | cover_days=20
PL702 | Handbook supplement, autopilot | PLAK | 9 | 80 | 10 | PL001 1 with_option=AUTOPILOT
+ | cover_days=20
PL703 | Handbook supplement, long-range tanks | PLAK | 9 | 70 | 10 | PL001 1 with_option=LONGRANGE
+ | cover_days=20
PL704 | Placard sheet, cockpit, etched | PLAK | 38 | 60 | 12 | PL001 1 | cover_days=15 minimum=10
PL705 | Placard sheet, exterior, film | PLAK | 27 | 40 | 12 | PL001 1 | cover_days=15
PL706 | Parachute warning triangle, film | PLAK | 4 | 5 | 12 | PL001 3 | cover_days=20 multiple=10
PL707 | Identification plate, stainless | PLAK | 19 | 25 | 15 | PL001 1 | cover_days=15
PL708 | Registration letters, film, cut to order | PLAK | 62 | 90 | 10 | PL001 1 |
PL709 | Kit box, cardboard, large | PLAK | 2.6 | | 6 | KT001 1; KT003 1; KT004 1; KT006 1
+ | multiple=25 cover_days=20
PL710 | Kit box, cardboard, small | PLAK | 1.4 | | 6 | KT002 1; KT005 1; KT007 1
+ | multiple=25 cover_days=20
PL711 | Instruction sheet, service kits | PLAK | 0.5 | | 6 |
+ KT001 1; KT002 1; KT003 1; KT004 1; KT005 1; KT006 1; KT007 1 | multiple=50 cover_days=20
"""

USES = """
MA309 | KT001 150ml
UC726 | KT002 30g; KT003 40g
MA310 | KT003 5ml
CK517* | KT004 1 note=worn+grip+shells
MA108 | KT006 1.5m2
MA301 | KT006 400g note=mixed+by+mass
MA302 | KT006 120g note=mixed+by+mass
MA322 | KT006 0.5l
UC501* | KT007 1 without_option=TUNDRA
UC503 | KT007 1 without_option=TUNDRA
UC506 | KT007 2 with_option=TUNDRA
AV506 | KT007 2
AV507 | KT007 2 with_option=AUTOPILOT
FU508* | KT007 1
"""


def add_kits(sample: Sample) -> None:
    """Add the kits and the papers set, which is a phantom of each airframe's own."""
    add_sets(sample, SETS)
    add_purchases(sample, PAPER)
    add_uses(sample, USES)
