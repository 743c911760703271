"""Goods-in lists, joined to the rows of a schedule by tag: what was found of each piece when it arrived.

A list has one row a box: the tag, what the box is called, what was read or measured, and yes or no. It stands
on a sheet of the schedule's own workbook, or in that of the order, and is known by its headings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rigxl.checks.traceability import key
from rigxl.errors import InputError
from rigxl.items import Arrival
from rigxl.schedule.cells import Reader
from rigxl.schedule.fields import Field
from rigxl.schedule.headings import plain
from rigxl.schedule.inspections import by_line_numbers, pieces, some
from rigxl.schedule.line import Line, address
from rigxl.schedule.listing import text_of
from rigxl.units import Habits
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.values import Row

TAG, CHECK, READ, RIGHT = "Tag", "Box", "Read or measured, with its unit", "Right? yes or no"
HEADINGS = {plain(heading): heading for heading in (TAG, CHECK, READ, RIGHT)}
GOODS_IN = "goods in"
LOOK_FOR_HEADINGS = 40
ORDER = "Rigging hardware order"
"""How the first cell of every sheet of an order begins; what the sheet is about follows."""
_OF_AN_ORDER = re.compile(
    rf"{ORDER}: (what to order|marks and papers|not ordered|where it comes from|goods in)", re.IGNORECASE
)
EITHER = frozenset({"x", "✗", "✘", "☒", "×"})
"""A tick to some and a cross to others."""
SPARE = "spare"
"""How the tag of a spare begins, which no row of the schedule has."""
NO_TAG = "no tag"
"""How the tag of a piece begins that the schedule gives none."""

_RIGHT = Field("right", "Answer", "yes/no", "Whether it is so.")
_READ = Field("read", "What was read", "text", "What was read or measured.")


class Box(NamedTuple):
    """One row of a list: the tag as written, None where there is none, and its box."""

    tag: str | None
    arrival: Arrival


def is_goods_in(sheet: Sheet) -> bool:
    """Whether a sheet is a goods-in list, by its headings."""
    return _head(sheet) is not None


def is_order(sheet: Sheet) -> bool:
    """Whether a sheet belongs to an order that was written from a schedule."""
    return _OF_AN_ORDER.fullmatch(text_of(sheet.cell(1, 1)).strip()) is not None


def refuse_half_a_list(sheet: Sheet) -> None:
    """Refuse what is a goods-in list but for its headings, for what is not so on it would not be read.

    Raises:
        InputError: Some of the headings are there and others are not.
    """
    named = {plain(text_of(value)) for row in sheet.rows[:LOOK_FOR_HEADINGS] for value in row.cells.values()}
    lacking = [heading for name, heading in HEADINGS.items() if name not in named]
    is_list = plain(sheet.name) == GOODS_IN or len(HEADINGS) - len(lacking) > len(lacking)
    if sheet.rows and is_list and lacking:
        names = " and no heading ".join(f"'{heading}'" for heading in lacking)
        raise InputError(
            f"sheet '{sheet.name}' looks like a goods-in list and has no heading {names}: nothing on it "
            "was read: put the headings back, or give the sheet another name and headings if it is none"
        )


def boxes(book: Book, habits: Habits, file: str = "") -> list[Box]:
    """Every box of every goods-in list in a workbook; ``file`` stands before the place of each."""
    return [box for sheet in book.sheets for box in _boxes(sheet, file, habits)]


def boxes_of_file(book: Book, habits: Habits) -> list[Box]:
    """Every box of a file that is given as a goods-in list.

    Raises:
        InputError: It holds no goods-in list.
    """
    found = boxes(book, habits, f"{book.path.name}, ")
    if not found:
        raise InputError(
            f"{book.path.name} holds no goods-in list: a row of headings must name '{TAG}', '{CHECK}', "
            f"'{READ}' and '{RIGHT}', as 'rigxl order' writes them"
        )
    return found


def join(items: Sequence[Line], found: Sequence[Box]) -> list[str]:
    """Give every row the boxes of its tag, in place; the sentences are for the workbook as a whole."""
    if not found:
        return []
    rows = pieces(items)
    strangers: dict[str, str] = {}
    untagged: list[str] = []
    joined: list[str] = []
    for tag, arrival in found:
        if tag is None:
            untagged.append(arrival.where)
            continue
        named = rows.get(key(tag), ())
        joined += [key(tag)] if named else []
        for line in named:
            line.item.arrivals += (arrival,)
            _certificate(line, arrival)
        if not named and (arrival.right is False or not key(tag).startswith(SPARE)):
            wrong = f", where '{arrival.look}' is not so" if arrival.right is False else ""
            strangers.setdefault(key(tag) + wrong, f"'{tag}' ({arrival.where}{wrong})")
    said = by_line_numbers("goods-in boxes", joined)
    if strangers:
        said.append(f"goods-in boxes of tags that no row has: {some(list(strangers.values()))}")
    if untagged:
        said.append(f"goods-in boxes without a tag, left alone: {some(untagged)}")
    return said


def _certificate(line: Line, arrival: Arrival) -> None:
    """The number read on arrival is the piece's certificate, where the schedule has none yet."""
    item = line.item
    if arrival.look == "certificate number" and arrival.right and arrival.read and not item.certificate:
        item.certificate = arrival.read
        line.notes += (f"certificate: {arrival.read}, as read on arrival ({arrival.where})",)


def _head(sheet: Sheet) -> tuple[int, dict[str, int]] | None:
    """The row of headings, and the column of each."""
    for row in sheet.rows[:LOOK_FOR_HEADINGS]:
        named = {plain(text_of(value)): number for number, value in row.cells.items()}
        if named.keys() >= HEADINGS.keys():
            return row.number, {HEADINGS[name]: named[name] for name in HEADINGS}
    return None


def _boxes(sheet: Sheet, file: str, habits: Habits) -> Iterator[Box]:
    head = _head(sheet)
    if head is None:
        return
    above, columns = head
    text, answer = Reader(_READ, None, habits), Reader(_RIGHT, None, habits)
    for row in sheet.rows:
        if row.number > above and any(row.cells.get(columns[one]) is not None for one in (CHECK, RIGHT)):
            yield _box(row, columns, f"{file}{sheet.name}", text, answer)


def _box(row: Row, columns: dict[str, int], sheet: str, text: Reader, answer: Reader) -> Box:
    where = {heading: address(sheet, row.number, column) for heading, column in columns.items()}
    said = {}
    problems = []
    for heading, reader in ((TAG, text), (CHECK, text), (READ, text), (RIGHT, answer)):
        cell = row.cells.get(columns[heading])
        outcome = reader.read(cell)
        said[heading] = outcome.value
        if heading == RIGHT and text_of(cell).casefold() in EITHER:
            said[heading] = None
            problems.append(f"{where[heading]}: '{text_of(cell)}' is a tick to some and a cross to others")
        elif outcome.told and outcome.told.problem:
            problems.append(f"{where[heading]}{outcome.told.problem}")
    look, read = key(said[CHECK] or "without a name"), said[READ] or ""
    arrival = Arrival(where[RIGHT], look, said[RIGHT], read, problems[0] if problems else "")
    return Box(said[TAG] if said[TAG] and not key(said[TAG]).startswith(NO_TAG) else None, arrival)
