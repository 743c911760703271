"""The rope that clips hold: its diameter, its printed or stated strength, and the factor for its service.

>>> grade_of_rope(Item(rope="6 x 19 IPS")), grade_of_rope(Item(rope="6x37 IPS"))
('improved_plow_short_ton', None)
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

from rigxl.firm import OVERLOAD
from rigxl.hardware import clip_tables
from rigxl.hardware.clip_tables import FACTOR_PAGE, FACTORS, ROPE_PAGE, ROPES
from rigxl.hardware.usage import words
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import Source, Table
from rigxl.units import read_size, show_length

FACTOR = Rule(
    "clip-rope-factor",
    "A rope's factor may not be under the least for its service.",
    FACTOR_PAGE,
    firm=OVERLOAD,
)
ROPE = Rule("clip-rope", "Without a rated load, the strength of the rope itself must be known.", ROPE_PAGE)

RULES = (FACTOR, ROPE)

SIX_BY_NINETEEN = re.compile(r"\b6 ?x ?19\b")
GRADES: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {
        "extra_improved_short_ton": re.compile(r"\b(extra improved (plow|plough)|eips|xips?)\b"),
        "improved_plow_short_ton": re.compile(r"(?<!extra )\b(improved (plow|plough)|ips)\b"),
        "plow_short_ton": re.compile(r"(?<!improved )\b(plow|plough)\b"),
        "traction_short_ton": re.compile(r"\btraction steel\b"),
        "iron_short_ton": re.compile(r"\biron\b"),
    }
)
BEYOND = re.compile(r"\b(double|eeips|xxips?)\b")


class Rated(NamedTuple):
    """A rope's diameter, and its breaking strength over the factor."""

    size: str
    wll_short_ton: float


class Stated(NamedTuple):
    """A rope's diameter, and its stated breaking strength over the factor."""

    size: str
    wll_N: float  # noqa: N815


def grade_of_rope(item: Item) -> str | None:
    """The column of the page for the 6x19 rope that the row names; None where it names none, or several."""
    text = words(item.rope)
    named = [grade for grade, pattern in GRADES.items() if pattern.search(text)]
    return named[0] if len(named) == 1 and SIX_BY_NINETEEN.search(text) and not BEYOND.search(text) else None


def factor(item: Item) -> float | None:
    """What the rope's strength is divided by: as stated, else the least for its service."""
    least, stated = FACTORS.get(item.service or ""), item.design_factor
    if least is None or (stated is not None and stated <= 0):
        return None
    return least if stated is None else stated


def diameter(item: Item) -> float | None:
    """The diameter of the rope in mm, as stated or as the size of the clip."""
    return item.rope_diameter if item.rope_diameter is not None else item.size.mm if item.size else None


def clips_on(item: Item) -> int | str:
    """How many clips a row stands for: those of each end, or all that its quantity counts.

    >>> clips_on(Item(quantity=2, clip_count=5)), clips_on(Item(quantity=10))
    (10, 10)
    """
    ends, clips = item.quantity, item.clip_count
    if clips is None:
        return ends or "how many clips it stands for is not stated: fill in the quantity"
    if ends is None:
        return f"each end has {clips} clips, and how many ends there are is not stated: fill in the quantity"
    if ends >= clips:
        return (
            f"its quantity is {ends} and each end has {clips} clips: whether {ends} are ends or clips is not "
            "clear, so give each end its own row, with a quantity of 1"
        )
    return ends * clips


def tables(item: Item) -> tuple[Table[Any], ...]:
    """What the rope is rated for by its strength and factor, listed by the size of the clip."""
    over, mm, grade = factor(item), diameter(item), grade_of_rope(item)
    if over is None or mm is None or item.size is None:
        return ()
    if item.breaking_strength is not None:
        source = Source("the breaking strength stated in the row", place=f"over a factor of {over:g}")
        rows = (Stated(item.size.name, item.breaking_strength / over),)
        return (Table("the rope as stated", source, rated="wll_N", rows=rows),)
    if grade is None:
        return ()
    if item.rope_diameter is None:
        return (_ropes(grade, over),)
    strength = clip_tables.breaking(mm, grade)
    return () if strength is None else (_listed(grade, over, (Rated(item.size.name, strength / over),)),)


@lru_cache(maxsize=64)
def _ropes(grade: str, over: float) -> Table[Any]:
    printed = (
        (ROPES.size(row), clip_tables.breaking(read_size(ROPES.size(row)).mm or 0, grade))
        for row in ROPES.rows
    )
    return _listed(grade, over, tuple(Rated(size, strength / over) for size, strength in printed if strength))


def _listed(grade: str, over: float, rows: tuple[Rated, ...]) -> Table[Any]:
    name = grade.removesuffix("_short_ton").replace("_", " ")
    source = ROPE_PAGE._replace(note=f"breaking strength over a factor of {over:g}")
    return Table(f"6x19 wire rope, {name}", source, rated="wll_short_ton", rows=rows)


def shown(item: Item, mm: float) -> str:
    """The diameter of the rope as the row gives it."""
    if item.rope_diameter is None and item.size is not None:
        return item.size.name
    return show_length(mm, item.units.get("rope_diameter", "mm"))


def check(item: Item) -> Iterator[Finding]:
    """What is to be said of the rope's strength and factor."""
    least = FACTORS.get(item.service or "")
    if item.design_factor is not None and least is not None and not at_least(item.design_factor, least):
        yield FACTOR.fails(
            f"a factor of {item.design_factor:g}, and {item.service} need {least:g}",
            f"a factor of {least:g} or more",
        )
    if item.rated_load is not None or {"rated_load", "breaking_strength"} & item.problems.keys():
        return
    mm, grade = diameter(item), grade_of_rope(item)
    if item.breaking_strength is not None or mm is None:
        return
    remedy = "fill in the breaking strength on the rope's certificate, or the rope, as 6x19 IPS"
    if grade is None:
        if "rope" not in item.problems:
            named = f"'{item.rope}' is not a 6x19 rope of one listed grade"
            yield ROPE.holds(named if item.rope else "the rope is not stated", remedy)
    elif clip_tables.breaking(mm, grade) is None:
        yield ROPE.holds(
            f"no strength that can be relied on is printed for a {item.rope} rope of {shown(item, mm)}",
            remedy,
        )
