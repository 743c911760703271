"""The items of one lift as an assembly: what hangs in what, whether it fits, and whether there is enough.

The rows of a lift count in their order. Two rows are neighbours when one comes right after the other and its
position follows: the same position and another kind, or the next one down (top, leg, device, drop, pick
point). Whatever else may hang together is not compared, and nothing passes by it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from rigxl.checks.judge import Placed
from rigxl.hardware import kinds
from rigxl.hardware.fit import HOLE_FIT, hole_fits, passes_through
from rigxl.hardware.hook import THROAT_FIT
from rigxl.hardware.shackle import BOW_FIT
from rigxl.hardware.sling import BRIDLE, material
from rigxl.hardware.usage import called, collects
from rigxl.items import Finding, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE
from rigxl.units import show_length

ONE_LINE = Rule(
    "collected-below",
    "A hook that holds one link or shackle, which collects the legs, sees one line.",
    COMMON_PRACTICE,
)
TOO_FEW = Rule(
    "items-for-legs",
    "No leg goes without: every kind of item in the legs comes once, twice or more times for each leg.",
    COMMON_PRACTICE,
)
OVER_PIN = Rule(
    "bend-over-pin",
    "The eye of a rope sling bends over a pin at least as thick as the rope.",
    COMMON_PRACTICE,
)
WEAKEST = Rule("weakest-item", "An assembly is as strong as its weakest item.", COMMON_PRACTICE)

RULES = (ONE_LINE, TOO_FEW, OVER_PIN, WEAKEST, HOLE_FIT, THROAT_FIT, BOW_FIT)

FOLLOWS = frozenset(
    {
        ("top", "leg"), ("top", "device"), ("leg", "device"), ("leg", "pick point"), ("device", "drop"),
        ("drop", "pick point"),
    }
)  # fmt: skip
AT = {"leg": "in the legs", "drop": "in the drops", "pick point": "at the pick points"}
"""Where pieces are counted against the legs."""

NOT_COUNTED = frozenset({"wire rope clip"})
HOLED = frozenset({"pad eye", "eye bolt", "lifting beam", "spreader bar", "turnbuckle"})


def position(item: Item) -> str | None:
    """Where an item hangs, by its row or else by its kind."""
    if item.position is not None or "position" in item.problems:
        return item.position
    kind = kinds().get(item.kind or "")
    return kind.POSITION if kind else None


def prepare(items: Sequence[Item]) -> None:
    """Settle what the items of one lift mean to each other, before any of them is judged."""
    places = [position(item) for item in items]
    if "device" in places:
        _below_device(items, places)
    tops = [item for item, place in zip(items, places, strict=True) if place == "top"]
    if len(tops) > 1:
        for number, item in enumerate(tops):
            if item.kind == "hook" and _collected(tops[number + 1 :]):
                item.gathered_below = True
                item.legs = 1
                item.problems.pop("legs", None)


def check(rows: Sequence[Placed]) -> None:
    """Add to the rows of one lift, in their order, what they are to each other."""
    _enough(rows)
    if len(rows) < 2:
        return
    for row in rows:
        if row.judged.item.gathered_below:
            row.judged.findings.append(
                ONE_LINE.notes("it holds the one link or shackle below it, which collects the legs: one line")
            )
    for upper, lower in pairwise(rows):
        for finding in fits(upper, lower):
            upper.judged.findings.append(finding)
            lower.judged.findings.append(finding)
    _weakest(rows)


def fits(upper: Placed, lower: Placed) -> Iterator[Finding]:
    """What speaks against two rows of a lift, one right after the other, hanging in one another."""
    if _neighbours(upper.judged.item, lower.judged.item):
        yield from _fit(upper, lower)
        yield from _fit(lower, upper)


def _below_device(items: Sequence[Item], places: Sequence[str | None]) -> None:
    """What hangs below the one device of a lift does not carry the device itself."""
    devices = [item for item, place in zip(items, places, strict=True) if place == "device"]
    own = devices[0].own_weight
    if len(devices) > 1 or (devices[0].quantity or 1) > 1 or not own:
        return
    for item, place in zip(items, places, strict=True):
        if place in ("drop", "pick point") and item.rigging is not None and own <= item.rigging:
            item.hung_above = own


def _collected(below: Sequence[Item]) -> bool:
    """Whether just one link, one shackle, or one of each hangs below a hook and collects what is below."""
    collectors = [item for item in below if item.kind in ("link", "shackle")]
    kinds_of = [item.kind for item in collectors]
    single = all((item.quantity or 1) == 1 for item in collectors)
    return bool(collectors) and single and len(set(kinds_of)) == len(kinds_of)


def _neighbours(upper: Item, lower: Item) -> bool:
    above, below = position(upper), position(lower)
    if above is None or below is None:
        return False
    return upper.kind != lower.kind if above == below else (above, below) in FOLLOWS


def _fit(one: Placed, other: Placed) -> Iterator[Finding]:
    """Whether the second of two neighbours goes on or into the first, where their dimensions are known."""
    item, next_to = one.judged.item, other.judged.item
    units = next_to.units | item.units
    found: list[Finding] = []
    cells = ""
    if item.kind == "shackle" and next_to.kind in HOLED:
        if item.pin is not None and next_to.hole is not None and item.hole is None:
            cells = f"{one.cell_of('pin')} and {other.cell_of('hole')}"
            found += hole_fits("pin", item.pin, next_to.hole, units)
    elif item.kind == "hook" and next_to.kind == "link":
        if item.throat is not None and next_to.bar is not None and item.bar is None:
            cells = f"{one.cell_of('throat')} and {other.cell_of('bar')}"
            found += passes_through(THROAT_FIT, "hook", next_to.bar, item.throat, units)
    elif item.kind == "shackle" and next_to.kind == "sling":
        yield from _sling_in_shackle(one, other)
    yield from (finding._replace(said=f"{finding.sentence} ({cells})") for finding in found)


def _sling_in_shackle(one: Placed, other: Placed) -> Iterator[Finding]:
    shackle, sling = one.judged.item, other.judged.item
    units = sling.units | shackle.units
    name, width = _width(sling)
    if width is None:
        return
    if shackle.inside_width is not None:
        slings = (shackle.legs or 1) if collects(shackle) else 1
        for finding in passes_through(BOW_FIT, "bow", slings * width, shackle.inside_width, units):
            beside = f"{slings} slings side by side: " if slings > 1 else ""
            cells = f"{one.cell_of('inside_width')} and {other.cell_of(name)}"
            yield finding._replace(said=f"{beside}{finding.sentence} ({cells})")
    if shackle.pin is not None and name != "sling_width" and not at_least(shackle.pin, width):
        unit = units.get("pin", "mm")
        yield OVER_PIN.holds(
            f"the eye of a rope of {show_length(width, unit)} bends over a pin of "
            f"{show_length(shackle.pin, unit)}: D/d {shackle.pin / width:.2g}, under 1 "
            f"({one.cell_of('pin')} and {other.cell_of(name)})",
            "a pin as thick as the rope, a thimble in the eye, or the word of the sling's maker",
        )


def _width(sling: Item) -> tuple[str, float | None]:
    """How wide a sling lies in a bow, and the field that says so."""
    if sling.sling_width is not None:
        return "sling_width", sling.sling_width
    if material(sling) != "wire rope":
        return "", None
    if sling.rope_diameter is not None:
        return "rope_diameter", sling.rope_diameter
    return "size", sling.size.mm if sling.size else None


def _enough(rows: Sequence[Placed]) -> None:
    """Whether the pieces of each kind, position and number of legs come out even on the legs."""
    if len(rows) == 1:
        item = rows[0].judged.item
        if item.quantity is None or not item.legs or item.quantity % item.legs == 0:
            return
    groups: dict[tuple[str, str, int], list[Placed]] = {}
    for row in rows:
        item = row.judged.item
        if item.position in AT and item.kind and item.legs and not _of_several_legs(item):
            groups.setdefault((item.position, item.kind, item.legs), []).append(row)
    for (place, kind, legs), same in groups.items():
        quantities = [row.judged.item.quantity for row in same]
        known = [quantity for quantity in quantities if quantity is not None]
        count = sum(known)
        if len(known) == len(same) and (count < legs or (place == "leg" and count % legs)):
            pieces = kind if count == 1 else f"{kind}s"
            for row in same:
                row.judged.findings.append(
                    TOO_FEW.holds(
                        f"{count} {pieces} {AT[place]}, and there are {legs} legs "
                        f"({', '.join(one.cell_of('quantity') for one in same[:4])})",
                        "correct the quantity, or state on the row how many legs it is on",
                    )
                )


def _of_several_legs(item: Item) -> bool:
    """Whether one piece serves several legs, as a bridle or a basket does; or none, as a clip."""
    if item.kind in NOT_COUNTED:
        return True
    return item.kind == "sling" and (item.hitch == "basket" or BRIDLE.search(called(item)) is not None)


def _weakest(rows: Sequence[Placed]) -> None:
    """Name the item of the highest utilisation."""
    spent = [(row.judged.utilisation, row) for row in rows if row.judged.utilisation is not None]
    if not spent:
        return
    most, weakest = max(spent, key=lambda pair: pair[0])
    unknown = len(rows) - len(spent)
    rest = f"; of {unknown} the utilisation is not known" if unknown else ""
    weakest.judged.findings.append(
        WEAKEST.notes(f"the weakest of {len(spent)} items of its lift, utilisation {most:.3g}{rest}")
    )
