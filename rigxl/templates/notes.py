"""The sheets of the blank schedule that say how to fill it in, and the lists behind its drop-downs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

from rigxl.hardware import kinds, shackle, sling_tables
from rigxl.tables import Table
from rigxl.templates.columns import NOT_KNOWN, SHACKLE_TYPES, SIZES, SLING_TYPES, TYPES
from rigxl.templates.style import (
    AMBER,
    GREEN,
    GROUP,
    HEAD,
    INPUT,
    RED,
    WORKED,
    define,
    lock,
    look,
    print_set_up,
    widths,
)
from rigxl.templates.waivers import waivable
from rigxl.workbook.values import column_letters

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

HOW = (
    "One row of the sheet Lifts for each lift: its load, the rigging under it, its legs and their angle.",
    "One row of the sheet Hardware for each item, or for several alike. Its lift is chosen by name.",
    "The unit of a column stands in its heading. Choose another there; the numbers below are not converted.",
    "Numbers stand alone: no unit and no word in the cell. What is not known stays empty; it is not 0.",
    "Angles of slings are from the horizontal. A loading angle is between the load and the item's own axis.",
    "Criteria such as the design margin stand on the sheet Criteria, and every verdict is judged by them.",
)
WORDS = (
    ("PASS", GREEN, "Strength, marks and inspection are known, and good enough by the criteria."),
    ("FAIL", RED, "Known, and not good enough."),
    ("CHECK", AMBER, "Not judged here: something is missing, or it needs the full check (rigxl check)."),
)
COVERED = (
    "The formulas judge shackles, hooks, links and vertical slings, at the top, in a leg or at a pick point.",
    "Eye bolts, devices, chokers, baskets and the rest say CHECK here: run the full check for them.",
    "The full check reads the same cells, works every number again and gives each reason with its source.",
    "What the sheet Waivers waives, the full check shows as WAIVED; the formulas go on saying FAIL.",
    "It also reads columns added at the right, such as temperature or ends; the formulas do not.",
)
CAUTIONS = (
    "Nothing here replaces the maker's instructions, the local code or a licensed engineer. They come first.",
    "A maker's own table governs over any general figure. Ratings hold for gear in good order.",
    "A below-the-hook device must be engineered, marked with rated load and own weight, and proof tested.",
    "Whoever signs the lift plan answers for it: a PASS is a calculation, not a permission to lift.",
)
REVISION = ("Revision", "Issued on", "Prepared by", "Reviewed by", "What changed")


def write_notes(sheet: Worksheet) -> None:
    """How to fill in the schedule, what its words mean, the cautions, and the revisions."""
    sheet["A1"] = "Notes: how to use this schedule"
    look(sheet["A1"], size=16, bold=True, edge=False)
    row = _paragraphs(sheet, 3, "Filling it in", HOW)
    row += 1
    for fill, text in ((INPUT, "a cell to fill in"), (WORKED, "a cell worked by a formula, locked")):
        look(sheet.cell(row, 1), fill=fill)
        look(sheet.cell(row, 2, text), across="left", edge=False)
        row += 1
    row = _heading(sheet, row + 1, "What the verdicts say")
    for word, fill, text in WORDS:
        look(sheet.cell(row, 1, word), fill=fill, bold=True, across="center")
        look(sheet.cell(row, 2, text), across="left", edge=False)
        row += 1
    row = _paragraphs(sheet, row + 1, "What the formulas cover", COVERED)
    row = _paragraphs(sheet, row + 1, "Cautions", CAUTIONS)
    row = _heading(sheet, row + 1, "Revisions of this schedule")
    for column, name in enumerate(REVISION, 1):
        look(sheet.cell(row, column, name), fill=HEAD, bold=True, colour="FFFFFF", across="center")
    for number in range(row + 1, row + 7):
        for column in range(1, len(REVISION) + 1):
            look(
                sheet.cell(number, column),
                fill=INPUT,
                across="left",
                number="yyyy-mm-dd" if column == 2 else "@",
                locked=False,
            )
    widths(sheet, {"A": 14, "B": 16, "C": 22, "D": 22, "E": 56})
    print_set_up(sheet, paper=9)
    lock(sheet)


def _heading(sheet: Worksheet, row: int, text: str) -> int:
    look(sheet.cell(row, 1, text), size=12, bold=True, edge=False)
    return row + 1


def _paragraphs(sheet: Worksheet, row: int, heading: str, lines: Sequence[str]) -> int:
    row = _heading(sheet, row, heading)
    for number, line in enumerate(lines, row):
        look(sheet.cell(number, 1, line), edge=False)
    return row + len(lines)


def write_lists(book: Workbook, sheet: Worksheet) -> None:
    """The lists behind the drop-downs, and the published ratings that shackles are held against."""
    sheet["A1"] = "Lists behind the drop-downs"
    look(sheet["A1"], size=16, bold=True, edge=False)
    published = published_ratings()
    columns: tuple[tuple[str, str, tuple[Any, ...]], ...] = (
        ("kind_list", "Kinds", tuple(kinds())),
        ("type_list", "Types", TYPES),
        ("shackle_types", "Types of shackle", SHACKLE_TYPES),
        ("size_list", "Sizes", SIZES),
        ("not_known_words", "Not known", NOT_KNOWN),
        ("sling_types", "Types of sling", SLING_TYPES),
        ("published_for", "Published for", tuple(published)),
        ("published_n", "Published rating, N", tuple(published.values())),
        ("waivable_rules", "Rules that may be waived", waivable()),
    )
    for column, (name, title, values) in enumerate(columns, 1):
        look(sheet.cell(3, column, title), fill=HEAD, bold=True, colour="FFFFFF", across="center", wrap=True)
        for row, value in enumerate(values, 4):
            look(
                sheet.cell(row, column, value),
                fill=GROUP,
                across="left",
                number="@" if isinstance(value, str) else "0",
            )
        letter = column_letters(column)
        define(book, name, f"Lists!${letter}$4:${letter}${3 + len(values)}")
    sheet.row_dimensions[3].height = 32
    widths(sheet, dict.fromkeys("ABCDEFGHI", 20))
    print_set_up(sheet, paper=9)
    lock(sheet)


def published_ratings() -> dict[str, float]:
    """The rating above which a stated one is not believed, in newtons, by kind or type of sling and size.

    Of a shackle it is the greatest of its tables, of a chain the least, whatever its grade.
    """
    chains = (sling_tables.GRADE_80, sling_tables.GRADE_100, sling_tables.GRADE_8)
    inch_shackles = [table for table in shackle.TABLES if table.size_unit == "in"]
    return {
        **_ratings("shackle", inch_shackles, max),
        **_ratings("wire rope", (sling_tables.WIRE_ROPE,), min),
        **_ratings("chain", chains, min),
    }


def _ratings(
    name: str, tables: Iterable[Table[Any]], choose: Callable[[float, float], float]
) -> dict[str, float]:
    found: dict[str, float] = {}
    for table in tables:
        for row in table.rows:
            sizes = [table.size(row)]
            if table.also:
                sizes.append(f"{getattr(row, table.also[0])} {table.also[1]}")
            for size in sizes:
                key, rating = f"{name} {size}", table.rating(row)
                found[key] = choose(found.get(key, rating), rating)
    return found
