"""Wire rope clips: how many, how far apart and how tight; an eye holds a part of what its rope is rated for.

>>> pattern(Item(type="drop-forged")), pattern(Item(type="malleable iron")), pattern(Item(type="grip"))
('drop forged', 'other material', None)
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rigxl.criteria import Criteria
from rigxl.firm import NO_RATING
from rigxl.hardware import clip_rope, clip_tables, threads
from rigxl.hardware.bought import EN_CLIPS, MARKED_HARDWARE, Bought, Look
from rigxl.hardware.clip_rope import clips_on, diameter, shown
from rigxl.hardware.clip_tables import FACTOR_PAGE, FACTORS, FIELD_MANUAL, MANUAL_PAGE, Least
from rigxl.hardware.usage import called, refuses, says
from rigxl.items import Derate, Finding, Item, Rule
from rigxl.mechanics.limits import at_least
from rigxl.tables import COMMON_PRACTICE, Source, Table
from rigxl.units import read_size, show_length, show_torque

KIND = "wire rope clip"
WORDS = (
    "wire rope clip",
    "wire-rope clip",
    "wire rope grip",
    "wire rope clamp",
    "rope clamp",
    "rope clip",
    "rope grip",
    "cable clip",
    "cable clamp",
    "u-bolt clip",
    "u bolt clip",
    "u-bolt wire rope clip",
    "bulldog clip",
    "bulldog grip",
    "fist grip clip",
    "double saddle clip",
)
POSITION = None
TABLES = clip_tables.TABLES

SLINGS_PAGE = Source("29 CFR 1926.251", place="(c)(4)(iii), eyes of slings and bridles")
CLIP_PAGES = Source(
    "29 CFR 1918 Appendix II, Table 1; FM 5-125, Table 2-3; California T8 section 8497, Table 1",
    note="the strictest unless the criteria name one",
)
SPACING_PAGE = Source("29 CFR 1918 Appendix II", place="Table 1, six rope diameters")

NOT_FOR_SLINGS = Rule(
    "clips-not-for-slings",
    "The eyes of slings and bridles are not formed by clips: not for lifting.",
    SLINGS_PAGE,
    firm=NO_RATING,
)
SERVICE = Rule("clip-service", "What a rope does sets its factor, so its service must be known.", FACTOR_PAGE)
PATTERN = Rule("clip-pattern", "The number of clips depends on their pattern and material.", CLIP_PAGES)
SIZE = Rule("clip-size", "A clip is made for one rope diameter.", MANUAL_PAGE, firm=NO_RATING)
COUNT = Rule(
    "clip-count", "An eye needs the number of clips listed for its rope.", CLIP_PAGES, firm=NO_RATING
)
SPACING = Rule("clip-spacing", "Clips stand six rope diameters apart or more.", SPACING_PAGE, firm=NO_RATING)
TURNBACK = Rule(
    "clip-turnback",
    "The rope is turned back as far as its diameter and the clips ask.",
    clip_tables.CALIFORNIA_PAGE,
    firm=NO_RATING,
)
SADDLE = Rule(
    "clip-saddle",
    "The saddle bears on the live rope, the U-bolt on the dead end.",
    COMMON_PRACTICE,
    firm=NO_RATING,
)
TORQUE = Rule(
    "clip-torque", "The nuts are tightened to the torque listed for the rope.", CLIP_PAGES, firm=NO_RATING
)
AGAIN = Rule("clip-tightened-again", "Nuts are tightened again after the first load.", COMMON_PRACTICE)

RULES = (
    NOT_FOR_SLINGS, SERVICE, PATTERN, SIZE, COUNT, SPACING, TURNBACK, SADDLE, TORQUE, AGAIN,
    *clip_rope.RULES, threads.TORQUE,
)  # fmt: skip


BOUGHT = Bought(
    MARKED_HARDWARE,
    EN_CLIPS,
    marks=("on the saddle: the maker's name or mark, and the size",),
    looks=(
        Look("forged saddle", "The saddle is forged, as ordered, and its grooves fit the lay of the rope."),
        Look("nuts run", "The nuts run by hand over the full thread of the U-bolt."),
    ),
    own=("rope_diameter", "rope"),
    settles=("type",),
    gear=None,
    rated=False,
    listed=False,
    measured="the groove of the saddle, on a rope of that size",
    only_size="a clip is made for one diameter of rope",
    pieces=clips_on,
)

MORE_TO_JOIN = 2


def pattern(item: Item) -> str | None:
    """What the words name: drop forged, other material or double saddle; None where that is not clear."""
    text = called(item)
    named = {
        "drop forged": says(text, "forged", "drop forged"),
        "other material": says(text, "malleable", "malleable iron", "cast", "cast iron", "other material"),
        "double saddle": says(text, "double saddle", "fist grip", "twin saddle", "two saddle"),
    }
    said = [name for name, does in named.items() if does]
    return "double saddle" if "double saddle" in said else said[0] if len(said) == 1 else None


def tables(item: Item) -> tuple[Table[Any], ...]:
    """What the rope is rated for by its strength and factor, listed by the size of the clip."""
    return clip_rope.tables(item)


def uses(item: Item) -> frozenset[str]:
    """The fields these rules would read for this item."""
    fields = {"type", "size", "rope_diameter", "service", "design_factor", "clip_count", "clip_spacing"}
    fields |= {"turnback", "saddle", "torque", "stated_torque"}
    return frozenset(fields | ({"rope", "breaking_strength"} if item.rated_load is None else set()))


def derates(item: Item, criteria: Criteria) -> tuple[Derate, ...] | None:
    """What the clips hold of the rope; None for a sling, which is not made up with clips."""
    if refuses(_service(item)):
        return None
    share = criteria.clip_efficiency
    return (Derate(share, f"clips hold {share:.0%} of the rope", criteria.origin("clip efficiency")),)


def check(item: Item, criteria: Criteria) -> Iterator[Finding]:
    """What the rules for wire rope clips say of one line of a schedule."""
    yield from _service(item)
    yield from clip_rope.check(item)
    yield from _saddle(item)
    yield AGAIN.advises("see that the nuts are tightened again after the first load")
    found = pattern(item)
    if found is None and "type" not in item.problems:
        yield PATTERN.holds(
            "whether the clips are drop forged is not stated",
            "fill in the type: drop forged, or the material, such as malleable",
        )
    elif found == "double saddle":
        yield PATTERN.holds(
            "double saddle clips, for which no page is at hand",
            "drop forged U-bolt clips, or the maker's own table",
        )
    mm = diameter(item)
    if mm is None:
        if not {"size", "rope_diameter"} & item.problems.keys():
            yield SIZE.holds(
                "the diameter of the rope is not known", "fill in the size of the clip, as 1/2 in"
            )
        return
    yield from _made_for(item, mm)
    if found in ("drop forged", "other material"):
        yield from _counted(item, criteria, mm, found)
    yield from _spaced(item, mm)
    yield from _turned_back(item, mm)
    yield from _tightened(item, criteria, mm)


def _service(item: Item) -> Iterator[Finding]:
    if (
        item.service == "slings"
        or item.position in ("leg", "drop", "pick point")
        or says(called(item), "sling", "bridle")
    ):
        yield NOT_FOR_SLINGS.fails(
            "a sling or bridle made up with clips", "a sling with spliced, swaged or poured ends"
        )
    elif item.service is None:
        if "service" not in item.problems:
            yield SERVICE.holds(
                "the service of the rope is not stated", f"fill in one of: {', '.join(FACTORS)}"
            )
    elif item.service not in FACTORS:
        yield SERVICE.holds(
            f"the service '{item.service}' is not listed", f"fill in one of: {', '.join(FACTORS)}"
        )


def _saddle(item: Item) -> Iterator[Finding]:
    if item.saddle == "dead":
        yield SADDLE.fails("the saddle bears on the dead end", "turn the clips: saddle on the live rope")
    elif item.saddle is None and "saddle" not in item.problems:
        yield SADDLE.holds(
            "which part of the rope the saddle bears on is not stated", "fill in saddle on: live or dead"
        )


def _made_for(item: Item, mm: float) -> Iterator[Finding]:
    if item.size is None or item.size.mm is None:
        if "size" not in item.problems:
            yield SIZE.holds("the size of the clip is not given as a diameter", "fill in its size, as 1/2 in")
        return
    if abs(item.size.mm - mm) <= 1e-6 * mm:
        return
    row = clip_tables.row_for(FIELD_MANUAL, mm)
    if row is None or read_size(f"{row.clip_size} in").name != item.size.name:
        yield SIZE.fails(
            f"clips for {item.size.name} on a rope of {shown(item, mm)}", "clips made for this rope"
        )


def _counted(item: Item, criteria: Criteria, mm: float, made: str) -> Iterator[Finding]:
    pages = clip_tables.counts(mm, made)
    page = criteria.clip_rules if made == "drop forged" else "29 cfr 1918"
    least = clip_tables.of_page(pages, page)
    if least is None:
        listing = clip_tables.BY_PAGE[page]
        yield COUNT.holds(
            clip_tables.not_listed(shown(item, mm), "number of clips", *listing),
            "correct the diameter, or have the number of clips settled by a qualified person",
        )
        return
    joined = says(called(item), "end to end", "lap", "lapped", "joining")
    asked = int(least.value) + (MORE_TO_JOIN if joined else 0)
    told = _told({page: f"{one.value:g}" for page, one in pages.items()})
    if item.clip_count is None:
        if "clip_count" not in item.problems:
            yield COUNT.holds(
                "the number of clips is not given", f"fill in the number of clips, {asked} or more"
            )
    elif item.clip_count < asked:
        yield COUNT.fails(
            f"{item.clip_count} clips, and a rope of {shown(item, mm)} needs {asked} ({told})",
            f"{asked} clips",
        )
    else:
        yield COUNT.notes(f"{item.clip_count} clips where {asked} are needed ({told})")


def _told(pages: Mapping[str, str]) -> str:
    return ", ".join(f"{page}: {value}" for page, value in pages.items())


def _spaced(item: Item, mm: float) -> Iterator[Finding]:
    least = clip_tables.spacing(mm)
    if least is None:
        yield SPACING.holds(
            clip_tables.not_listed(shown(item, mm), "spacing", *clip_tables.COUNTS), "correct the diameter"
        )
        return
    unit = item.units.get("clip_spacing", "in")
    needed = show_length(least.value, unit)
    if item.clip_spacing is None:
        if "clip_spacing" not in item.problems:
            yield SPACING.holds(
                "the spacing of the clips is not given", f"fill in the spacing, {needed} or more"
            )
    elif not at_least(item.clip_spacing, least.value):
        yield SPACING.fails(
            f"clips {show_length(item.clip_spacing, unit)} apart, and {needed} is the least",
            f"{needed} or more",
        )


def _turned_back(item: Item, mm: float) -> Iterator[Finding]:
    clips, unit = item.clip_count or 1, item.units.get("turnback", "in")
    least = clip_tables.turnback(mm, clips)
    if item.turnback is None:
        if "turnback" not in item.problems:
            needed = f", {show_length(least.value, unit)} or more" if least else ""
            yield TURNBACK.holds("the length turned back is not given", f"fill in the turnback{needed}")
        return
    given = show_length(item.turnback, unit)
    if least is None:
        yield from _turned_back_enough(item, mm, clips, given)
    elif not at_least(item.turnback, least.value):
        needed = show_length(least.value, unit)
        yield TURNBACK.fails(
            f"{given} turned back, and {needed} is the least for {clips} clips", f"{needed} or more"
        )


def _turned_back_enough(item: Item, mm: float, clips: int, given: str) -> Iterator[Finding]:
    """A rope the page does not list: what is enough for the next larger one is enough for this."""
    enough = clip_tables.enough_turnback(mm, clips)
    if enough is not None and item.turnback is not None and at_least(item.turnback, enough.value):
        yield TURNBACK.notes(f"{given} turned back is enough for the next larger rope that is listed")
        return
    remedy = "correct the diameter"
    if enough is not None:
        needed = show_length(enough.value, item.units.get("turnback", "in"))
        remedy = f"{needed} or more, which is enough for the next larger rope"
    yield TURNBACK.holds(
        f"{clip_tables.not_listed(shown(item, mm), 'turnback', clip_tables.TUNNEL)}; {given} is turned back",
        remedy,
    )


def _tightened(item: Item, criteria: Criteria, mm: float) -> Iterator[Finding]:
    if item.stated_torque is not None:
        yield from threads.tightened(item)
        return
    pages = clip_tables.torques(mm)
    # 29 CFR 1918 lists no torque: there the stricter of the others is asked
    page = criteria.clip_rules if criteria.clip_rules in pages else "strictest"
    least = clip_tables.of_page(pages, page)
    if least is None:
        listing = (FIELD_MANUAL, clip_tables.TUNNEL)
        yield TORQUE.holds(
            clip_tables.not_listed(shown(item, mm), "torque", *listing),
            "fill in the torque that the maker states",
        )
        return
    yield from _tight_enough(item, least, pages)


def _tight_enough(item: Item, least: Least, pages: Mapping[str, Least]) -> Iterator[Finding]:
    unit = item.units.get("torque", "ft lb")
    needed = show_torque(least.value, unit)
    told = _told({page: show_torque(one.value, unit) for page, one in pages.items()})
    if item.torque is None:
        if "torque" not in item.problems:
            yield TORQUE.holds(
                "the torque of the nuts is not recorded", f"fill in the torque, {needed} ({told})"
            )
    elif not at_least(item.torque, least.value):
        yield TORQUE.fails(f"tightened to {show_torque(item.torque, unit)}, under {needed} ({told})", needed)
