"""Published sling ratings, as printed: wire rope, chain, natural fibre rope, and the European colours.

The column of the vertical single sling is the rating; what the pages print for bridles, chokers and baskets
stands beside it, for reading and for the tests.

>>> GRADE_80.find("8 mm").chain_size
'5/16'
"""

from __future__ import annotations

from typing import NamedTuple

from rigxl.tables import FROM_MEMORY, Source, Table

ROPE_PAGE = Source(
    "US Army FM 5-125 Rigging Techniques, Procedures, and Applications",
    "3 Oct 1995 with Change 1 of 23 Feb 2001",
    "Table 3-5, p. 3-12",
)
GUIDANCE = "OSHA Guidance on Safe Sling Use, Tables and Figures"
GRADE_80_PAGE = Source(GUIDANCE, "no date printed", "Table 1")
GRADE_100_PAGE = Source(GUIDANCE, "no date printed", "Table 2")
CHOKED_PAGE = Source(GUIDANCE, "no date printed", "Table 3, its first rows")
GRADE_8_PAGE = Source(
    "EN 818-4 Chain slings, grade 8", place="working load limits, single leg", note=FROM_MEMORY
)
FIBRE_PAGE = Source("29 CFR 1918 Appendix II", "as of 28 Jul 2023", "Table 2, natural fibre rope, factor 5")
COLOUR_PAGE = Source("EN 1492-1 and EN 1492-2", place="colour by working load limit", note=FROM_MEMORY)


class Rope(NamedTuple):
    """Rope diameter; single vertical sling; double and quadruple slings by angle from horizontal."""

    size: str
    single_lb: int
    double_60deg_lb: int
    double_45deg_lb: int
    double_30deg_lb: int
    quad_60deg_lb: int
    quad_45deg_lb: int
    quad_30deg_lb: int


class Chain(NamedTuple):
    """Chain size in inches and mm; single at 90°; double, triple and quadruple by angle from horizontal."""

    chain_size: str
    chain_size_mm: float
    single_lb: int
    double_60deg_lb: int
    double_45deg_lb: int
    double_30deg_lb: int
    triple_quad_60deg_lb: int
    triple_quad_45deg_lb: int | None = None
    triple_quad_30deg_lb: int | None = None


class Choked(NamedTuple):
    """Chain size in inches and mm; single choker; double and triple chokers by angle from horizontal."""

    chain_size: str
    chain_size_mm: float
    single_choker_lb: int
    double_60deg_lb: int
    double_45deg_lb: int
    double_30deg_lb: int
    triple_quad_60deg_lb: int | None = None


class Metric(NamedTuple):
    """Chain diameter, rating of a single leg."""

    diameter: str
    wll_t: float


class Fibre(NamedTuple):
    """Rope diameter; vertical, choker, and basket by angle from horizontal."""

    rope_diameter: str
    vertical_lb: int
    choker_lb: int
    basket_90deg_lb: int
    basket_60deg_lb: int
    basket_45deg_lb: int
    basket_30deg_lb: int


class Colour(NamedTuple):
    """Rating of a straight sling, and its colour."""

    size: str
    colour: str
    wll_t: float


# fmt: off
WIRE_ROPE = Table(
    "improved plow steel wire rope slings", ROPE_PAGE, rated="single_lb", size_unit="in", grade="IPS", rows=(
    Rope("1/4",     1096,   1899,   1552,   1096,   3798,   3105,   2192),
    Rope("3/8",     2460,   4260,   3485,   2460,   8520,   6970,   4920),
    Rope("7/16",    3560,   6170,   5040,   3560,  12340,  10080,   7120),
    Rope("9/16",    5460,   9450,   7725,   5460,  18900,  15450,  10920),
    Rope("5/8",     6650,  11500,   9400,   6650,  23000,  18800,  13300),
    Rope("7/8",    12900,  22350,  18250,  12900,  44700,  36500,  25800),
    Rope("1",      16800,  29100,  23750,  16800,  58200,  47500,  33600),
    Rope("1 1/4",  26000,  45000,  36800,  26000,  90000,  73600,  52000),
    Rope("1 3/8",  32000,  55400,  45250,  32000, 110800,  90500,  64000),
    Rope("1 5/8",  41800,  72400,  59200,  41800, 144800, 118400,  83600),
    Rope("1 3/4",  49800,  86250,  70500,  49800, 172500, 141000,  99600),
    Rope("2 1/4",  82900, 143500, 117400,  82900, 287000, 234800, 165800),
    Rope("2 1/2", 101800, 176250, 144000, 101800, 352500, 288000, 203600),
))

