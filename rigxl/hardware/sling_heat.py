"""Hot and cold: between which temperatures a sling of each material may work.

>>> limits_of("chain", " chain ").most
260
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.firm import NO_RATING
from rigxl.hardware.sling_ends import core_of
from rigxl.hardware.usage import called, says, show_degrees
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_most
from rigxl.tables import FROM_MEMORY, Source

ROPE_PAGE = Source(
    "WAC 296-24-29425(3)", place="200 °F fibre core; otherwise 400 °F and -60 °F, ask the maker"
)
CHAIN_PAGE = Source(
    "Workplace Health and Safety Queensland, Guide for doggers (260 °C); EN 818-4 (-40 °C)",
    "PN10123, 15 Jul 2010",
    note=f"-40 °C {FROM_MEMORY}",
)
TEXTILE_PAGE = Source("EN 1492-1", "2000 with A1 of 2008", "scope: polyester and polyamide, polypropylene")
FIBRE_PAGE = Source("WAC 296-24-29429(2)", place="fibre rope slings, -20 to 180 °F")

HEAT_ROPE = Rule(
    "sling-heat-wire-rope",
    "Wire rope with fibre core is removed over 200 °F; over 400 °F or under -60 °F the maker is asked.",
    ROPE_PAGE,
    firm=NO_RATING,
)
HEAT_CHAIN = Rule(
    "sling-heat-chain",
    "A chain sling over 260 °C or under -40 °C goes by its maker's reductions.",
    CHAIN_PAGE,
    firm=NO_RATING,
)
HEAT_TEXTILE = Rule(
    "sling-heat-textile",
    "Web and round slings work from -40 °C to 100 °C in polyester or polyamide, to 80 °C in polypropylene.",
    TEXTILE_PAGE,
    firm=NO_RATING,
)
HEAT_FIBRE = Rule(
    "sling-heat-fibre", "Fibre rope slings work from -20 °F to 180 °F.", FIBRE_PAGE, firm=NO_RATING
)

RULES = (HEAT_ROPE, HEAT_CHAIN, HEAT_TEXTILE, HEAT_FIBRE)


class Limits(NamedTuple):
    """Full use from ``least`` to ``most``; up to ``unsure`` it depends on what is not known; all in °C."""

    rule: Rule
    least: float
    most: float
    unsure: float
    beyond_fails: bool
    remedy: str


def celsius(fahrenheit: float) -> float:
    """Degrees Celsius of degrees Fahrenheit.

    >>> celsius(212)
    100.0
    """
    return (fahrenheit - 32) / 1.8


def limits_of(material: str, text: str) -> Limits:
    """The limits of a material, with what the row's words say of its core or its fibre."""
    if material == "wire rope":
        kind_of_core = core_of(text)
        cold, core, other = celsius(-60), celsius(200), celsius(400)
        if kind_of_core is None:
            return Limits(
                HEAT_ROPE, cold, core, other, False, "fill in the core: fibre core or steel core (IWRC)"
            )
        if kind_of_core == "fibre":
            return Limits(HEAT_ROPE, cold, core, core, True, "a steel core (IWRC), or a cooler place")
        return Limits(HEAT_ROPE, cold, other, other, False, "ask the maker, and state the rating it gives")
    if material == "chain":
        return Limits(HEAT_CHAIN, -40, 260, 260, False, "the reduced rating by the maker's heat chart")
    if material == "fibre rope":
        return Limits(HEAT_FIBRE, celsius(-20), celsius(180), celsius(180), True, "chain, or a milder place")
    if says(text, "polypropylene", "pp"):
        return Limits(HEAT_TEXTILE, -40, 80, 80, True, "polyester, chain, or a milder place")
    if says(text, "polyester", "polyamide", "nylon", "pes", "pa"):
        return Limits(HEAT_TEXTILE, -40, 100, 100, True, "chain, or a milder place")
    return Limits(
        HEAT_TEXTILE, -40, 80, 100, True, "fill in the fibre: polyester, polyamide or polypropylene"
    )


def check(item: Item, material: str) -> Iterator[Finding]:
    """What is to be said of the temperature a sling works at; nothing where none is stated."""
    if item.temperature is None:
        return
    unit = item.units.get("temperature", "degC")
    limits = limits_of(material, called(item))
    shown = f"a {material} sling at {show_degrees(item.temperature, unit)}"
    if not at_most(limits.least, item.temperature):
        said = limits.rule.fails if limits.rule in (HEAT_TEXTILE, HEAT_FIBRE) else limits.rule.holds
        yield said(
            f"{shown}, under {show_degrees(limits.least, unit)}", "a milder place, or what the maker allows"
        )
    elif not at_most(item.temperature, limits.unsure):
        said = limits.rule.fails if limits.beyond_fails else limits.rule.holds
        yield said(f"{shown}, over {show_degrees(limits.unsure, unit)}", limits.remedy)
    elif not at_most(item.temperature, limits.most):
        yield limits.rule.holds(
            f"{shown}, over {show_degrees(limits.most, unit)} where it depends", limits.remedy
        )
