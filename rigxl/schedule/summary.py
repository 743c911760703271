"""The summary sheet of a marked workbook: counts, what fails or is held, lifts, criteria, cautions."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

import rigxl
from rigxl.items import FAIL, HOLD
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.report import CAUTIONS, remedies, told, weakest
from rigxl.workbook.marks import Content, Link, Look, NewCell, NewSheet

SUMMARY = "rigxl summary"
WIDTHS = (26.0, 16.0, 20.0, 10.0, 70.0, 45.0)
MOST_LISTED = 1000

TITLE = Look(bold=True, size=16)
SECTION = Look(bold=True, size=12, fill="D9DEE4")
HEADING = Look(bold=True, border=True, fill="EDEFF2", wrap=True)
TEXT = Look(border=True, wrap=True)
PLAIN = Look(wrap=True)
WORD = {
    FAIL: Look(border=True, bold=True, fill="F4B69C", centred=True),
    HOLD: Look(border=True, italic=True, fill="FFF3C4", centred=True),
}

Row = tuple[NewCell, ...]


def summary(checked: Checked) -> NewSheet:
    """The summary sheet, as plain cells."""
    rows: list[Row] = []
    wide: set[int] = set()
    for row, is_wide in _rows(checked):
        rows.append(row)
        if is_wide:
            wide.add(len(rows))
    return NewSheet(SUMMARY, WIDTHS, tuple(rows), wide_rows=frozenset(wide))


def _rows(checked: Checked) -> Iterator[tuple[Row, bool]]:
    yield _wide("Rigging schedule check", TITLE)
    yield from _about(checked)
    yield _wide("Cautions", SECTION)
    for caution in CAUTIONS:
        yield _wide(caution, PLAIN)
    yield from _listed(checked)
    yield from _lifts(checked)
    yield from _sheets(checked)
    yield from _criteria(checked)


def _wide(text: str, look: Look) -> tuple[Row, bool]:
    return (NewCell(text, look),), True


def _line(*contents: Content, look: Look = TEXT) -> tuple[Row, bool]:
    return tuple(NewCell(content, look) for content in contents), False


def _about(checked: Checked) -> Iterator[tuple[Row, bool]]:
    book = checked.book
    yield _line("File", book.path.name)
    yield _line("SHA-256 of the original", book.sha256)
    yield _line("Judged by", checked.criteria.title)
    yield _line("Judged on", checked.criteria.judged_on.isoformat())
    yield _line("Checked by", f"rigxl {rigxl.__version__}")
    for word, count in checked.counts.items():
        yield _line(word, float(count))
    for said in checked.said:
        yield _wide(said, PLAIN)


def _listed(checked: Checked) -> Iterator[tuple[Row, bool]]:
    listed = [row for verdict in (FAIL, HOLD) for row in checked.rows if row.verdict == verdict]
    yield _wide("Rows that fail or are held", SECTION)
    if not listed:
        yield _wide("None: every row that was found passes.", PLAIN)
        return
    yield _line("Row", "Lift", "Item", "Verdict", "Reasons", "What would pass", look=HEADING)
    for row in listed[:MOST_LISTED]:
        yield _listed_row(row)
    if len(listed) > MOST_LISTED:
        yield _wide(
            f"and {len(listed) - MOST_LISTED} more: filter the verdict column of the sheets for them", PLAIN
        )


def _listed_row(row: CheckedRow) -> tuple[Row, bool]:
    return (
        NewCell(Link(f"{row.sheet}, row {row.row}", row.sheet, f"A{row.row}"), TEXT),
        NewCell(row.judged.item.lift, TEXT),
        NewCell(row.name, TEXT),
        NewCell(row.verdict, WORD[row.verdict]),
        NewCell(told(row.judged), TEXT),
        NewCell(remedies(row.judged), TEXT),
    ), False


def _lifts(checked: Checked) -> Iterator[tuple[Row, bool]]:
    if not checked.lifts:
        return
    yield _wide("Lifts and their weakest items", SECTION)
    yield _line("Lift", "Rows", "Weakest item", "Verdict", "Utilisation of the weakest item", look=HEADING)
    for lift, members in islice(checked.lifts.items(), MOST_LISTED):
        worst = weakest(members)
        verdicts = {row.verdict for row in members}
        word = next((one for one in (FAIL, HOLD) if one in verdicts), "PASS")
        spent = worst.judged.utilisation if worst else None
        yield (
            (
                NewCell(lift, TEXT),
                NewCell(float(len(members)), TEXT),
                NewCell(Link(worst.name, worst.sheet, f"A{worst.row}") if worst else "not known", TEXT),
                NewCell(word, WORD.get(word, Look(border=True, centred=True))),
                NewCell("not known" if spent is None else f"{spent:.0%}", TEXT),
            ),
            False,
        )


def _sheets(checked: Checked) -> Iterator[tuple[Row, bool]]:
    yield _wide("What was understood of each sheet", SECTION)
    for sheet in checked.understood.sheets:
        unmapped = [
            f"'{column.heading}'"
            for listing in sheet.tables
            for column in listing.columns
            if column.is_open
        ]
        left = f"; columns not used: {', '.join(unmapped)}" if unmapped else ""
        yield _wide(f"{sheet.name}: {sheet.role}{', ' + sheet.why if sheet.why else ''}{left}", PLAIN)


def _criteria(checked: Checked) -> Iterator[tuple[Row, bool]]:
    yield _wide("Criteria", SECTION)
    yield _line("Setting", "Value", "Chosen by", "", "Source", look=HEADING)
    for one in checked.criteria:
        value = ", ".join(one.value) or "none" if isinstance(one.value, tuple) else str(one.value)
        yield _line(one.name, value, one.chosen_by, "", one.source.cited)
