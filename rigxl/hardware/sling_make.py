"""Whether a sling is made to lift: grade of its chain, length of clear rope, bend of its eyes.

>>> [found.outcome for found in check(Item(grade="70", type="chain"), "chain")]
['FAIL']
"""

from __future__ import annotations

from collections.abc import Iterator

from rigxl.firm import MAY_BE_WAIVED, NO_RATING, OVERLOAD
from rigxl.hardware.usage import called, grade_of, says
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source
from rigxl.units import show_force, show_length

CHAIN_PAGE = Source(
    "49 CFR 393.108 lists grades 30, 43 and 70 for tie-down; ASME B30.9, alloy chain",
    note=f"alloy chain only {FROM_MEMORY}",
)
CLEAR_PAGE = Source("WAC 296-24-29425(2)", place="10 rope diameters; grommets 96 body diameters round")

STRENGTH_PAGE = Source(
    "WAC 296-24-29401(1), wire rope 1/5; DOE-STD-1090-96, 11.3.1.3, slings 5; "
    "France, arrêté du 18 décembre 1992, article 4, chain 4"
)

CHAIN = Rule(
    "chain-grade", "Chain for lifting is alloy chain of grade 80 or 100.", CHAIN_PAGE, firm=NO_RATING
)
CLEAR = Rule(
    "clear-rope",
    "Between its ends a wire rope sling has 10 rope diameters clear, a grommet is 96 round.",
    CLEAR_PAGE,
    firm=MAY_BE_WAIVED,
)
EYE = Rule(
    "eye-bend",
    "The eye of a rope sling hangs on a pin no thinner than the rope.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)

STRENGTH = Rule(
    "sling-strength",
    "A sling is rated at a fifth of its breaking strength at most, a chain at a quarter.",
    STRENGTH_PAGE,
    firm=OVERLOAD,
)

RULES = (CHAIN, CLEAR, EYE, STRENGTH)

FOR_LIFTING = frozenset({"80", "100"})
FOR_TIE_DOWN = frozenset({"3", "28", "30", "4", "40", "43", "7", "70"})
CLEAR_DIAMETERS = 10
GROMMET_DIAMETERS = 96
ROUNDING = 1.005


def uses(material: str | None) -> frozenset[str]:
    """The fields these rules would read for a sling of this material."""
    more = {
        "chain": {"grade"},
        "wire rope": {"size", "clear_length", "leg_length", "pin"},
    }
    return frozenset({"breaking_strength"} | more.get(material or "", set()))


def check(item: Item, material: str | None) -> Iterator[Finding]:
    """What is to be said of how a sling of this material is made."""
    if material is not None:
        yield from _strength(item, 4 if material == "chain" else 5)
    if material == "chain":
        yield from chain_grade(item)
    if material == "wire rope" and item.size is not None and item.size.mm:
        yield from _clear(item, item.size.mm)
        if item.pin is not None and not at_least(item.pin, item.size.mm):
            unit = item.units.get("pin", "mm")
            yield EYE.fails(
                f"its eye hangs on a pin of {show_length(item.pin, unit)}, thinner than the rope of "
                f"{item.size.name}",
                "a thimble in the eye, or a pin no thinner than the rope",
            )


def chain_grade(item: Item) -> Iterator[Finding]:
    """Whether the grade of a chain is one for lifting."""
    if item.grade is None:
        if "grade" not in item.problems and item.rated_load is not None:
            yield CHAIN.advises("the grade of the chain is not stated: 80 or 100 stands on its links and tag")
        return
    grade = grade_of(item.grade)
    if grade in FOR_TIE_DOWN:
        yield CHAIN.fails(
            f"chain of grade '{item.grade}' is for tie-down, not for lifting", "grade 80 or 100"
        )
    elif grade not in FOR_LIFTING:
        yield CHAIN.holds(
            f"chain of grade '{item.grade}' is not known here as chain for lifting",
            "fill in the grade marked on its links: 80, 100, or 8 in Europe",
        )


def _strength(item: Item, factor: int) -> Iterator[Finding]:
    if item.breaking_strength is None or item.rated_load is None:
        return
    if not at_least(item.breaking_strength * ROUNDING, factor * item.rated_load):
        unit = item.units.get("rated_load", "kN")
        breaks, rated = show_force(item.breaking_strength, unit), show_force(item.rated_load, unit)
        yield STRENGTH.fails(
            f"it breaks at {breaks}, less than {factor} times the {rated} it is said to be rated",
            "the rated load and the breaking strength, read again",
        )


def _clear(item: Item, diameter: float) -> Iterator[Finding]:
    text = called(item)
    if says(text, "braided"):
        yield CLEAR.advises("braided: 40 diameters of its component ropes must be clear between its ends")
        return
    grommet = says(text, "grommet", "endless")
    least = (GROMMET_DIAMETERS if grommet else CLEAR_DIAMETERS) * diameter
    length = item.clear_length or (item.leg_length and item.leg_length * (2 if grommet else 1))
    unit = item.units.get("clear_length") or item.units.get("leg_length", "mm")
    wanted = f"{show_length(least, unit)}, {GROMMET_DIAMETERS if grommet else CLEAR_DIAMETERS} diameters"
    if not length:
        yield CLEAR.notes(f"its length is not given: {wanted} at least {'round' if grommet else 'clear'}")
    elif not at_least(length, least):
        yield CLEAR.fails(
            f"its rope is {show_length(length, unit)} {'round' if grommet else 'between its ends at most'}, "
            f"under {wanted}",
            "a longer sling",
        )
