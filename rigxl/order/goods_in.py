"""The goods-in list of an order: for each piece the boxes to tick when it arrives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigxl.hardware.bought import CERTIFICATE, MAKER, PROVED, RATED_LOAD, SIZE, Look, looks
from rigxl.hardware.proof_loads import RuleName
from rigxl.order import demands
from rigxl.order.lines import Order, OrderLine, own
from rigxl.order.page import BAND, BOX, CENTRED, SHUT, Column, Page
from rigxl.schedule.goods_in import CHECK, NO_TAG, READ, RIGHT, SPARE, TAG

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

COLUMNS = (
    Column(TAG, 13),
    Column("Line", 6, CENTRED),
    Column("What", 20),
    Column("Pieces", 8, CENTRED),
    Column(CHECK, 15),
    Column("What must be so, of every piece", 40),
    Column("As ordered", 20),
    Column(READ, 18),
    Column(RIGHT, 9, BOX),
    Column("By, and when", 13),
    Column("Remarks", 15),
)
HOW = (
    "Look at every piece before it goes into the store: counterfeits are common. Answer each box yes or no; "
    "yes only if it is so of every piece of the row. What nobody has looked at stays empty.",
    "Give the list back to whoever keeps the schedule, to be joined to it by tag: as a sheet of the "
    "schedule's own workbook, or with 'rigxl check SCHEDULE --goods-in THIS FILE'. A no fails its row, an "
    "empty box holds it.",
    "A no to a mark, a maker or a certificate is taken for a counterfeit: set the pieces aside and use none.",
)


def write_goods_in(sheet: Worksheet, order: Order, rule: RuleName, paper: int) -> None:
    """Write the goods-in list of the lines that may be ordered."""
    page = Page(sheet, "goods in", COLUMNS, paper)
    for said in HOW:
        page.note(said)
    first = page.headings() + 1
    for line in order.lines:
        if line.to_order is None:
            continue
        for tag, pieces in _pieces(line):
            for number, look in enumerate(looks(line.kind.BOUGHT, line.item)):
                page.line(
                    (
                        tag, line.number, _what(line) if number == 0 else "", pieces, look.name,
                        _asked(look, line), _wanted(look, line, order, rule), None, None,
                        "", "",
                    ),
                    {**({0: BAND} if number == 0 else {}), **({} if look.reads else {7: SHUT})},
                )  # fmt: skip
    if page.row > first:
        _choices(sheet, first, page.row - 1)
    else:
        page.note("Nothing may be ordered yet: every line is blocked.")


def _pieces(line: OrderLine) -> Iterator[tuple[str, int]]:
    """The tag and the pieces of each entry: every row of the schedule once, then the spares."""
    for row, pieces in line.pieces:
        yield (
            row.judged.item.tag or row.judged.item.serial or f"{NO_TAG} ({row.sheet}, row {row.row})",
            pieces,
        )
    if line.spares:
        yield f"{SPARE} of line {line.number}", line.spares


def _what(line: OrderLine) -> str:
    size = f", {line.wanted.size}" if line.wanted.size else ""
    return f"{line.what}{size}"


def _asked(look: Look, line: OrderLine) -> str:
    measured = line.kind.BOUGHT.measured
    return f"{look.ask} Measure {measured}." if look is SIZE and measured else look.ask


def _wanted(look: Look, line: OrderLine, order: Order, rule: RuleName) -> str:
    """What was ordered, for the box it matters to."""
    if look is RATED_LOAD:
        return line.rated
    if look is MAKER:
        return demands.makers(line, order)
    if look is SIZE:
        return line.wanted.size or ""
    if look is PROVED:
        return demands.proof(line, rule)
    if look is CERTIFICATE:
        return "its own number or batch"
    return "\n".join(own(line.item)) if look.compared else ""


def _choices(sheet: Worksheet, first: int, last: int) -> None:
    """Yes and no to choose from, and nothing else."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    rule = DataValidation(type="list", formula1='"yes,no"', allow_blank=True)
    rule.showErrorMessage = True
    rule.errorTitle, rule.error = "Yes or no", "Answer yes or no; leave it empty until it was looked at."
    letter = get_column_letter([column.heading for column in COLUMNS].index(RIGHT) + 1)
    rule.add(f"{letter}{first}:{letter}{last}")
    sheet.add_data_validation(rule)
