"""Makers' own ratings, as the user enters them: on a sheet named for them, or in a file of their own."""

from __future__ import annotations

from rigxl.checks.makers import Entry, MakersTable
from rigxl.errors import InputError
from rigxl.schedule.fields import FIELD
from rigxl.schedule.headings import hear
from rigxl.schedule.layout import find_listings
from rigxl.schedule.line import Line
from rigxl.schedule.listing import Listing
from rigxl.schedule.map import SheetFound, Understood
from rigxl.schedule.read import tables
from rigxl.schedule.roles import is_ratings
from rigxl.units import Habits
from rigxl.workbook.contents import Book, Sheet

NEEDED = ("kind", "maker", "size")
RATING = ("rated_load", "type", "grade")


def makers_table(
    lines: list[Line], file: Book | None, habits: Habits
) -> tuple[MakersTable | None, list[str]]:
    """The makers' ratings that govern, None where there are none; a sentence on each line that rates nothing.

    Args:
        lines: The lines of tables of ratings in the workbook itself.
        file: A workbook of ratings besides.
        habits: What the criteria say a ton and a decimal mark are.

    Raises:
        InputError: The file holds no table of ratings.
    """
    entries: list[Entry] = []
    said: list[str] = []
    _enter(lines, "", entries, said)
    if file is not None:
        _enter(_read(file, habits), f" of {file.path.name}", entries, said)
    return MakersTable(entries) if entries else None, said


def _read(book: Book, habits: Habits) -> list[Line]:
    """The lines of makers' tables in a file that holds nothing else."""
    found = []
    for sheet in book.sheets:
        listings = find_listings(sheet, hear, _decide)
        found.append(_found(sheet, [listing for listing in listings if listing.role]))
    lines = tables(book, Understood(found), habits).ratings
    if not lines:
        raise InputError(
            f"{book.path.name} holds no table of ratings: a row of headings must name the kind, the maker, "
            "the size and the rated load"
        )
    return lines


def _decide(listing: Listing) -> None:
    targets = frozenset(FIELD[name].target for name in listing.fields)
    listing.role = "ratings" if is_ratings(targets) else ""


def _found(sheet: Sheet, listings: list[Listing]) -> SheetFound:
    return SheetFound(sheet.name, "ratings" if listings else "other", "", listings)


def _enter(lines: list[Line], of_file: str, entries: list[Entry], said: list[str]) -> None:
    """Each line as an entry, or a sentence on why it cannot be one."""
    for line in lines:
        where = f"row {line.row} of sheet '{line.sheet}'{of_file}"
        item = line.item
        if item.kind is None or item.maker is None or item.size is None:
            missing = next(name for name in NEEDED if getattr(item, name) is None)
            said.append(
                f"{where} rates nothing: {item.problems.get(missing) or f'its {missing} is not given'}"
            )
            continue
        problem = next((item.problems[name] for name in RATING if name in item.problems), "")
        if item.rated_load is None and not problem:
            problem = f"{where} gives no rated load"
        entries.append(
            Entry(
                where, item.kind, item.maker, item.size.name, item.type, item.grade,
                item.rated_load, item.units.get("rated_load", "kN"), problem,
            )
        )  # fmt: skip
