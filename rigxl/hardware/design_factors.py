"""Least design factor of lifting gear, breaking strength over rating, as some regulations print it.

>>> design_factor("chain", "canada", 5, "t"), round(design_factor("wire rope", "france", 50, "t"), 4)
(4.5, 4.2508)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from rigxl.errors import NotRatedError
from rigxl.mechanics.limits import at_most, positive
from rigxl.tables import Source
from rigxl.units import Ratio, convert_load
from rigxl.worksheet import AnyForce, worksheet

RuleName = Literal["canada", "france", "europe"]
Gear = Literal["wire rope", "chain", "fibre rope", "textile", "fitting", "structure"]

CANADA_PAGE = Source(
    "Canada, Cargo, Fumigation and Tackle Regulations, SOR/2007-128", "2026 snapshot", "s. 317 and Schedule 6"
)
FRANCE_PAGE = Source(
    "France, arrêté du 23 novembre 1987, sécurité des navires",
    "Division 214",
    "Annexe 214-3.A.2, Tables I, III",
)
EUROPE_PAGE = Source("France, arrêté du 18 décembre 1992, by the EU machinery rules", "1992", "article 4")


class Band(NamedTuple):
    """Up to this rating in tonnes: a plain factor, or ``over`` divided by (0.885 × rating + 191)."""

    up_to_t: float
    factor: float
    over: float = 0


class FactorRule(NamedTuple):
    """A rule: where it is printed, and its bands by kind of gear."""

    source: Source
    bands: Mapping[str, tuple[Band, ...]]


ABOVE = math.inf

# fmt: off
CANADA = {
    "wire rope":  (Band(ABOVE, 5),),
    "chain":      (Band(ABOVE, 4.5),),
    # natural fibre
    "fibre rope": (Band(ABOVE, 7),),
    # reusable slings of synthetic fibre rope or webbing
    "textile":    (Band(ABOVE, 6),),
    # loose gear other than chains and slings; bolts, brackets, lugs and pins
    "fitting":    (Band(ABOVE, 5),),
    "structure":  (Band(10,    5), Band(ABOVE, 4)),
}

FRANCE = {
    "wire rope":  (Band(10,  5), Band(160, 0, over=1000), Band(ABOVE, 3)),
    # up to 10 t it goes by the rope's diameter
    "fibre rope": (Band(10,  0), Band(160, 0, over=1200), Band(ABOVE, 3.6)),
}

EUROPE = {
    "wire rope":  (Band(ABOVE, 5),),
    "chain":      (Band(ABOVE, 4),),
    "textile":    (Band(ABOVE, 7),),
    "fitting":    (Band(ABOVE, 4),),
}
# fmt: on

FACTOR_RULES = MappingProxyType(
    {
        "canada": FactorRule(CANADA_PAGE, CANADA),
        "france": FactorRule(FRANCE_PAGE, FRANCE),
        "europe": FactorRule(EUROPE_PAGE, EUROPE),
    }
)


@worksheet("DESIGNFACTOR", example=("wire rope", "canada", 5, "t"), answer=5.0)
def design_factor(gear: Gear, rule: RuleName, rating: AnyForce, unit: str) -> Ratio:
    """Least design factor of lifting gear: breaking strength over rated load.

    Args:
        gear: wire rope, chain, fibre rope, textile (web and round slings), fitting or structure.
        rule: canada and france are for ships' lifting gear; europe is for lifting accessories.
        rating: Rated load of the piece; some factors fall as it rises.
        unit: Unit of the rating, such as t, kg, kN or lb; the rules go by tonnes.

    Refuses: a rating of 0 or less; a unit nobody defined; gear that the rule does not name, or goes by the
        diameter of its rope.

    Source: Canada, SOR/2007-128, Schedule 6; France, Division 214, Annexe 214-3.A.2; for Europe France,
        arrêté du 18 décembre 1992, article 4.

    >>> round(design_factor("wire rope", "france", 100, "t"), 3)
    3.578
    """
    tonnes = convert_load(positive("rating", rating), unit, "t")
    source, bands = FACTOR_RULES[rule]
    if gear not in bands:
        raise NotRatedError(
            f"the rule of {rule} gives no factor for a {gear}; it does for {', '.join(bands)} "
            f"({source.cited})"
        )
    band = next(band for band in bands[gear] if at_most(tonnes, band.up_to_t))
    if band.over:
        return band.over / (0.885 * tonnes + 191)
    if not band.factor:
        raise NotRatedError(
            f"the rule of {rule} goes by the diameter of a {gear} up to {band.up_to_t:g} t ({source.cited})"
        )
    return band.factor
