"""What a piece is rated for: as stated of it, held against what is published for its size."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, NamedTuple

from rigxl.checks.makers import MakersTable
from rigxl.hardware import Kind
from rigxl.hardware.listed import where
from rigxl.hardware.usage import grade_of
from rigxl.items import HOLD, Finding, Item, Rule
from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Table
from rigxl.units import read_size, show_force, show_pair, to_unit

NOT_KNOWN = Rule("rating-not-known", "The rated load (WLL) of the piece must be known.", COMMON_PRACTICE)
SIZE = Rule(
    "size-not-listed", "A size that no table lists has no rating unless one is stated.", COMMON_PRACTICE
)
DISAGREES = Rule(
    "rating-over-table",
    "A stated rating above every published one for that size is held until it is settled which is right.",
    COMMON_PRACTICE,
)
LISTED = Rule(
    "rating-from-table", "With no rating stated, the published rating of the size is taken.", COMMON_PRACTICE
)
GRADE = Rule(
    "grade-not-listed", "A grade that no table lists has no rating unless one is stated.", COMMON_PRACTICE
)
FAR_OFF = Rule(
    "size-far-off",
    "A size far outside all that are listed for the kind is held: its unit is likely another.",
    COMMON_PRACTICE,
)
ROUNDING = 1.005
"""Half a per cent: makers and standards round the same rating to different units."""

FAR = 4
"""So many times over the largest listed size, or under the smallest; an inch is 25.4 times a millimetre."""

RULES = (NOT_KNOWN, SIZE, GRADE, FAR_OFF, DISAGREES, LISTED)
USES = frozenset({"rated_load", "size", "grade"})


class Listing(NamedTuple):
    """A published rating for the item's size."""

    table: Table[Any]
    newtons: float

    @property
    def printed(self) -> str:
        """The rating as printed."""
        return show_force(self.newtons, self.table.rated_in)

    @property
    def shown(self) -> str:
        """The rating as printed, with its source."""
        return f"{self.printed} ({self.table.source.cited})"


def tables_for(item: Item, kind: Kind) -> list[Table[Any]]:
    """The rated tables that are for an item; graded ones only for the grade it states, if it states one."""
    tables = [table for table in kind.tables(item) if table.rated]
    grade = grade_of(item.grade)
    if not grade or not any(table.grade for table in tables):
        return tables
    return [table for table in tables if grade_of(table.grade) == grade]


def listings(item: Item, kind: Kind) -> list[Listing]:
    """Every published rating for the item's size, in the tables that are for it."""
    if item.size is None:
        return []
    rows = ((table, table.get(item.size.name)) for table in tables_for(item, kind))
    return [Listing(table, table.rating(row)) for table, row in rows if row is not None]


def published(item: Item, kind: Kind) -> Listing | None:
    """The published rating that is taken for the item's size where none is stated: the lowest there is."""
    listed = listings(item, kind)
    return _least(listed) if listed else None


def _least(listed: list[Listing]) -> Listing:
    return min(listed, key=lambda one: one.newtons)


def rated(item: Item, kind: Kind, makers: MakersTable | None = None) -> tuple[float | None, list[Finding]]:
    """The rating of a piece in newtons, None where it cannot be known, and what was found on the way.

    Args:
        item: The piece; a rating that a maker's table gives is filled in.
        kind: Its kind.
        makers: The user's own table of makers' ratings, which governs over what is published.
    """
    entry, found = makers.rated(item) if makers else (None, [])
    if entry is not None:
        if item.rated_load is None and "rated_load" not in item.problems:
            item.rated_load = entry.rated
            item.units["rated_load"] = entry.unit
        return item.rated_load, found
    if any(one.outcome == HOLD for one in found):
        return item.rated_load, found
    rating, more = _published(item, kind)
    return rating, found + more


