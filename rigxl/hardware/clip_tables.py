"""Wire rope clips by rope diameter: how many, how far apart, how long a turnback, how tight.

Three pages differ, and the strictest of those that list a rope is the default. Nothing is read between two
ropes.

>>> {page: least.value for page, least in counts(12.7, "drop forged").items()}
{'29 cfr 1918': 3, 'fm 5-125': 4, 'california': 3}
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from rigxl.hardware.listed import where
from rigxl.mechanics.limits import at_most
from rigxl.tables import Source, Table
from rigxl.units import TORQUE_UNITS, read_size

MANUAL = "US Army FM 5-125 Rigging Techniques, Procedures, and Applications"
CHANGED = "3 Oct 1995 with Change 1 of 23 Feb 2001"
REGULATION_PAGE = Source("29 CFR 1918 Appendix II", "as of 28 Jul 2023", "Table 1, wire rope clips")
MANUAL_PAGE = Source(MANUAL, CHANGED, "Table 2-3, p. 2-36")
CALIFORNIA_PAGE = Source(
    "California Code of Regulations, Title 8, section 8497, Tunnel Safety Orders",
    "no edition stated",
    "Table 1, U-bolt clips with thimble, new rope",
    "read in a page that reproduces the table",
)
ROPE_PAGE = Source(MANUAL, CHANGED, "Table 1-2, p. 1-10, 6x19 wire rope")
FACTOR_PAGE = Source(MANUAL, CHANGED, "Table 1-3, p. 1-11, least factors of safety")


class Regulation(NamedTuple):
    """Rope diameter, clips of drop forged steel, of other material, least spacing in inches and in cm."""

    rope_diameter: str
    drop_forged: int
    other_material: int
    spacing_in: float
    spacing_cm: float


class Manual(NamedTuple):
    """Rope diameter, clip size, number of clips, spacing in inches and millimetres, torque."""

    rope_diameter: str
    clip_size: str
    clips: int
    spacing_in: float
    spacing_mm: int
    torque_ft_lb: int


class California(NamedTuple):
    """Rope diameter, least number of clips, turnback, torque."""

    rope_diameter: str
    clips: int
    turn_back_in: float
    torque_lb_ft: int


class Rope(NamedTuple):
    """Diameter, weight, breaking strength by grade; None where the page has no value."""

    diameter: str
    weight_lb_per_ft: float | None
    iron_short_ton: float | None
    traction_short_ton: float | None
    plow_short_ton: float
    improved_plow_short_ton: float
    extra_improved_short_ton: float | None


# fmt: off
REGULATION = Table("ropes with clips of 29 CFR 1918", REGULATION_PAGE, size_unit="in", rows=(
    Regulation("1/2",   3, 4, 3,     7.6),  # printed "1/2 or less"
    Regulation("3/4",   4, 5, 4.5,  11.4),
    Regulation("7/8",   4, 5, 5.25, 13.3),
    Regulation("1 1/8", 6, 6, 6.75, 17.1),
    Regulation("1 1/4", 6, 7, 7.5,  19.1),
    Regulation("1 1/2", 7, 8, 9,    22.9),
))

FIELD_MANUAL = Table("ropes with clips of FM 5-125", MANUAL_PAGE, size_unit="in", rows=(
    Manual("5/16",  "3/8",   3,  2,     50,  25),
    Manual("7/16",  "1/2",   4,  2.75,  70,  40),
    Manual("1/2",   "1/2",   4,  3,     76,  40),
    Manual("3/4",   "3/4",   4,  4.5,  114, 100),
    Manual("7/8",   "1",     5,  5.25, 133, 165),
    Manual("1 1/4", "1 1/4", 5,  7.5,  190, 250),
    Manual("1 3/8", "1 1/2", 6,  8.25, 210, 375),
    Manual("1 3/4", "1 3/4", 6, 10.5,  267, 560),
))

TUNNEL = Table("ropes with clips of California section 8497", CALIFORNIA_PAGE, size_unit="in", rows=(
    California("1/2",   3, 11.5,  65),
    California("5/8",   3, 12,    95),
    California("3/4",   4, 18,   130),
    California("1",     5, 26,   225),
    California("1 1/8", 6, 34,   225),
    California("1 3/8", 7, 44,   360),
    California("1 1/2", 7, 48,   360),
    California("1 3/4", 7, 53,   590),  # the copy read prints 1/34
    California("2",     8, 71,   750),
))

ROPES = Table("6x19 wire ropes", ROPE_PAGE, size_unit="in", rows=(
    Rope("1/4",   0.1,   1.4,  2.6,   2.39,   2.74, None),
    Rope("1/2",   0.4,   3.6,  6.8,   9.35,  10.7,  13.3),
    Rope("5/8",   0.63,  5.5, 10.4,  14.5,   16.7,  20.6),
    Rope("7/8",   1.23, 10.6, 20.2,  28,     32.2,  39.8),
    Rope("1",     1.6,  13.7, 26,    36.4,    4.18, 51.7),  # 4.18 is a misprint: the series asks for 41.8
    Rope("1 1/4", 2.5,  21,   40.6,  56.2,   64.6,  79.9),
    Rope("1 1/2", 3.6,  29.7, 56.6,  80,     92,   114),
    Rope("2",     None, None, None, 139,    160,   198),
))
# fmt: on

FACTORS: Mapping[str, float] = MappingProxyType(
    {
        "track cables": 3.2,
        "guys": 3.5,
        "miscellaneous hoisting equipment": 5.0,
        "haulage ropes": 6.0,
        "derricks": 6.0,
        "small electric and air hoists": 7.0,
        "slings": 8.0,
    }
)
"""The least factor of safety of a wire rope by its service: FM 5-125, Table 1-3."""

COUNTS: tuple[Table[Any], ...] = (REGULATION, FIELD_MANUAL, TUNNEL)
BY_PAGE: Mapping[str, tuple[Table[Any], ...]] = MappingProxyType(
    {
        "strictest": COUNTS,
        "29 cfr 1918": (REGULATION,),
        "fm 5-125": (FIELD_MANUAL,),
        "california": (TUNNEL,),
    }
)
TABLES = (*COUNTS, ROPES)
DIAMETERS_APART = 6
MISPRINTED = (("1", "improved_plow_short_ton"),)


class Least(NamedTuple):
    """The least that is asked, in clips, mm or N·mm, and the page that asks it."""

    value: float
    source: Source


def row_for(table: Table[Any], mm: float) -> Any | None:
    """The row of a rope of this diameter, or None; a diameter in mm must be that of the printed inches."""
    for row in table.rows:
        listed = read_size(table.size(row)).mm
        if listed is not None and abs(listed - mm) <= 1e-6 * listed:
            return row
    return None


def counts(mm: float, pattern: str) -> dict[str, Least]:
    """How many clips each page asks for on a rope; the pages that list it only."""
    found = {}
    regulation = REGULATION.rows[0] if at_most(mm, 12.7) else row_for(REGULATION, mm)
    if regulation is not None:
        clips = regulation.drop_forged if pattern == "drop forged" else regulation.other_material
        found["29 cfr 1918"] = Least(clips, REGULATION_PAGE)
    if pattern == "drop forged":
        for page, table in (("fm 5-125", FIELD_MANUAL), ("california", TUNNEL)):
            row = row_for(table, mm)
            if row is not None:
                found[page] = Least(row.clips, table.source)
    return found


def torques(mm: float) -> dict[str, Least]:
    """The torque each page asks for on a rope, in N·mm; the pages that list it only."""
    foot_pound, found = TORQUE_UNITS["ft·lb"], {}
    manual, tunnel = row_for(FIELD_MANUAL, mm), row_for(TUNNEL, mm)
    if manual is not None:
        found["fm 5-125"] = Least(manual.torque_ft_lb * foot_pound, MANUAL_PAGE)
    if tunnel is not None:
        found["california"] = Least(tunnel.torque_lb_ft * foot_pound, CALIFORNIA_PAGE)
    return found


def of_page(found: Mapping[str, Least], page: str) -> Least | None:
    """The greatest of what the pages ask, or what one page asks; None where that is nothing."""
    if page == "strictest":
        return max(found.values(), key=lambda least: least.value, default=None)
    return found.get(page)


def spacing(mm: float) -> Least | None:
    """The least spacing, in mm: six diameters, or what FM 5-125 rounds them up to; None over 2 in."""
    if not at_most(mm, 50.8):
        return None
    row, six = row_for(FIELD_MANUAL, mm), DIAMETERS_APART * mm
    if row is not None and row.spacing_in * 25.4 > six:
        return Least(row.spacing_in * 25.4, MANUAL_PAGE)
    return Least(six, REGULATION_PAGE)


def turnback(mm: float, clips: int) -> Least | None:
    """The least turnback, in mm; it grows in proportion with more clips than the page asks for."""
    row = row_for(TUNNEL, mm)
    if row is None:
        return None
    return Least(row.turn_back_in * 25.4 * max(clips / row.clips, 1), CALIFORNIA_PAGE)


def enough_turnback(mm: float, clips: int) -> Least | None:
    """What the page asks for the next larger rope: enough for one that it does not list, if not the least."""
    larger = [size for row in TUNNEL.rows if (size := read_size(TUNNEL.size(row)).mm or 0) > mm]
    return turnback(min(larger), clips) if larger else None


def breaking(diameter_mm: float, grade: str) -> float | None:
    """The printed breaking strength of a 6x19 rope in short tons; None where there is none, or a misprint."""
    row = row_for(ROPES, diameter_mm)
    if row is None or (row.diameter, grade) in MISPRINTED:
        return None
    strength: float | None = getattr(row, grade)
    return strength


def not_listed(rope: str, what: str, *tables: Table[Any]) -> str:
    """Why nothing is asked for a rope: no table lists it, and where it lies among those they list."""
    sizes = sorted({size for table in tables for size in table.sizes}, key=_length)
    return f"no {what} is listed for a rope of {rope}: {where(rope, sizes)}; listed are {', '.join(sizes)}"


def _length(size: str) -> float:
    return read_size(size).mm or 0.0
