"""Which rows under a table's headings are items, and why the others are not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from rigxl.schedule.fields import FIELD, JOINED
from rigxl.schedule.listing import Listing, text_of
from rigxl.schedule.words import is_note, is_total, kinds_in
from rigxl.workbook.contents import Sheet
from rigxl.workbook.values import Formula, Row, Value, column_letters

TELLING = ("rated_load", "size", "rope_diameter", "load")
"""Fields that only an item has: a row with one of them is never left out."""

TOTALS = "it is a row of totals"
_SUM = re.compile(r"=\s*(?:SUM|SUBTOTAL|AGGREGATE)\(", re.IGNORECASE)


class Sorter:
    """Sorts the rows under one table's headings into items and what is left out.

    Args:
        sheet: The sheet the table stands on.
        listing: The table; its rows and what is left out are filled in here.
        headed: Every column under a heading, of this table and of those beside it.
    """

    def __init__(self, sheet: Sheet, listing: Listing, headed: frozenset[int]) -> None:
        self.listing = listing
        self.headed = headed
        self.hidden = sheet.hidden_columns
        self.used: set[int] = set()
        self.fields = {one.number: one.field for one in listing.columns if not one.ours}
        self.kind = listing.column_of("kind") or 0
        self.enough = max(3, len(listing.fields) // 2)
        self.totals = [
            (table.area.last_row - table.totals_rows + 1, table.area.last_row)
            for table in sheet.tables
            if table.totals_rows
        ]

    def claims(self, row: Row) -> bool:
        """Take a row that is an item at first sight: of a known kind, and with a number, unlike headings."""
        value = row.cells.get(self.kind)
        if self.totals or type(value) is not str or not _names_item(value):
            return False
        if float not in map(type, row.cells.values()):
            return False
        self.used.update(row.cells)
        self.listing.rows.append(row)
        return True

    def sort(self, row: Row) -> None:
        """Take a row as an item, or leave it out and say why; a blank row is neither."""
        cells = list(self._filled(row))
        self.used.update(row.cells)
        if not any(name for name, _ in cells) and all(isinstance(value, Formula) for _, value in cells):
            return  # blank but for what the sheet would work out
        why = self._why_not(row, cells)
        if why:
            self.listing.left_out[row.number] = why
        else:
            self.listing.rows.append(row)

    def give_up_title(self, last: int) -> None:
        """Let go of a row that is the title of the next table: the last before the headings of that one.

        It is one text in one cell, and stands apart from the rows above or ends what it says with a colon.
        """
        rows = self.listing.rows
        if not rows or rows[-1].number != last:
            return
        said = [value for value in rows[-1].cells.values() if not _is_blank(value)]
        before = rows[-2].number if len(rows) > 1 else self.listing.header_rows[-1]
        if len(said) == 1 and (text := text_of(said[0])) and (before < last - 1 or ":" in text):
            self.listing.left_out[rows.pop().number] = f"it is the title of the table below: '{_short(text)}'"

    def close(self) -> None:
        """Say what a person should know of the table as a whole."""
        listing = self.listing
        if not listing.rows:
            listing.says.append(f"{_place(listing)} has headings and no rows of items")
        for column in listing.columns:
            if column.field and column.number in self.hidden:
                listing.says.append(
                    f"{_place(listing)}: column {column.letters}, '{column.heading}', is hidden"
                )
        for name in sorted(listing.fields - JOINED):
            giving = [column.letters for column in listing.columns if column.field == name]
            if len(giving) > 1:
                listing.says.append(
                    f"{_place(listing)}: columns {' and '.join(giving)} both give the {FIELD[name].plain}, "
                    "so its rows are held: keep one, or say in a mapping which counts"
                )
        if stray := sorted(self.used - self.headed):
            letters = ", ".join(map(column_letters, stray))
            listing.says.append(
                f"{_place(listing)}: what stands in column {letters} has no heading and was left alone"
            )

    def _filled(self, row: Row) -> Iterator[tuple[str | None, Value]]:
        for number, name in self.fields.items():
            value = row.cells.get(number)
            if value is not None and not _is_blank(value):
                yield name, value

    def _why_not(self, row: Row, cells: list[tuple[str | None, Value]]) -> str:
        """Why a row is no item; empty when it is one."""
        if any(first <= row.number <= last for first, last in self.totals):
            return TOTALS
        texts = [text for _, value in cells if (text := text_of(value))]
        given = {name for name, _ in cells if name}
        if _names_item(text_of(row.cells.get(self.kind))) and len(cells) > 1:
            return ""
        if all(_is_sum(value) for _, value in cells) or (texts and is_total(texts[0])):
            return TOTALS
        if not given & {"kind", "size"} and any(map(is_total, texts)):
            return TOTALS
        if texts and is_note(texts[0]) and len(cells) <= 2 and not given.intersection(TELLING):
            return f"it is a note: '{_short(texts[0])}'"
        if self.listing.role == "lifts":
            item = "lift" in given and len(given) > 1
        elif self.listing.role in ("inspections", "ratings"):
            item = len(given) > 1
        else:
            item = self._is_item(cells, given)
        said = " and ".join(f"'{_short(text)}'" for text in texts[:2]) or "a number"
        return "" if item else f"it holds only {said}, which is no item"

    def _is_item(self, cells: list[tuple[str | None, Value]], given: set[str]) -> bool:
        if len(cells) > 1 and (given.intersection(TELLING) or "kind" in given or len(given) >= self.enough):
            return True
        return any(
            name in ("kind", "description", "type") and kinds_in(text_of(value))
            for name, value in cells
            if name
        )


@lru_cache(maxsize=4096)
def _names_item(text: str) -> bool:
    return not is_note(text) and not is_total(text) and bool(kinds_in(text))


def _is_blank(value: Value) -> bool:
    if isinstance(value, Formula):
        return value.calculated and (value.result is None or value.result == "")
    return isinstance(value, str) and not value.strip()


def _is_sum(value: Value) -> bool:
    return isinstance(value, Formula) and _SUM.match(value.text) is not None


def _place(listing: Listing) -> str:
    return f"the table under row {listing.header_rows[-1]} of sheet '{listing.sheet}'"


def _short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:37]}..."
