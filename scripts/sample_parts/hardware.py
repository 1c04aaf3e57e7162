"""Bolts, nuts, washers, rivets and other small hardware, and the sets they are drawn in."""

from sample_parts.catalogue import add_purchases, add_sets
from sample_parts.model import Replacement, Sample

SETS = """
HW001 | Hardware set, wing to fuselage | phantom | | | FENLARK 1 offset_days=3
HW002 | Hardware set, tail to fuselage | phantom | | | FENLARK 1 offset_days=4
HW003 | Hardware set, undercarriage to fuselage | phantom | | | FENLARK 1 offset_days=1
HW004 | Hardware set, engine to firewall | phantom | | | FENLARK 1 offset_days=5
HW005 | Hardware set, fuselage equipment | phantom | | | FU001 1
HW006 | Hardware set, panel | phantom | | | CK010 1
HW007 | Hardware set, fairings and covers | phantom | | | FENLARK 1 offset_days=9
"""

BOLTS = """
HW101 | Bolt, hex, M4 x 16, steel | HARR | 0.21 | 2.4 | 8 | HW005 48; HW006 40; HW002 8 |
HW102 | Bolt, hex, M5 x 16, steel | HARR | 0.24 | 4.1 | 8 | HW005 54; FU030* 8; PP001 20
+ WG010* 12 |
HW103 | Bolt, hex, M5 x 25, steel | HARR | 0.27 | 5.3 | 8 | HW005 36; CK030 16; TL020* 6; PP001 12 |
HW104 | Bolt, hex, M6 x 20, steel | HARR | 0.31 | 7.2 | 8 | HW005 42; WG010* 16; FU020 24
+ PP001 24 |
HW105 | Bolt, hex, M6 x 30, steel | HARR | 0.34 | 9.1 | 8 | HW005 18; WG001* 10; CK040 8; TL010 8 |
HW106 | Bolt, hex, M6 x 45, steel | HARR | 0.42 | 12 | 8 | HW001 12; TL001 6; CK030 8; CK040 6 |
HW107 | Bolt, hex, M8 x 25, steel | HARR | 0.52 | 15 | 8 | HW003 12; PP001 10; UC001 12; HW004 4 |
HW108 | Bolt, hex, M8 x 40, steel | HARR | 0.61 | 21 | 8 | HW003 8; UC002 6; UC001 8; HW004 8 |
HW109 | Bolt, hex, M8 x 60, high-strength | HARR | 1.90 | 29 | 12 | HW002 4; UC020 4
+ | safety_days=3 structure_class=primary
HW110 | Bolt, hex, M10 x 50, high-strength | HARR | 2.80 | 42 | 12 | HW003 8; UC020 2
+ | safety_days=3 structure_class=primary
HW111 | Bolt, hex, M10 x 75, high-strength | HARR | 3.40 | 58 | 12 | HW004 4
+ | safety_days=3 structure_class=primary
HW112 | Bolt, hex, M12 x 90, high-strength | HARR | 5.60 | 98 | 12 | HW001 4
+ | safety_days=3 structure_class=primary
HW116 | Bolt, hex, M4 x 30, steel | HARR | 0.26 | 3.6 | 8 | HW005 14; HW006 12; AV030 8 |
HW117 | Bolt, hex, M5 x 40, steel | HARR | 0.33 | 7.4 | 8 | CK040 8; TL001 6; HW005 9 |
HW118 | Bolt, hex, M6 x 60, steel | HARR | 0.51 | 15 | 8 | HW003 8; UC001 4; CK030 4 |
HW113 | Clevis pin, 6 x 22 | HARR | 0.95 | 5 | 8 | FU001 6; WG001* 4; CK030 6; KT005 4 |
HW114 | Clevis pin, 8 x 28 | HARR | 1.25 | 11 | 8 | WG001* 2; UC002 2; KT002 2 |
HW115 | Shoulder bolt, 8 x 20, M6 | HARR | 1.70 | 13 | 12 | WG022* 3; TL020* 3; WG021* 2 |
"""

