"""The summary sheet of a marked workbook: counts, what fails or is held, lifts, criteria, cautions."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

import rigxl
from rigxl.formulas.told import headline
from rigxl.items import FAIL, HOLD, WAIVED, WORST_FIRST
from rigxl.schedule import look
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.report import CAUTIONS, covered, left_out, remedies, told, weakest
from rigxl.workbook.heights import height
from rigxl.workbook.marks import Content, Link, Look, NewCell, NewSheet
from rigxl.workbook.values import cell_name

SUMMARY = "rigxl summary"
WIDTHS = (27.0, 20.0, 24.0, 10.0, 70.0, 45.0)
MOST_LISTED = 1000

Row = tuple[NewCell, ...]


def summary(checked: Checked) -> NewSheet:
    """The summary sheet, as plain cells."""
    rows: list[Row] = []
    wide: set[int] = set()
    for row, is_wide in _rows(checked):
        rows.append(row)
        if is_wide:
            wide.add(len(rows))
    heights = tuple(_height(row, number in wide) for number, row in enumerate(rows, start=1))
    return NewSheet(SUMMARY, WIDTHS, tuple(rows), wide_rows=frozenset(wide), heights=heights)


def _height(row: Row, is_wide: bool) -> float:
    if row and row[0].look == look.TITLE:
        return 26.0
    widths = (sum(WIDTHS),) if is_wide else WIDTHS
    wrapped = ((cell, width) for cell, width in zip(row, widths, strict=False) if cell.look.wrap)
    return height((cell.content if isinstance(cell.content, str) else None, width) for cell, width in wrapped)


def _rows(checked: Checked) -> Iterator[tuple[Row, bool]]:
    yield _wide("Rigging schedule check", look.TITLE)
    yield from _about(checked)
    yield _wide("Cautions", look.SECTION)
    for caution in CAUTIONS:
        yield _wide(caution, look.PLAIN)
    yield from _listed(checked)
    yield from _waivers(checked)
    yield from _formulas(checked)
    yield from _lifts(checked)
    yield from _opinion(checked)
    yield from _sheets(checked)
    yield from _criteria(checked)


def _wide(text: str, style: Look) -> tuple[Row, bool]:
    return (NewCell(text, style),), True


def _line(*contents: Content, style: Look = look.TEXT) -> tuple[Row, bool]:
    return tuple(NewCell(content, look.LOOSE if content is None else style) for content in contents), False


def _fact(name: str, value: Content) -> tuple[Row, bool]:
    """A name and its value, which may run on over the empty cells beside it."""
    return (NewCell(name, look.TEXT), NewCell(value, look.LOOSE)), False


def _about(checked: Checked) -> Iterator[tuple[Row, bool]]:
    book = checked.book
    yield _fact("File", book.path.name)
    yield _fact("SHA-256 of the original", book.sha256)
    yield _fact("Judged by", checked.criteria.title)
    yield _fact("Judged on", checked.criteria.judged_on.isoformat())
    yield _fact("Checked by", f"rigxl {rigxl.__version__}")
    counts = checked.counts
    yield _fact("Rows", ", ".join(f"{count} {word}" for word, count in counts.items()))
    for said in checked.said:
        yield _wide(said, look.PLAIN)


def _listed(checked: Checked) -> Iterator[tuple[Row, bool]]:
    verdicts = [(row.verdict, row) for row in checked.rows]
    listed = [row for wanted in (FAIL, HOLD, WAIVED) for verdict, row in verdicts if verdict == wanted]
    yield _wide("Rows that fail, are held or are waived", look.SECTION)
    if not listed:
        yield _wide("None: every row that was found passes.", look.PLAIN)
        return
    yield _line("Row", "Lift", "Item", "Verdict", "Reasons", "What would pass", style=look.HEADING)
    for row in listed[:MOST_LISTED]:
        yield _listed_row(row)
    if len(listed) > MOST_LISTED:
        yield _wide(
            f"and {len(listed) - MOST_LISTED} more: filter the verdict column of the sheets for them",
            look.PLAIN,
        )


def _listed_row(row: CheckedRow) -> tuple[Row, bool]:
    return (
        NewCell(Link(f"{row.sheet}, row {row.row}", row.sheet, f"A{row.row}"), look.TEXT),
        NewCell(row.judged.item.lift, look.TEXT),
        NewCell(row.name, look.TEXT),
        NewCell(row.verdict, look.WORDS[row.verdict]),
        NewCell(told(row.judged), look.TEXT),
        NewCell(remedies(row.judged), look.TEXT),
    ), False


def _waivers(checked: Checked) -> Iterator[tuple[Row, bool]]:
    if not checked.waivers:
        return
    yield _wide("Waivers", look.SECTION)
    headings = "Waiver", "Rule", "Item or lift", "State", "Reason, who and until when", "Covers, or why not"
    yield _line(*headings, style=look.HEADING)
    for one in checked.waivers[:MOST_LISTED]:
        said = one.waiver
        yield (
            (
                NewCell(Link(f"{said.sheet}, row {said.row}", said.sheet, f"A{said.row}"), look.TEXT),
                NewCell(said.rule, look.TEXT),
                NewCell(", ".join(filter(None, (said.item, said.lift))), look.TEXT),
                NewCell(one.state, look.TEXT),
                NewCell(
                    f"{said.reason or 'no reason'}; {said.who or 'nobody'}; until {said.until or 'no day'}",
                    look.TEXT,
                ),
                NewCell(covered(one), look.TEXT),
            ),
            False,
        )


def _formulas(checked: Checked) -> Iterator[tuple[Row, bool]]:
    """The cells that call our functions and do not store what they should."""
    compared = checked.formulas
    if not compared.looked_at:
        return
    yield _wide("Cells with rigxl's functions", look.SECTION)
    yield _wide(f"{headline(compared)}.", look.PLAIN)
    if compared.doubtful:
        yield _line("Cell", "Finding", "Stored", "Works out to", "What is amiss", style=look.HEADING)
    for one in compared.doubtful[:MOST_LISTED]:
        cell = cell_name(one.where.row, one.where.column)
        yield (
            (
                NewCell(Link(one.where.address, one.where.sheet, cell), look.TEXT),
                NewCell(one.kind, look.TEXT),
                NewCell(one.stored_text, look.TEXT),
                NewCell(one.worked_text, look.TEXT),
                NewCell(one.sentence, look.TEXT),
            ),
            False,
        )
    if len(compared.doubtful) > MOST_LISTED:
        yield _wide(
            f"and {len(compared.doubtful) - MOST_LISTED} more: rigxl check --json has all", look.PLAIN
        )


def _lifts(checked: Checked) -> Iterator[tuple[Row, bool]]:
    if not checked.lifts:
        return
    yield _wide("Lifts and their weakest items", look.SECTION)
    yield _line(
        "Lift", "Rows", "Weakest item", "Verdict", "Utilisation of the weakest item", style=look.HEADING
    )
    for lift, members in islice(checked.lifts.items(), MOST_LISTED):
        worst = weakest(members)
        verdicts = {row.verdict for row in members}
        word = next(one for one in WORST_FIRST if one in verdicts)
        spent = worst.judged.utilisation if worst else None
        yield (
            (
                NewCell(lift, look.TEXT),
                NewCell(float(len(members)), look.TEXT),
                NewCell(Link(worst.name, worst.sheet, f"A{worst.row}") if worst else "not known", look.TEXT),
                NewCell(word, look.WORDS.get(word, look.VERDICT)),
                NewCell("not known" if spent is None else f"{spent:.0%}", look.TEXT),
            ),
            False,
        )


def _opinion(checked: Checked) -> Iterator[tuple[Row, bool]]:
    """The figures that the sheets work out themselves, where they do not agree with ours."""
    remarks = checked.opinion.remarks
    if not remarks:
        return
    yield _wide("The sheet's own figures, worked out again", look.SECTION)
    yield _line("Cell", "Heading", "The sheet says", "Works out at", "Likely why", style=look.HEADING)
    for one in remarks[:MOST_LISTED]:
        sheet, _, cell = one.cell.rpartition("!")
        yield (
            (
                NewCell(Link(one.cell, sheet, cell), look.TEXT),
                NewCell(one.heading, look.TEXT),
                NewCell(one.says, look.TEXT),
                NewCell(one.ours, look.TEXT),
                NewCell(one.cause, look.TEXT),
            ),
            False,
        )
    if len(remarks) > MOST_LISTED:
        yield _wide(f"and {len(remarks) - MOST_LISTED} more: 'rigxl opinion' has them all", look.PLAIN)


def _sheets(checked: Checked) -> Iterator[tuple[Row, bool]]:
    yield _wide("What was understood of each sheet", look.SECTION)
    for sheet in checked.understood.sheets:
        unmapped = [
            f"'{column.heading}'" for listing in sheet.tables for column in listing.columns if column.is_open
        ]
        unused = f"; columns not used: {', '.join(unmapped)}" if unmapped else ""
        yield _wide(f"{sheet.name}: {sheet.role}{', ' + sheet.why if sheet.why else ''}{unused}", look.PLAIN)
    for said in left_out(checked):
        yield _wide(said, look.PLAIN)


def _criteria(checked: Checked) -> Iterator[tuple[Row, bool]]:
    yield _wide("Criteria", look.SECTION)
    yield _line("Setting", "Value", None, None, "Source", "Chosen by", style=look.HEADING)
    for one in checked.criteria:
        value = ", ".join(one.value) or "none" if isinstance(one.value, tuple) else str(one.value)
        yield _line(one.name, value, None, None, one.source.cited, one.chosen_by)