def _published(item: Item, kind: Kind) -> tuple[float | None, list[Finding]]:
    """The rating as stated, held against what is published; or as published."""
    listed = listings(item, kind)
    if item.rated_load is not None:
        return item.rated_load, [*_agrees(item, item.rated_load, listed), *_far_off(item, kind)]
    if "rated_load" in item.problems:
        return None, []
    if not listed:
        return None, [_nothing_listed(item, kind)]
    least = _least(listed)
    if FROM_MEMORY in least.table.source.cited:
        return None, [
            NOT_KNOWN.holds(
                f"no rated load is given, and for {item.size and item.size.name} ours is only from memory: "
                f"{least.shown}",
                "fill in the rated load marked on the piece",
            )
        ]
    return least.newtons, [
        LISTED.notes(f"no rated load is given: taken as published for the size, {least.shown}")
    ]


def _nothing_listed(item: Item, kind: Kind) -> Finding:
    if item.size is None:
        return NOT_KNOWN.holds("no rated load is given", "fill in the rated load (WLL) marked on the piece")
    tables = tables_for(item, kind)
    if not tables and item.grade and kind.tables(item):
        known = ", ".join(dict.fromkeys(table.grade for table in kind.tables(item) if table.grade))
        return GRADE.holds(
            f"no rated load is given, and grade '{item.grade}' is not listed; {known} are",
            "fill in the rated load marked on the piece, or correct the grade",
        )
    lists = "; ".join(f"{table.name}: {', '.join(table.sizes)}" for table in tables[:2])
    lies = where(item.size.name, [size for table in tables for size in table.sizes])
    return SIZE.holds(
        f"no rated load is given, and size '{item.size.said}' is not listed{lies and ': '}{lies} "
        f"({lists or 'no table for this kind'})",
        "fill in the rated load marked on the piece, or a listed size",
    )


@lru_cache(maxsize=256)
def _reach(tables: tuple[Table[Any], ...]) -> tuple[str, float, str, float] | None:
    """The smallest and the largest size of tables, each with its length in mm; None where they list none."""
    listed = [[(mm, name) for name in one.sizes if (mm := read_size(name).mm) is not None] for one in tables]
    reaches = [(min(lengths), max(lengths)) for lengths in listed if lengths]
    if not reaches:
        return None
    (low, smallest), _ = min(reaches, key=lambda reach: reach[0][0])
    _, (high, largest) = max(reaches, key=lambda reach: reach[1][0])
    return smallest, low, largest, high


def _far_off(item: Item, kind: Kind) -> Iterator[Finding]:
    if item.size is None or item.size.mm is None or not (reach := _reach(kind.tables(item))):
        return
    smallest, low, largest, high = reach
    if not low / FAR <= item.size.mm <= high * FAR:
        yield FAR_OFF.holds(
            f"its size is '{item.size.said}', and those listed for its kind go from {smallest} to {largest}",
            "correct the size or its unit, such as 16 mm where 16 in was typed",
        )


def _agrees(item: Item, stated: float, listed: list[Listing]) -> Iterator[Finding]:
    if not listed:
        return
    most = max(listed, key=lambda one: one.newtons)
    if stated > most.newtons * ROUNDING:
        unit = item.units.get("rated_load", "kN")
        shown, ours = show_pair(stated, most.newtons, unit)
        size = item.size.name if item.size else ""
        said = f"the row says {shown} and {size} is listed at {most.shown}, that is {ours}: say which"
        if _same_number(stated, unit, most):
            said = (
                f"marked {shown}, but the listed {size} is {most.shown}: one number in two units, say which"
            )
        yield DISAGREES.holds(
            said,
            "read the mark on the piece again, and its unit, or state the grade and the maker's own rating",
        )


def _same_number(stated: float, unit: str, listing: Listing) -> bool:
    """Whether a rating is the listed number in another unit, as 4.75 t is for 4.75 short tons."""
    said, printed = to_unit(stated, unit), to_unit(listing.newtons, listing.table.rated_in)
    return unit != listing.table.rated_in and abs(said - printed) <= (ROUNDING - 1) * printed
