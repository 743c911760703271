"""The user's own table of makers' ratings: by kind, maker, size, and type and grade where it says them.

It governs over what is published, row by row.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from rigxl.hardware.usage import called, grade_of, says, words
from rigxl.items import Finding, Item, Rule
from rigxl.tables import Source
from rigxl.units import show_force, show_pair

OWN_TABLE = Source("the maker's own table, as entered by the user")

OVER_MAKER = Rule(
    "rating-over-makers-table",
    "A stated rating above the one in the maker's own table is held until it is settled which is right.",
    OWN_TABLE,
)
BY_MAKER = Rule(
    "rating-by-makers-table",
    "Where the user enters a maker's own table, its rating governs over every published one.",
    OWN_TABLE,
)

RULES = (OVER_MAKER, BY_MAKER)
TAKEN = "no rated load is given: taken from the maker's table"
ROUNDING = 1.005
"""Half a per cent, as the same rating is rounded in different units."""


class Entry(NamedTuple):
    """One line of a maker's table; ``problem`` says why its rating cannot be used, where it cannot."""

    where: str
    kind: str
    maker: str
    size: str
    type: str | None
    grade: str | None
    rated: float | None
    unit: str
    problem: str = ""


class MakersTable:
    """The lines of makers' tables, found by kind, maker and size."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self._entries: dict[tuple[str, str, str], list[Entry]] = {}
        for entry in entries:
            self._entries.setdefault((entry.kind, _plain(entry.maker), entry.size), []).append(entry)

    def rated(self, item: Item) -> tuple[Entry | None, list[Finding]]:
        """The line that rates an item, None where there is none, and what was found on the way."""
        if item.size is None or not item.maker or not item.kind:
            return None, []
        listed = self._entries.get((item.kind, _plain(item.maker), item.size.name), [])
        fitting = [entry for entry in listed if _fits(entry, item)]
        if not fitting:
            return None, _none_fits(listed, item)
        first = fitting[0]
        other = next((entry for entry in fitting if _differ(entry, first)), None)
        if other is not None:
            return None, [_two_ratings(first, other)]
        if first.problem:
            return None, [BY_MAKER.holds(first.problem, f"correct the rated load in {first.where}")]
        return first, list(_against(first, item))


def _fits(entry: Entry, item: Item) -> bool:
    if entry.grade and grade_of(entry.grade) != grade_of(item.grade):
        return False
    text = called(item)
    return not entry.type or all(says(text, word) for word in words(entry.type).split())


def _none_fits(listed: list[Entry], item: Item) -> list[Finding]:
    """Sizes that are listed for another type or grade: held where the row has no rating of its own."""
    if not listed:
        return []
    said = ", ".join(dict.fromkeys(" ".join(filter(None, (entry.type, entry.grade))) for entry in listed))
    sentence = f"the maker's table ({listed[0].where}) lists this size for {said}, which the row does not say"
    if item.rated_load is not None:
        return [BY_MAKER.advises(f"{sentence}: its rating was not compared")]
    return [BY_MAKER.holds(sentence, "fill in the type and the grade as the maker's table names them")]


def _differ(one: Entry, other: Entry) -> bool:
    if one.rated is None or other.rated is None:
        return one.rated is not other.rated
    return abs(one.rated - other.rated) > 1e-9 * one.rated


def _two_ratings(one: Entry, other: Entry) -> Finding:
    return BY_MAKER.holds(
        f"{one.where} and {other.where} rate it differently ({_shown(one)} and {_shown(other)})",
        "settle which of the two lines of the maker's table is right",
    )


def _shown(entry: Entry) -> str:
    return "not readable" if entry.rated is None else show_force(entry.rated, entry.unit)


def _against(entry: Entry, item: Item) -> Iterable[Finding]:
    """What a line says of the rating stated in the row, or instead of it."""
    assert entry.rated is not None
    if item.rated_load is None:
        yield BY_MAKER.notes(f"{TAKEN}, {_shown(entry)} ({entry.where})")
    elif item.rated_load > entry.rated * ROUNDING:
        unit = item.units.get("rated_load", entry.unit)
        stated, listed = show_pair(item.rated_load, entry.rated, unit)
        yield OVER_MAKER.holds(
            f"the row says {stated}, and the maker's table {listed} ({entry.where}): say which",
            "read the mark on the piece again, and its unit, or correct the maker's table",
        )
    else:
        yield BY_MAKER.notes(f"its rated load is within the maker's table, {_shown(entry)} ({entry.where})")


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())
