"""The load a piece is proof tested to before it is used, by rule, kind of gear and rating.

The Canadian and French rules are printed by bands of rating in tonnes, as below.

>>> proof_load(100, "t", "canada"), proof_load(8, "t", "us")
(113.6, 10.0)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal, NamedTuple

from rigxl.errors import NotRatedError
from rigxl.mechanics.limits import at_most, positive, result
from rigxl.tables import Source
from rigxl.units import convert_load
from rigxl.worksheet import AnyForce, worksheet

RuleName = Literal["us", "canada", "france"]
Gear = Literal[
    "device",
    "connector",
    "loose gear",
    "single-sheave block",
    "single-sheave block with becket",
    "multiple-sheave block",
    "chain hoist",
]

US_PAGE = Source("29 CFR 1926.251", "revised 1 Jul 2007", "(a)(4), special custom lifting accessories")
CANADA_PAGE = Source(
    "Canada, Cargo, Fumigation and Tackle Regulations, SOR/2007-128", "2026 snapshot", "s. 305 and Schedule 5"
)
FRANCE_PAGE = Source(
    "France, arrêté du 23 novembre 1987, sécurité des navires", "Division 214", "Annexe 214-3.A.1"
)

US_FACTOR = 1.25
ABOVE = math.inf


class Band(NamedTuple):
    """Over ``over_t`` and up to ``up_to_t`` tonnes of rating, the proof load is factor × rating + plus_t."""

    over_t: float
    up_to_t: float
    factor: float
    plus_t: float = 0


class ProofRule(NamedTuple):
    """A rule: where it is printed, and its bands by kind of gear."""

    source: Source
    bands: Mapping[str, tuple[Band, ...]]


# fmt: off
# grabs, hooks, clamps and other custom accessories: 125 % of any rating
US = {
    "device":    (Band(0, ABOVE, US_FACTOR),),
    "connector": (Band(0, ABOVE, US_FACTOR),),
}

CANADA = {
    "loose gear":                      (Band(0,   ABOVE, 2),),
    "single-sheave block":             (Band(0,   ABOVE, 4),),
    "single-sheave block with becket": (Band(0,   ABOVE, 6),),
    "multiple-sheave block":           (Band(0,      20, 2),
                                        Band(20,     40, 1, 20),
                                        Band(40,  ABOVE, 1.5)),
    # main accessory gear
    "device":                          (Band(0,      10, 2),
                                        Band(10,    160, 1.04, 9.6),
                                        Band(160, ABOVE, 1.1)),
    # friction, electro-magnetic and vacuum connectors
    "connector":                       (Band(0,   ABOVE, 2),),
}

FRANCE = {
    "single-sheave block":             (Band(0,    12.5, 4),
                                        Band(12.5,   80, 1.866, 27),
                                        Band(80,  ABOVE, 2.2)),
    "multiple-sheave block":           (Band(0,      25, 2),
                                        Band(25,    160, 0.933, 27),
                                        Band(160, ABOVE, 1.1)),
    "chain hoist":                     (Band(0,   ABOVE, 1.5),),
    # spreader bars, lifting frames and similar
    "device":                          (Band(0,      10, 2),
                                        Band(10,    160, 1.04, 9.6),
                                        Band(160, ABOVE, 1.1)),
    "loose gear":                      (Band(0,      25, 2),
                                        Band(25,  ABOVE, 1.22, 20)),
}
# fmt: on

PROOF_RULES = MappingProxyType(
    {
        "us": ProofRule(US_PAGE, US),
        "canada": ProofRule(CANADA_PAGE, CANADA),
        "france": ProofRule(FRANCE_PAGE, FRANCE),
    }
)


@worksheet("PROOFLOAD", example=(100, "t", "canada", "device"), answer=113.6)
def proof_load(
    rating: AnyForce, unit: str, rule: RuleName, gear: Gear = "device"
) -> Annotated[float, "as rating"]:
    """Proof load of a piece of lifting gear, by its rating and a published rule.

    Args:
        rating: Rated load of the piece.
        unit: Unit of the rating, such as t, kg, kN or lb; the Canadian and French rules go by tonnes.
        rule: us is 125 % of the rating; canada and france go by kind of gear and band of rating.
        gear: device (spreader bar, lifting beam or frame), connector (clamp, magnet or vacuum pad), loose
            gear (hook, shackle, chain, ring or sling), a block by its sheaves, or chain hoist.

    Refuses: a rating of 0 or less; a unit nobody defined; gear that the rule does not name.

    Source: 29 CFR 1926.251(a)(4); Canada, SOR/2007-128, Schedule 5; France, Division 214, Annexe 214-3.A.1.

    >>> proof_load(25, "t", "france", "loose gear")
    50.0
    """
    tonnes = convert_load(positive("rating", rating), unit, "t")
    source, bands = PROOF_RULES[rule]
    if gear not in bands:
        raise NotRatedError(
            f"the rule of {rule} gives no proof load for a {gear}; it does for {', '.join(bands)} "
            f"({source.cited})"
        )
    band = next(band for band in bands[gear] if at_most(tonnes, band.up_to_t))
    return result("proof load", convert_load(band.factor * tonnes + band.plus_t, "t", unit))
