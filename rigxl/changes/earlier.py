"""What an earlier run of rigxl left in a workbook: the verdict of each row, the day and the version."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field

from rigxl.changes.rows import Place
from rigxl.items import FAIL, HOLD, PASS
from rigxl.schedule.listing import Listing, text_of
from rigxl.schedule.map import Understood
from rigxl.schedule.summary import SUMMARY
from rigxl.workbook.contents import Book, Sheet

VERDICT_HEADING = "rigxl verdict"


@dataclass(frozen=True)
class Earlier:
    """The marks of an earlier run: the day it judged on, the version that made them, the verdicts."""

    day: dt.date | None = None
    by: str = ""
    verdicts: dict[Place, str] = field(default_factory=dict)


def day_of(book: Book) -> dt.date | None:
    """The day a marked workbook was judged on, by its summary; None where it has none."""
    try:
        return dt.date.fromisoformat(_facts(book).get("Judged on", ""))
    except ValueError:
        return None


def earlier(book: Book, understood: Understood) -> Earlier:
    """What the marks in a workbook say."""
    found: dict[Place, str] = {}
    shared = _shared(understood)
    for listing in understood.tables:
        column = next((one.number for one in listing.columns if one.heading == VERDICT_HEADING), None)
        if column is None:
            continue
        for row in listing.rows:
            said = text_of(row.cells.get(column))
            if said in (PASS, FAIL, HOLD) and (listing.sheet, row.number) not in shared:
                found[listing.sheet, row.number, listing.first_column] = said
    return Earlier(day_of(book), _facts(book).get("Checked by", ""), found)


def _facts(book: Book) -> dict[str, str]:
    """The names and values at the top of our summary."""
    summary: Sheet | None = next((sheet for sheet in book.sheets if sheet.name == SUMMARY), None)
    if summary is None:
        return {}
    return {text_of(row.cells.get(1)): text_of(row.cells.get(2)) for row in reversed(summary.rows)}


def _shared(understood: Understood) -> set[tuple[str, int]]:
    """Rows that run through two tables side by side: their mark is the worse of two."""
    seen: set[tuple[str, int]] = set()
    twice: set[tuple[str, int]] = set()
    for listing in understood.tables:
        rows = _rows(listing)
        twice |= seen & rows
        seen |= rows
    return twice


def _rows(listing: Listing) -> set[tuple[str, int]]:
    return {(listing.sheet, row.number) for row in listing.rows}