GRADE_80 = Table(
    "grade 80 alloy chain slings", GRADE_80_PAGE, rated="single_lb", size_unit="in",
    also=("chain_size_mm", "mm"), grade="80", rows=(
    Chain("7/32",   5.5,  2100,   3600,   3000,  2100,   5500,   4400,   3200),
    Chain("5/16",   8,    4500,   7800,   6400,  4500,  11700,   9500,   6800),
    Chain("3/8",   10,    7100,  12300,  10000,  7100,  18400,  15100,  10600),
    Chain("5/8",   16,   18100,  31300,  25600, 18100,  47000,  38400,  27100),
    Chain("3/4",   20,   28300,  49000,  40000, 28300,  73500,  60000,  42400),
    Chain("1",     26,   47700,  82600,  67400, 47700, 123900, 101200,  71500),
    Chain("1 1/4", 32,   72300, 125200, 102200, 72300, 187800, 153400, 108400),
))

GRADE_100 = Table(
    "grade 100 alloy chain slings", GRADE_100_PAGE, rated="single_lb", size_unit="in",
    also=("chain_size_mm", "mm"), grade="100", rows=(
    Chain("7/32",   5.5,  2700,   4700,   3800,  2700,   7000,   5700,   4000),
    Chain("5/16",   8,    5700,   9900,   8100,  5700,  14800,  12100,   8500),
    Chain("3/8",   10,    8800,  15200,  12400,  8800,  22900,  18700,  13200),
    Chain("5/8",   16,   22600,  39100,  32000, 22600,  58700),
    Chain("3/4",   20,   35300,  61100,  49900, 35300,  91700),
))

# Chokers at an angle of choke over 120°: no ratings of their own, they follow from the vertical ones.
CHOKED_80 = Table(
    "grade 80 alloy chain slings, choked", CHOKED_PAGE, size_unit="in",
    also=("chain_size_mm", "mm"), grade="80", rows=(
    Choked("7/32",  5.5, 1700, 2900, 2400, 1700, 4400),
    Choked("5/16",  8,   3600, 6200, 5100, 3600),
    Choked("3/8",  10,   5700, 9800, 8000, 5700),
))

GRADE_8 = Table("grade 8 chain slings", GRADE_8_PAGE, rated="wll_t", size_unit="mm", grade="8", rows=(
    Metric("6",   1.12),
    Metric("7",   1.5),
    Metric("8",   2),
    Metric("10",  3.15),
    Metric("13",  5.3),
    Metric("16",  8),
    Metric("20", 12.5),
    Metric("22", 15),
    Metric("26", 21.2),
    Metric("32", 31.5),
))

FIBRE_ROPE = Table("natural fibre rope slings", FIBRE_PAGE, rated="vertical_lb", size_unit="in", rows=(
    Fibre("1/2",     550,  250,  1100,   900,   750,   550),
    Fibre("5/8",     900,  450,  1800,  1500,  1200,   900),
    Fibre("3/4",    1100,  550,  2200,  1900,  1500,  1100),
    Fibre("7/8",    1500,  750,  3100,  2700,  2200,  1500),
    Fibre("1",      1800,  900,  3600,  3100,  2600,  1800),
    Fibre("1 1/8",  2400, 1200,  4800,  4200,  3400,  2400),
    Fibre("1 1/4",  2700, 1400,  5400,  4700,  3800,  2700),
    Fibre("1 1/2",  3700, 1850,  7400,  6400,  5200,  3700),
    Fibre("1 5/8",  4500, 2300,  9000,  7800,  6400,  4500),
    Fibre("2",      6200, 3100, 12500, 10500,  8800,  6200),
    Fibre("2 1/8",  7200, 3600, 14500, 12500, 10000,  7200),
    Fibre("2 1/2",  9300, 4700, 18500, 16000, 13000,  9300),
    Fibre("2 5/8", 10500, 5200, 21000, 18000, 14500, 10500),
))

COLOURS = Table("web and round slings by European colour", COLOUR_PAGE, rated="wll_t", size_unit="t", rows=(
    Colour("1",  "violet",  1),
    Colour("2",  "green",   2),
    Colour("3",  "yellow",  3),
    Colour("4",  "grey",    4),
    Colour("5",  "red",     5),
    Colour("6",  "brown",   6),
    Colour("8",  "blue",    8),
    Colour("10", "orange", 10),
))
# fmt: on
