"""Slings of rope, chain and webbing, and round slings: by material, hitch, ends, edges, colour and heat.

>>> material(Item(description="2-leg chain sling, grade 80"))
'chain'
>>> material(Item(description="sling"))
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import LETS_GO, NO_RATING
from rigxl.hardware import sling_ends, sling_heat, sling_hitch, sling_make
from rigxl.hardware.bought import EN_SLINGS, MARKED_SLINGS, Bought, Look
from rigxl.hardware.fit import passes_through
from rigxl.hardware.sling_tables import (
    CHOKED_80,
    COLOUR_PAGE,
    COLOURS,
    FIBRE_ROPE,
    GRADE_8,
    GRADE_80,
    GRADE_100,
    WIRE_ROPE,
)
from rigxl.hardware.usage import called, refuses, says
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source, Table
from rigxl.units import show_force

KIND = "sling"
WORDS = (
    "sling",
    "lifting sling",
    "wire rope sling",
    "wire sling",
    "steel rope sling",
    "rope sling",
    "chain sling",
    "alloy chain sling",
    "web sling",
    "webbing sling",
    "flat sling",
    "flat web sling",
    "synthetic sling",
    "polyester sling",
    "nylon sling",
    "strop",
    "roundsling",
    "round sling",
    "endless sling",
    "endless round sling",
    "grommet",
    "fibre rope sling",
    "fiber rope sling",
    "natural fibre rope sling",
    "natural fiber rope sling",
    "manila sling",
    "manila rope sling",
    "sisal rope sling",
    "choker",
    "choker sling",
    "basket sling",
    "bridle",
    "bridle sling",
    "sling leg",
    *(
        f"{legs}{joint}leg {what}"
        for legs in ("1", "2", "3", "4", "single", "one", "two", "double", "three", "triple", "four", "quad")
        for joint in ("-", " ")
        for what in ("sling", "chain sling", "wire rope sling", "web sling", "bridle")
    ),
)
POSITION = "leg"
TABLES = (WIRE_ROPE, GRADE_80, GRADE_100, CHOKED_80, GRADE_8, FIBRE_ROPE, COLOURS)

CLIPS_PAGE = Source("29 CFR 1926.251", place="(c)(4)(iii)")

MATERIAL = Rule(
    "sling-material", "A sling's rating, hitch and limits depend on what it is made of.", COMMON_PRACTICE
)
GRADE = Rule("sling-grade", "Without a rated load, chain and wire rope need their grade.", COMMON_PRACTICE)
PER_LEG = Rule(
    "sling-rating-per-leg",
    "The rated load of a bridle may be that of all its legs: it must be known as that of one.",
    COMMON_PRACTICE,
)
CLIPS = Rule(
    "sling-with-clips", "The eyes of a sling are not formed by clips or knots.", CLIPS_PAGE, firm=NO_RATING
)
EDGES = Rule(
    "edge-protection",
    "Slings are kept off the edges of the load, textile ones always.",
    COMMON_PRACTICE,
    firm=LETS_GO,
)
COLOUR = Rule("sling-colour", "A European colour and the rated load must agree.", COLOUR_PAGE)
SLING_FIT = Rule("sling-fit", "A sling must lie flat in what it hangs in.", COMMON_PRACTICE)

RULES = (
    MATERIAL, GRADE, PER_LEG, CLIPS, EDGES, COLOUR, SLING_FIT,
    *sling_make.RULES, *sling_ends.RULES, *sling_hitch.RULES, *sling_heat.RULES,
)  # fmt: skip

BOUGHT = Bought(
    MARKED_SLINGS,
    EN_SLINGS,
    marks=(
        "on its tag: material, size, length, number of legs, the hitch and the angle its rating is for",
        "grade, where it is of chain",
    ),
    looks=(
        Look(
            "tag complete",
            "Its tag is fast and gives maker, rated load by hitch, size, length and material.",
            sign=True,
        ),
        Look(
            "length measured", "Its length from bearing point to bearing point is the one that was ordered."
        ),
        Look("ends sound", "Its ends, splices, sleeves or stitching are as ordered and without a fault."),
    ),
    own=("ends", "sling_width", "rope", "rope_diameter", "breaking_strength", "leg_length"),
    asks=(
        "its own length, bearing to bearing: a leg in the schedule is from pick to hook, fittings included",
    ),
    measured="the rope over its strands, the wire of a chain's link, or the width of a web",
    fit="its eyes or fittings on the pins and hooks they go on, and its width in them",
)

TEXTILE = frozenset({"web", "round", "fibre rope"})

NAMED = MappingProxyType(
    {
        "wire rope": re.compile(r"\b(wire|steel rope|iwrc|[68]x\d+)\b"),
        "chain": re.compile(r"\bchains?\b"),
        "web": re.compile(r"\b(web|webs|webbing|flat sling|flat slings)\b"),
        "round": re.compile(r"\b(round|roundslings?)\b"),
        "fibre rope": re.compile(r"\b(manila|sisal|hemp|natural fib(re|er)|fib(re|er) rope)\b"),
    }
)
OTHER = re.compile(r"\b(mesh|(synthetic|polyester|polypropylene|polyamide|nylon)( fib(re|er))? rope)\b")
BRIDLE = re.compile(r"\b(bridle|([2-4]|two|three|four|double|triple|quad|quadruple|multi) ?legg?(ed|s)?)\b")
ONE_LEG = re.compile(r"\b(per|each|one|single|1) leg\b")
CLIPPED = re.compile(r"(?<!\bno )(?<!\bwithout )\b(clips?|clipped|knots?|knotted)\b")


def material(item: Item) -> str | None:
    """Wire rope, chain, web, round or fibre rope, by the row's words; None unless they name just one."""
    text = called(item)
    named = [name for name, pattern in NAMED.items() if pattern.search(text)]
    return named[0] if len(named) == 1 and not OTHER.search(text) else None