SCREWS = """
HW121 | Screw, countersunk, M3 x 10, stainless | HARR | 0.05 | 0.6 | 8 | HW006 90; AV030 24
+ AV001 40 |
HW122 | Screw, countersunk, M4 x 12, stainless | HARR | 0.07 | 1.3 | 8 | HW007 110; HW005 36
+ TL001 16 |
HW123 | Screw, countersunk, M4 x 20, stainless | HARR | 0.09 | 1.9 | 8 | HW007 60; WG001* 36
+ TL002 8 |
HW124 | Screw, pan head, M3 x 8, stainless | HARR | 0.04 | 0.6 | 8 | HW006 120; CK050 24; AV030 30 |
HW125 | Screw, pan head, M4 x 10, stainless | HARR | 0.06 | 1.2 | 8 | HW005 72; CK020 8; PP010 24 |
HW126 | Screw, pan head, M5 x 14, stainless | HARR | 0.09 | 2.4 | 8 | PP010 20; HW007 40; KT004 10 |
HW127 | Screw, socket, M5 x 20, steel | HARR | 0.14 | 4 | 8 | CK040 16; CK050 8; UC011* 6
+ UC012* 6 |
HW128 | Screw, socket, M6 x 25, steel | HARR | 0.19 | 7 | 8 | PP001 18; PP020 6; UC013 6; UC014 6 |
HW129 | Self-tapping screw, 3.5 x 13 | HARR | 0.03 | 0.8 | 8 | HW005 84; HW007 40 |
HW133 | Screw, socket, M4 x 16, steel | HARR | 0.11 | 2.2 | 8 | CK030 12; CK040 8; UC001 12 |
HW134 | Screw, pan head, M3 x 16, nylon | HARR | 0.05 | 0.2 | 8 | AV030 16; CK010 24 |
HW130 | Cup washer, M4, black | HARR | 0.06 | 0.5 | 8 | HW007 110; HW005 36 |
HW131 | Grub screw, M5 x 6 | HARR | 0.08 | 0.7 | 8 | CK050 6; WG458* 2; CK453 1 |
HW132 | Thumb screw, M4, captive | HARR | 0.90 | 4 | 10 | PP010 4; HW007 6 |
"""

NUTS = """
HW141 | Nut, self-locking, M3 | HARR | 0.06 | 0.4 | 8 | HW006 130; AV030 40 |
HW142 | Nut, self-locking, M4 | HARR | 0.07 | 0.9 | 8 | HW005 78; HW006 40; HW002 8; PP010 24 |
HW143 | Nut, self-locking, M5 | HARR | 0.08 | 1.3 | 8 | HW005 90; FU030* 8; PP001 32; CK030 16 |
HW144 | Nut, self-locking, M6 | HARR | 0.11 | 2.3 | 8 | HW005 60; WG010* 16; PP001 24; HW001 12
+ FU020 24; TL001 6; CK030 8; WG001* 10 |
HW145 | Nut, self-locking, M8 | HARR | 0.19 | 5 | 8 |
+ HW003 20; PP001 10; UC001 20; UC002 6; HW004 12
+ UC020 4 |
HW146 | Nut, self-locking, all-metal, M8 | HARR | 0.85 | 5.5 | 12 | HW002 4; HW004 6; PP020 6 |
HW147 | Nut, castellated, M10 | HARR | 0.70 | 11 | 10 | HW003 8; UC020 2; HW004 4 |
HW148 | Nut, castellated, M12 | HARR | 0.95 | 17 | 10 | HW001 4; UC001 4; UC002 2 |
HW149 | Anchor nut, M4, two lugs | HARR | 0.62 | 2 | 12 | FU020 60; WG010* 24; TL010 8 |
HW150 | Anchor nut, M5, two lugs | HARR | 0.70 | 2.6 | 12 | FU020 40; WG010* 16; PP010 20 |
HW151 | Anchor nut, M6, floating | HARR | 1.20 | 4.5 | 12 | FU020 24; WG020* 4; TL010 4 |
HW152 | Threaded insert, M4, bonded | HARR | 0.55 | 3 | 10 | FU010 30; WG001* 10; CK020 12 |
HW153 | Threaded insert, M3, heat-set, brass | HARR | 0.11 | 0.8 | 8 | CK010 60; AV030 24
+ CK050 12 |
HW154 | Rivet nut, M5, aluminium | HARR | 0.22 | 2 | 8 | FU001 50; PP010 12 |
HW156 | Rivet nut, M5, steel | HARR | 0.27 | 3.1 | 8 | |
HW155 | Rivet nut, M6, steel | HARR | 0.29 | 4.4 | 8 | FU001 30; PP001 8 |
"""

