"""What clamps, magnets and vacuum pads share: they hold by what the load is like, as their maker states.

>>> [found.sentence for found in one_piece(Item(pieces=2))]
['it holds 2 pieces at once']
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.firm import NO_RATING
from rigxl.hardware.usage import called, says, show_degrees, words
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_least, at_most
from rigxl.tables import FROM_MEMORY, Source
from rigxl.units import show_force, show_length

STATED = Source("ASME B30.20 Below-the-Hook Lifting Devices: as its maker states", note=FROM_MEMORY)

THICKNESS = Rule(
    "grip-thickness",
    "What is gripped or held must be within the thickness or width the maker states.",
    STATED,
    firm=NO_RATING,
)
LAY = Rule(
    "grip-position",
    "A clamp, magnet or pad is rated for the position of what it holds: vertical, horizontal or any.",
    STATED,
    firm=NO_RATING,
)
ONE_PIECE = Rule("one-piece", "One plate or piece at a time.", STATED, firm=NO_RATING)
LEAST_LOAD = Rule(
    "grip-least-load",
    "A clamp that grips by the load needs the least load its maker states.",
    STATED,
    firm=NO_RATING,
)
SURFACE = Rule("grip-surface", "A rating is for the surface the maker states.", STATED, firm=NO_RATING)
HEAT = Rule(
    "grip-temperature", "A rating is for temperatures up to the one the maker states.", STATED, firm=NO_RATING
)

CLAMP_USES = frozenset({"thickness", "grip_from", "grip_to"})
PLATE_USES = CLAMP_USES | {"lay", "rated_lay", "type", "pieces"}
SHEET_USES = PLATE_USES | {"surface", "rated_surface", "temperature", "rated_temperature"}
SHEET_RULES = (THICKNESS, LAY, ONE_PIECE, SURFACE, HEAT)

LAYS = ("vertical", "horizontal")
FILLERS = frozenset({"and", "or", "the", "a", "with", "surface", "plate", "steel", "only"})
NEGATIONS = frozenset({"no", "not", "non", "without", "free", "never", "except", "but"})


class Held(NamedTuple):
    """What a kind holds, in words: ``thing`` is its dimension, ``limits`` what its maker states of it."""

    thing: str
    limits: str


PLATE = Held("thickness of the plate", "the jaw range")
FLANGE = Held("width of the flange", "the jaw range")
SHEET = Held("thickness of what it holds", "the least thickness its rating is for")


def thickness(item: Item, held: Held, *, both_limits: bool = True) -> Iterator[Finding]:
    """Whether what is held is within the maker's limits; ``both_limits`` where there is an upper one too."""
    if item.thickness is None:
        if "thickness" not in item.problems:
            yield THICKNESS.holds(
                f"the {held.thing} is not given", f"fill in the {held.thing}, such as 20 mm"
            )
    elif _limit_missing(item, "grip_from") or (both_limits and _limit_missing(item, "grip_to")):
        yield THICKNESS.holds(f"{held.limits} is not given", f"fill in {held.limits}, as its maker states it")
    if item.thickness is None:
        return
    unit = item.units.get("thickness", "mm")
    given = show_length(item.thickness, unit)
    if item.grip_from is not None and not at_least(item.thickness, item.grip_from):
        yield THICKNESS.fails(
            f"the {held.thing} is {given}, under the {show_length(item.grip_from, unit)} it is rated for",
            "one that is rated for less",
        )
    elif item.grip_to is not None and not at_most(item.thickness, item.grip_to):
        yield THICKNESS.fails(
            f"the {held.thing} is {given}, over the {show_length(item.grip_to, unit)} it is rated for",
            "one that is rated for more",
        )


def sheet(item: Item) -> Iterator[Finding]:
    """What is to be said of a magnet or a vacuum pad on what it holds."""
    yield from thickness(item, SHEET, both_limits=False)
    yield from lay(item)
    yield from one_piece(item)
    yield from surface(item)
    yield from heat(item)


