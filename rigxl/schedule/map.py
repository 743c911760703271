"""What a workbook's sheets and columns are, before a single cell is read as a value."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigxl.errors import InputError
from rigxl.schedule.fields import FIELD, JOINED
from rigxl.schedule.goods_in import is_goods_in, is_order, refuse_half_a_list
from rigxl.schedule.headings import Heard, hear, plain, propose
from rigxl.schedule.layout import find_listings
from rigxl.schedule.listing import Column, Listing
from rigxl.schedule.mapping import Choice, Mapping, is_mapping, mapping_on, read_mapping
from rigxl.schedule.roles import settle
from rigxl.schedule.waivers import headings_of, is_waivers
from rigxl.units import split_header
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.policy import is_ours
from rigxl.workbook.values import column_letters

__all__ = ["Column", "Listing", "Mapping", "SheetFound", "Understood", "read_mapping", "understand"]

CRITERIA_SHEET = "criteria"
GOODS_IN = "it is a goods-in list, joined by tag"
WAIVERS = "it says what is waived, by whom and until when"
NO_WAIVERS = "none of its rows names the rule, the item or lift, the reason, who, and until, as headings do"
ASIDE = ("lifts", "inspections", "ratings")
"""Tables that hold no items of their own, and say something of those in others."""


@dataclass(slots=True)
class SheetFound:
    """One sheet: what it is for, or in ``why`` the reason it was left alone."""

    name: str
    role: str
    why: str = ""
    tables: list[Listing] = field(default_factory=list)
    hidden: bool = False


@dataclass(slots=True)
class Understood:
    """Every sheet of a workbook, in order."""

    sheets: list[SheetFound]

    @property
    def tables(self) -> Iterator[Listing]:
        """Every table that is read, sheet by sheet."""
        return (table for sheet in self.sheets for table in sheet.tables)

    def role_of(self, name: str) -> str:
        """What a sheet is for, by its name."""
        return next(sheet.role for sheet in self.sheets if sheet.name == name)

    @property
    def says(self) -> list[str]:
        """What a person should know of the tables as a whole."""
        return [sentence for table in self.tables for sentence in table.says]


def understand(book: Book, mapping: Mapping | None = None) -> Understood:
    """What each sheet of a workbook is for, and what each of its columns gives.

    Args:
        book: The workbook.
        mapping: What a person says of its columns; a sheet named "Columns" counts where this says nothing.

    Raises:
        InputError: A mapping that names a sheet, column or heading that is not there.
    """
    choices = mapping.choices if mapping else ()
    for sheet in book.sheets:
        if is_mapping(sheet):
            choices += mapping_on(sheet).choices
    _refuse_unknown_sheets(book, choices)
    followed: set[str] = set()
    found = [
        _sheet(sheet, tuple(one for one in choices if one.concerns(sheet.name)), followed)
        for sheet in book.sheets
    ]
    _refuse_unfollowed(found, [one for one in choices if one.where not in followed])
    understood = Understood(found)
    if any(table.role == "lifts" for table in understood.tables):
        for table in understood.tables:
            if table.role == "schedule" and "lift" in table.fields:
                table.role = "hardware"
    for one in found:
        if one.tables:
            roles = [table.role for table in one.tables]
            one.role = next((role for role in roles if role not in ASIDE), roles[0])
    return understood


def _sheet(sheet: Sheet, choices: tuple[Choice, ...], followed: set[str]) -> SheetFound:
    name, hidden = plain(sheet.name), sheet.state != "visible"
    if is_ours(sheet.name):
        return SheetFound(sheet.name, "marks", "rigxl wrote it", hidden=hidden)
    if name == CRITERIA_SHEET:
        return SheetFound(sheet.name, "criteria", "it holds the criteria", hidden=hidden)
    if is_mapping(sheet):
        return SheetFound(sheet.name, "mapping", "it says which column is which", hidden=hidden)
    holds_a_list = is_goods_in(sheet)
    if holds_a_list and is_order(sheet):
        return SheetFound(sheet.name, "goods in", GOODS_IN, hidden=hidden)
    if is_order(sheet):
        return SheetFound(sheet.name, "other", "it belongs to an order, which is no schedule", hidden=hidden)
    if is_waivers(sheet) and headings_of(sheet):
        return SheetFound(sheet.name, "waivers", WAIVERS, hidden=hidden)
    if not sheet.rows:
        return SheetFound(sheet.name, "other", "it is empty", hidden=hidden)

    by_heading = {plain(one.heading): one for one in reversed(choices) if one.column is None}

    def heard(heading: str) -> Heard:
        choice = by_heading.get(plain(heading)) or by_heading.get(plain(split_header(heading)[0]))
        if choice is None:
            return hear(heading)
        unit = choice.unit or split_header(heading)[1]
        return Heard(choice.field, unit, (), f"as {choice.where} says", True, choice.worked)

    def decide(listing: Listing) -> None:
        listing.columns = tuple(_settled(listing.columns, choices, followed))
        settle(sheet, listing)

    listings = find_listings(sheet, heard if by_heading else hear, decide)
    kept = [listing for listing in listings if listing.role]
    if holds_a_list and not kept:
        return SheetFound(sheet.name, "goods in", GOODS_IN, hidden=hidden)
    if holds_a_list:
        kept[0].says.append(
            f"sheet '{sheet.name}' holds a goods-in list beside a schedule: give the list a sheet of its own"
        )
    elif not kept:
        refuse_half_a_list(sheet)
    why = "" if kept else NO_WAIVERS if is_waivers(sheet) else _why_not(listings)
    for listing in listings:
        if kept and not listing.role:
            place = f"the table under row {listing.header_row} of sheet '{sheet.name}'"
            kept[0].says.append(f"{place} was left alone: {_why_not([listing])}")
    return SheetFound(sheet.name, "schedule" if kept else "other", why, kept, hidden)


def _settled(
    columns: tuple[Column, ...], choices: tuple[Choice, ...], followed: set[str]
) -> Iterator[Column]:
    """The columns as a mapping has them, with proposals for those that nobody understood."""
    by_letter = {choice.column: choice for choice in reversed(choices) if choice.column}
    settled = []
    for column in columns:
        choice = by_letter.get(column.number)
        if choice and (not choice.heading or plain(choice.heading) == plain(column.heading)):
            unit = choice.unit or column.unit or split_header(column.heading)[1]
            column = column._replace(
                field=choice.field,
                unit=unit,
                proposals=(),
                why=f"as {choice.where} says",
                chosen=True,
                worked=choice.worked,
            )
            followed.add(choice.where)
        elif column.chosen:
            followed.update(one.where for one in choices if column.why == f"as {one.where} says")
        settled.append(column)
    given = {FIELD[one.field].target for one in settled if one.chosen and one.field} - JOINED
    for column in settled:
        if column.field and not column.chosen and FIELD[column.field].target in given:
            yield column._replace(
                field=None, why=f"the mapping takes the {FIELD[column.field].plain} from another column"
            )
        elif not (column.field or column.why or column.ours):
            unit = column.unit or split_header(column.heading)[1]
            yield column._replace(unit=unit, proposals=column.proposals or propose(column.heading))
        else:
            yield column


def _why_not(listings: list[Listing]) -> str:
    if not listings:
        return "no row of headings was found on it that names what a schedule of hardware says"
    best = max(listings, key=lambda listing: len(listing.fields))
    known = ", ".join(f"'{column.heading}'" for column in best.columns if column.field)
    return f"of its headings only {known} are known: a schedule needs a kind of item or its rated load"


def _refuse_unknown_sheets(book: Book, choices: tuple[Choice, ...]) -> None:
    for choice in choices:
        if not any(choice.concerns(sheet.name) for sheet in book.sheets):
            there = ", ".join(f"'{sheet.name}'" for sheet in book.sheets)
            raise InputError(f"{choice.where}: there is no sheet '{choice.sheet}': there is {there}")


def _refuse_unfollowed(found: list[SheetFound], left: list[Choice]) -> None:
    """A choice that met no column is a slip somebody must know of."""
    for choice in left:
        columns = [
            column
            for sheet in found
            if choice.concerns(sheet.name)
            for table in sheet.tables
            for column in table.columns
        ]
        if any(_meets(choice, column) for column in columns):
            continue  # an earlier choice decided the same column
        what = f"column {column_letters(choice.column)}" if choice.column else "column"
        headed = f" headed '{choice.heading}'" if choice.heading else ""
        where = f" on sheet '{choice.sheet}'" if choice.sheet else ""
        there = ", ".join(f"'{column.heading}'" for column in columns) or "none that are those of a schedule"
        raise InputError(
            f"{choice.where}: there is no {what}{headed} in a table{where}: the headings are {there}"
        )


def _meets(choice: Choice, column: Column) -> bool:
    named = not choice.heading or plain(choice.heading) in (
        plain(column.heading),
        plain(split_header(column.heading)[0]),
    )
    return named and choice.column in (None, column.number)