def tables(item: Item) -> tuple[Table[Any], ...]:
    """The tables of vertical ratings for the item's material."""
    by_material: dict[str, tuple[Table[Any], ...]] = {
        "wire rope": (WIRE_ROPE,),
        "chain": (GRADE_80, GRADE_100, GRADE_8),
        "web": (COLOURS,),
        "round": (COLOURS,),
        "fibre rope": (FIBRE_ROPE,),
    }
    return by_material.get(material(item) or "", ())


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    made_of = material(item)
    fields = {"type", "hitch", "temperature", "edge_protection", "sling_width", "inside_width"}
    fields |= sling_make.uses(made_of) | ({"ends"} if made_of == "wire rope" else set())
    if item.hitch == "choker":
        fields |= {"choke_angle_deg"}
    if item.hitch == "basket":
        fields |= {"angle_deg"} | ({"bend_ratio"} if made_of == "wire rope" else set())
    return frozenset(fields)


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:  # noqa: ARG001
    """What hitch and ends make of the vertical rating; None where there is no rating for them."""
    made_of = material(item)
    if refuses(_made(item, made_of)):
        return None
    hitch = sling_hitch.derates(item, made_of)
    ends = sling_ends.derates(item) if made_of == "wire rope" else ()
    return None if hitch is None or ends is None else (*hitch, *ends)


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:  # noqa: ARG001
    """What the rules for slings say of one line of a schedule."""
    made_of = material(item)
    if made_of is None and "type" not in item.problems:
        yield MATERIAL.holds(
            "what the sling is made of is not clear",
            "fill in one as its type: wire rope, chain, web, round or natural fibre rope",
        )
    yield from _made(item, made_of)
    if made_of == "wire rope":
        yield from sling_ends.check(item)
    yield from _rating(item, made_of)
    yield from sling_hitch.check(item, made_of)
    yield from _edges(item, made_of)
    if made_of:
        yield from sling_heat.check(item, made_of)
    if made_of in ("web", "round"):
        yield from _colour(item)
    if item.sling_width is not None and item.inside_width is not None:
        yield from passes_through(SLING_FIT, "fitting", item.sling_width, item.inside_width, item.units)


def _made(item: Item, made_of: str | None) -> Iterator[Finding]:
    yield from sling_make.check(item, made_of)
    if CLIPPED.search(called(item)):
        yield CLIPS.fails(
            "its eyes are formed by clips or knots, which is not for lifting",
            "a sling with spliced, swaged or poured ends",
        )


def _rating(item: Item, made_of: str | None) -> Iterator[Finding]:
    if item.rated_load is None:
        if made_of in ("chain", "wire rope") and item.grade is None and item.size is not None:
            yield GRADE.holds(
                f"neither the rated load nor the grade of the {made_of} is given",
                "fill in the rated load marked on its tag, or its grade",
            )
        return
    text = called(item)
    if not BRIDLE.search(text) or ONE_LEG.search(text) or _within_one_leg(item, item.rated_load):
        return
    yield PER_LEG.holds(
        f"it is called a bridle, and whether {show_force(item.rated_load, _unit(item))} is the rating of one "
        "leg or of all is not said",
        "fill in the rating of one leg, and 'per leg' in the description; or the listed size and grade",
    )


def _within_one_leg(item: Item, rated: float) -> bool:
    """Whether every table for its material rates one leg of this size at least as high."""
    if item.size is None:
        return False
    listed = [(table, table.get(item.size.name)) for table in tables(item)]
    ratings = [table.rating(row) for table, row in listed if row is not None]
    return bool(ratings) and at_least(min(ratings), rated)


def _edges(item: Item, made_of: str | None) -> Iterator[Finding]:
    if item.edge_protection is False:
        if made_of in TEXTILE:
            yield EDGES.fails(
                f"a {made_of} sling with nothing between it and the edges",
                "sleeves or corner pads at every edge",
            )
        else:
            yield EDGES.advises("nothing is between the sling and the edges: pad them")
    elif item.edge_protection is None and "edge_protection" not in item.problems:
        round_the_load = item.hitch in ("choker", "basket")
        if made_of in TEXTILE and round_the_load:
            yield EDGES.holds(
                f"a {made_of} sling round the load, and whether its edges are padded is not stated",
                "fill in the edge protection: yes or no",
            )
        elif made_of in TEXTILE or round_the_load:
            yield EDGES.advises("whether it is kept off the edges of the load is not stated")


def _colour(item: Item) -> Iterator[Finding]:
    text = called(item).replace(" purple ", " violet ").replace(" gray ", " grey ")
    named = [row for row in COLOURS.rows if says(text, row.colour)]
    if not named:
        return
    meant = " or ".join(f"{row.colour} is {row.wll_t:g} t" for row in named)
    if item.rated_load is None:
        yield COLOUR.advises(f"{meant} by European colour ({FROM_MEMORY}): read the rated load on its label")
    elif not any(_agrees(row.wll_t, COLOURS.rating(row), item.rated_load) for row in named):
        yield COLOUR.holds(
            f"its rated load is {show_force(item.rated_load, _unit(item))}, and {meant} by European colour",
            "read the label again, and correct the colour or the rated load",
        )


def _agrees(wll_t: float, printed: float, rated: float) -> bool:
    """Within the 2 % by which a rating printed in kN is rounded; orange is 10 t and over."""
    return rated >= 0.98 * printed and (wll_t >= 10 or rated <= 1.02 * printed)


def _unit(item: Item) -> str:
    return item.units.get("rated_load", "kN")