WASHERS = """
HW161 | Washer, M3 | HARR | 0.01 | 0.1 | 6 | HW006 240; AV030 60 |
HW162 | Washer, M4 | HARR | 0.01 | 0.3 | 6 | HW005 156; HW006 80; HW002 16; TL001 16 |
HW163 | Washer, M5 | HARR | 0.02 | 0.5 | 6 | HW005 180; FU030* 16; PP001 60; CK030 32 |
HW164 | Washer, M6 | HARR | 0.02 | 1 | 6 | HW005 120; WG010* 32; PP001 48; HW001 24; FU020 48 |
HW165 | Washer, M8 | HARR | 0.03 | 1.9 | 6 | HW003 40; PP001 20; UC001 40; UC002 12; HW004 24 |
HW166 | Washer, M10, high-strength | HARR | 0.16 | 4 | 8 | HW003 16; UC020 4; HW004 8 |
HW167 | Washer, M12, high-strength | HARR | 0.21 | 7 | 8 | HW001 8; UC001 8 |
HW168 | Washer, large, M5 x 20 | HARR | 0.04 | 2 | 6 | HW005 36; FU001 40; WG001* 12 |
HW169 | Washer, large, M6 x 25 | HARR | 0.06 | 4 | 6 | FU001 30; PP001 12; UC001 8 |
HW170 | Spring washer, M8 | HARR | 0.04 | 1.5 | 6 | PP001 10; PP020 6 |
HW171 | Cotter pin, 2 x 20 | HARR | 0.03 | 0.5 | 6 | HW001 6; HW003 10; CK030 8; UC001 4; KT005 8 |
HW172 | Cotter pin, 3.2 x 32 | HARR | 0.05 | 1.4 | 6 | HW001 4; UC020 2; UC002 2; KT002 4 |
HW176 | Sealing ring, copper, 12 mm | HARR | 0.14 | 1.2 | 8 | PP030 4; PP001 6; KT004 4 |
HW177 | Shim washer, 8 x 0.3, steel | HARR | 0.12 | 0.4 | 8 | UC020 4; CK040 6; WG022* 4 |
HW173 | Locking wire, 0.8 mm | HARR | 0.22 | 4 | 6 | HW004 3m; PP001 6m; PP020 2m | unit=m
HW174 | Circlip, 26 mm, inner | HARR | 0.18 | 2.2 | 8 | WG454* 1; CK451 2 |
HW175 | Safety ring, 12 mm | HARR | 0.09 | 1 | 8 | HW001 6; HW002 6; KT005 6 |
"""

RIVETS = """
HW181 | Rivet, blind, 3.2 x 6, aluminium | HARR | 0.03 | 0.5 | 6 | FU020 180; WG010* 120; TL010 60
+ PP010 80; FU001 140 |
HW182 | Rivet, blind, 3.2 x 10, aluminium | HARR | 0.03 | 0.7 | 6 | FU020 90; WG010* 60; PP010 40 |
HW183 | Rivet, blind, 4 x 8, steel | HARR | 0.06 | 1.5 | 6 | FU020 60; FU001 40; PP001 30
+ UC001 16 |
HW184 | Rivet, solid, 2.4 x 7, countersunk | HARR | 0.02 | 0.3 | 8 | FU020 240; WG010* 96
+ PP010 56 |
HW185 | P-clip, 8 mm, rubber-lined | HARR | 0.34 | 4 | 8 | FU001 24; PP001 18; AV020 6 |
HW186 | P-clip, 12 mm, rubber-lined | HARR | 0.39 | 6 | 8 | FU001 16; PP001 14 |
HW187 | P-clip, 20 mm, rubber-lined | HARR | 0.52 | 11 | 8 | PP001 8; FU001 6; CK010 4 |
HW188 | Hose clamp, worm drive, 20-32 mm | HARR | 0.85 | 16 | 8 | PP001 14; FU001 4; KT004 4 |
HW189 | Grommet, 8 mm | HARR | 0.07 | 0.8 | 6 | FU001 20; PP001 6; CK010 6 |
HW190 | Grommet, 16 mm | HARR | 0.12 | 2 | 6 | FU001 12; PP001 6 |
HW191 | Quarter-turn fastener, cover | HARR | 1.35 | 6 | 10 | HW007 16; FU001 12 |
HW194 | Chafing tape, clear, 50 mm | HARR | 1.40 | 9 | 6 | WG001* 90cm; PP010 2m; TL001 60cm
+ | unit=m
HW195 | Spacer tube, M6 x 15, aluminium | HARR | 0.38 | 2 | 8 | HW005 9; CK030 4; PP001 6 |
HW196 | Spacer tube, M4 x 10, nylon | HARR | 0.09 | 0.3 | 8 | CK010 20; AV030 8 |
HW192 | Hook tape, adhesive, 25 mm | HARR | 0.95 | 14 | 6 | FU001 480cm waste=0.05 | unit=m
HW193 | Edge trim, rubber, 3 mm | RUBB | 1.20 | 45 | 8 | FU001 620cm; CK010 180cm; PP010 90cm
+ | unit=m
"""


def add_hardware(sample: Sample) -> None:
    """Add the hardware sets, which are phantoms, and the hardware, which comes in packs."""
    add_sets(sample, SETS)
    for table, pack in ((BOLTS, 100), (SCREWS, 200), (NUTS, 100), (WASHERS, 500), (RIVETS, 100)):
        add_purchases(sample, table, multiple=pack, cover_days=20)
    for code in ("HW104", "HW144", "HW145", "HW164"):
        sample.items[code].safety_stock = 100
    for code in ("HW109", "HW110", "HW111", "HW112", "HW132", "HW146", "HW191"):
        sample.items[code].multiple = 20
    for code in ("HW181", "HW184"):
        sample.items[code].multiple = 1000
    sample.replacements.append(
        Replacement("HW154", "HW156", "aluminium rivet nuts turned in their holes; steel fits")
    )