def rated_lay(item: Item) -> str | None:
    """The position the maker rates it for: as stated, or by the row's words."""
    if item.rated_lay is not None or "rated_lay" in item.problems:
        return item.rated_lay
    text = called(item)
    named = [lay for lay in LAYS if says(text, lay)]
    if says(text, "universal", "any position", "all position", "all positions") or len(named) > 1:
        return "any"
    return named[0] if named else None


def lay(item: Item) -> Iterator[Finding]:
    """Whether what is held hangs as the maker rates it."""
    if item.lay is None and "lay" not in item.problems:
        yield LAY.holds(
            "how what it holds hangs is not stated", "fill in the position held: vertical or horizontal"
        )
    rated = rated_lay(item)
    if rated is None and "rated_lay" not in item.problems:
        yield LAY.holds(
            "the position it is rated for is not stated",
            "fill in the position its maker rates it for: vertical, horizontal or any",
        )
    if item.lay is not None and rated not in (None, "any", item.lay):
        yield LAY.fails(
            f"it is rated for a {rated} position, and what it holds is {item.lay}",
            f"one that is rated for a {item.lay} position",
        )


def one_piece(item: Item) -> Iterator[Finding]:
    """Whether it holds one piece at a time."""
    if item.pieces is None:
        if "pieces" not in item.problems:
            yield ONE_PIECE.holds(
                "how many pieces it holds at once is not stated",
                "fill in the pieces held at once, 1 for a single plate",
            )
    elif item.pieces > 1:
        yield ONE_PIECE.fails(f"it holds {item.pieces} pieces at once", "one piece at a time")


def least_load(item: Item) -> Iterator[Finding]:
    """Whether the load, without allowances and shared by all the legs there are, is enough to grip."""
    if item.least_load is None:
        if "least_load" not in item.problems:
            yield LEAST_LOAD.holds(
                "the least load it grips is not given", "fill in the least load by its maker"
            )
        return
    if item.load is None:
        return
    share = item.load / (item.legs or 1 if item.position == "drop" else 1)
    if not at_least(share, item.least_load):
        unit = item.units.get("least_load") or item.units.get("load", "kN")
        yield LEAST_LOAD.fails(
            f"it carries {show_force(share, unit)}, and needs {show_force(item.least_load, unit)} to grip",
            "a smaller clamp, or a heavier plate",
        )


def surface(item: Item) -> Iterator[Finding]:
    """Whether the surface is one that the maker's rating is for, word by word."""
    for name, said in (("surface", "the surface it holds"), ("rated_surface", "the surface it is rated for")):
        if getattr(item, name) is None and name not in item.problems:
            yield SURFACE.holds(f"{said} is not stated", f"fill in {said}, such as clean and dry")
    if item.surface is None or item.rated_surface is None:
        return
    given, rated = _plain(item.surface), _plain(item.rated_surface)
    if given != rated and (not given or given - rated or NEGATIONS & (given | rated)):
        yield SURFACE.holds(
            f"the surface is '{item.surface}', and its rating is for '{item.rated_surface}'",
            "the maker's rating for this surface, or a surface as it states",
        )


def heat(item: Item) -> Iterator[Finding]:
    """Whether what is held is no hotter than the maker's rating allows."""
    for name, said in (
        ("temperature", "the temperature of what it holds"),
        ("rated_temperature", "the temperature up to which it is rated"),
    ):
        if getattr(item, name) is None and name not in item.problems:
            yield HEAT.holds(f"{said} is not stated", f"fill in {said}, such as 60 °C")
    if (
        item.temperature is not None
        and item.rated_temperature is not None
        and not at_most(item.temperature, item.rated_temperature)
    ):
        unit = item.units.get("temperature", "degC")
        given, rated = show_degrees(item.temperature, unit), show_degrees(item.rated_temperature, unit)
        yield HEAT.fails(
            f"what it holds is at {given}, over the {rated} it is rated for",
            "one that is rated for the heat, or a cooler load",
        )


def _limit_missing(item: Item, name: str) -> bool:
    return getattr(item, name) is None and name not in item.problems


def _plain(text: str) -> frozenset[str]:
    return frozenset(words(text).split()) - FILLERS
