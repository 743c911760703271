"""Tables of inspections, joined to the rows of a schedule by tag or serial number.

The latest inspection of a piece counts. What it measured is handed on for the removal criteria; a piece that
was taken out of service stays out until a later inspection says that it is back.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from rigxl.checks.condition import FIT, UNFIT, plain
from rigxl.checks.removal import USES, named
from rigxl.checks.traceability import LINE_NUMBER, key
from rigxl.items import Item, Measurement
from rigxl.schedule.line import Line

MOST_NAMED = 5
MOST_ROWS = 100
"""A tag on more rows than this tags no piece."""

GREATEST = ("wear", "throat_growth", "twist_deg", "out_of_straight", "broken_in_lay", "broken_in_strand")
"""What a row may say of itself besides: of two that differ, the worse counts."""

TAKEN = USES | {*GREATEST, "inspected", "in_service", "condition"}
"""The fields of an inspection that hold a row where they cannot be read."""

NO_FINDING = frozenset(
    {"visual", "general", "overall", "periodic", "annual", "yearly", "routine", "thorough", "other", "all"}
)
OF_INSPECTIONS = frozenset({"inspection", "examination", "check", "visual", "condition"})


def join(items: list[Line], inspections: list[Line]) -> list[str]:
    """Give every row what its inspections found, in place; the sentences are for the workbook as a whole.

    Args:
        items: The rows of the schedules.
        inspections: The rows of tables of inspections.
    """
    for line in items:
        if line.item.finding or line.item.original is not None or line.item.measured is not None:
            line.item.measurements = tuple(_found(line))
    if not inspections:
        return []
    rows_of = pieces(items)
    of_piece: dict[str, list[Line]] = {}
    untagged: list[Line] = []
    strangers: dict[str, str] = {}
    for line in inspections:
        names = [key(name) for name in (line.item.tag, line.item.serial) if name]
        name = next((name for name in names if name in rows_of), None)
        if name is not None:
            of_piece.setdefault(name, []).append(line)
        elif names:
            strangers.setdefault(names[0], f"'{line.item.tag or line.item.serial}' ({_place(line)})")
        else:
            untagged.append(line)
    for name, found in of_piece.items():
        rows = rows_of[name]
        for line in rows:
            if len(rows) > MOST_ROWS:
                line.item.problems["inspected"] = (
                    f"{line.cell_of('tag')}: '{name}' stands on {len(rows)} rows, so its inspections are "
                    "of no one piece: give each piece its own tag"
                )
            else:
                _take(line, found)
    said = by_line_numbers("inspections", of_piece)
    if strangers:
        said.append(f"inspections of tags that no row has: {some(list(strangers.values()))}")
    if untagged:
        said.append(f"inspections without a tag, left alone: {some([_place(one) for one in untagged])}")
    return said


def by_line_numbers(what: str, names: Iterable[str]) -> list[str]:
    """A sentence where tables are joined by the numbers of lines, which tell no piece."""
    numbers = [name for name in dict.fromkeys(names) if LINE_NUMBER.fullmatch(name)]
    if not numbers:
        return []
    return [
        f"{what} are joined by line numbers ({some(numbers)}), which stand on other pieces once rows move: "
        "give each piece a tag or a serial number"
    ]


def pieces(items: Iterable[Line]) -> dict[str, list[Line]]:
    """The rows of each piece, by tag, by serial number, and by each part of a tag of several columns."""
    found: dict[str, list[Line]] = {}
    for line in items:
        names = [line.item.serial] if line.item.serial else []
        if line.item.tag:
            names += [line.item.tag, *line.item.tag.split(" / ")]
        for name in dict.fromkeys(map(key, names)):
            found.setdefault(name, []).append(line)
    return found


def _take(line: Line, found: list[Line]) -> None:
    """What the inspections of one piece say of a row."""
    item = line.item
    dated = [one for one in found if one.item.inspected is not None]
    for one in found:
        if one.item.inspected is None:
            item.problems.setdefault(
                "inspected",
                one.item.problems.get("inspected")
                or f"{_place(one)} has no date: fill in when it was inspected",
            )
    if not dated:
        latest = found
    else:
        last = max(_day(one) for one in dated)
        latest = [one for one in found if one.item.inspected in (None, last)]
        if item.inspected is None or item.inspected < last:
            _date(line, next(one for one in dated if _day(one) == last))
    _service(line, dated, [one for one in found if one.item.inspected is None])
    for one in latest:
        item.measurements += tuple(_found(one))
        for name in GREATEST:
            given, own = getattr(one.item, name), getattr(item, name)
            if given is not None and (own is None or given > own):
                setattr(item, name, given)
        for name, sentence in one.item.problems.items():
            if name in TAKEN:
                item.problems.setdefault(name, sentence)


def _day(line: Line) -> dt.date:
    assert line.item.inspected is not None
    return line.item.inspected


def _date(line: Line, last: Line) -> None:
    line.item.inspected, line.item.inspected_by = last.item.inspected, last.item.inspected_by
    line.cells.move("inspected", last.cell_of("inspected"))
    line.notes += (f"last inspection: taken from {_place(last)}",)


def _service(line: Line, dated: list[Line], undated: list[Line]) -> None:
    """Out of service by the last that says either, by the row itself, or by one whose date is not known."""
    says = [one for one in dated if one.item.in_service is not None]
    if says:
        last = max(_day(one) for one in says)
        out = [one for one in says if _day(one) == last and one.item.in_service is False]
    else:
        out = []
    out += [one for one in undated if one.item.in_service is False]
    if out:
        line.item.in_service = False
        line.cells.move("in_service", out[0].cell_of("in_service"))
        line.notes += (f"out of service: taken from {_place(out[0])}",)


def _found(line: Line) -> list[Measurement]:
    """The findings of one row: what it measured, and what it says in words."""
    item = line.item
    found = []
    if item.original is not None or item.measured is not None:
        found.append(
            Measurement(
                _place(line), _what(line), item.original, item.measured,
                item.units.get("original", ""), item.units.get("measured", ""),
            )
        )  # fmt: skip
    elif item.finding and not _says_nothing(item):
        found.append(Measurement(_place(line), item.finding))
    if line.listing.role == "inspections" and item.condition:
        parts = dict.fromkeys(part.strip() for part in item.condition.split(" / "))
        found += [Measurement(_place(line), part) for part in parts if not FIT.fullmatch(plain(part))]
    return found


def _what(line: Line) -> str:
    """What was measured: as the finding says, or else the heading over the dimension."""
    if line.item.finding:
        return line.item.finding
    for name in ("measured", "original"):
        number = line.listing.column_of(name)
        if number is not None:
            return next(one.heading for one in line.listing.columns if one.number == number)
    return ""


def _says_nothing(item: Item) -> bool:
    """Whether a kind of finding names the inspection alone, or what other columns say more of."""
    words = plain(item.finding or "").split()
    if item.condition and named(item.finding or "") and not UNFIT.search(" ".join(words)):
        return True
    counted = (
        item.broken_in_lay is not None or item.broken_in_strand is not None or item.twist_deg is not None
    )
    return counted or set(words) <= NO_FINDING | OF_INSPECTIONS


def _place(line: Line) -> str:
    return f"row {line.row} of sheet '{line.sheet}'"


def some(names: list[str]) -> str:
    """The first few of some names, and how many more there are."""
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
