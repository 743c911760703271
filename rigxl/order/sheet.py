"""The workbook for purchasing: what to order, its marks and papers, what is not ordered, goods in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

import rigxl
from rigxl.criteria.ready import EUROPE
from rigxl.errors import WorkbookError
from rigxl.hardware.proof_loads import PROOF_RULES, RuleName
from rigxl.order import demands
from rigxl.order.goods_in import write_goods_in
from rigxl.order.lines import BLOCKED, ORDER, SETTLE, Order, OrderLine, own
from rigxl.order.page import (
    A4,
    BAND,
    CENTRED,
    LETTER,
    MASS,
    NUMBER,
    ORDINARY,
    PLAIN,
    SLANTED,
    STRONG,
    SUM,
    Cell,
    Column,
    Page,
    define_looks,
)
from rigxl.order.substitutes import substitutes
from rigxl.schedule.report import CAUTIONS, left_out
from rigxl.workbook.save import save

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

SHEETS = ("Order", "Marks and papers", "Not ordered", "Goods in", "About")
LOOKS = {ORDER: PLAIN, SETTLE: SLANTED, BLOCKED: STRONG}
LEGEND = (
    f"{ORDER}: may be ordered as it stands, with the marks and papers of the next sheet.",
    f"{SETTLE}: strong enough, but the schedule leaves something open that the last column names.",
    f"{BLOCKED}: not to be ordered. A row of the schedule that may be the same item does not pass "
    "(sheet 'Not ordered').",
)
NOT_KNOWN = "not known"

ORDER_COLUMNS = (
    Column("Line", 6, CENTRED),
    Column("Status", 14, PLAIN),
    Column("What", 23),
    Column("Size", 10, CENTRED),
    Column("Grade", 8, CENTRED),
    Column("Rated load (WLL)", 14, CENTRED),
    Column("It must also be", 22),
    Column("Pieces that pass", 9, CENTRED),
    Column("Spares", 8, CENTRED),
    Column("To order", 10, NUMBER),
    Column("Total mass (kg)", 11, MASS),
    Column("For (tags)", 18),
    Column("Before it is ordered", 30),
)
DEMAND_COLUMNS = (
    Column("Line", 6, CENTRED),
    Column("What", 18),
    Column("To order", 10, NUMBER),
    Column("Maker", 14),
    Column("Marks to ask for", 34),
    Column("Papers to demand", 36),
    Column("Standard it is to meet", 20),
    Column("A larger size instead?", 38),
)
BLOCKED_COLUMNS = (
    Column("Row", 14),
    Column("Lift", 14),
    Column("Item", 11),
    Column("What", 19),
    Column("Size", 10, CENTRED),
    Column("Pieces", 8, CENTRED),
    Column("Verdict", 9, STRONG),
    Column("Why it is not ordered", 52),
    Column("What would do", 30),
    Column("Blocks lines", 9, CENTRED),
)
ABOUT_COLUMNS = (Column("", 26), Column("", 24), Column("", 64), Column("", 36))


def write_order(order: Order, target: Path, rule: RuleName = "us") -> None:
    """Write the workbook of an order, whole or not at all.

    Args:
        order: The order.
        target: Where it goes; a file that is there is replaced.
        rule: The rule that names proof loads.

    Raises:
        WorkbookError: It cannot be written there.
    """
    from openpyxl import Workbook, load_workbook

    book = Workbook()
    define_looks(book)
    paper = A4 if order.checked.criteria.title == EUROPE.title else LETTER
    sheets = [book.worksheets[0], *(book.create_sheet() for _ in SHEETS[1:])]
    for sheet, name in zip(sheets, SHEETS, strict=True):
        sheet.title = name
    _order(sheets[0], order, paper)
    _demands(sheets[1], order, rule, paper)
    _not_ordered(sheets[2], order, paper)
    write_goods_in(sheets[3], order, rule, paper)
    _about(sheets[4], order, rule, paper)
    book.properties.title, book.properties.creator = "Rigging hardware order", "rigxl"

    def write(file: BinaryIO) -> None:
        book.save(file)

    def prove(written: Path) -> None:
        with written.open("rb") as file:
            found: Workbook = load_workbook(file, read_only=True)
            names = tuple(found.sheetnames)
            found.close()
        if names != SHEETS:
            raise WorkbookError("cannot-save", f"{target} was not written as it should be")

    save(target, write, prove)


def _order(sheet: Worksheet, order: Order, paper: int) -> None:
    page = Page(sheet, "what to order", ORDER_COLUMNS, paper)
    checked = order.checked
    page.note(
        f"From {checked.book.path.name}, judged on {checked.criteria.judged_on.isoformat()} by "
        f"{checked.criteria.title}. Spares: {float(order.spares * 100):g} % of each line, rounded up."
    )
    for said in (*LEGEND, *CAUTIONS):
        page.note(said)
    page.headings()
    for line in order.lines:
        page.line(_order_cells(line), {1: LOOKS[line.status], **({9: STRONG} if line.blockers else {})})
    page.line(_totals(order), {**dict.fromkeys(range(len(ORDER_COLUMNS)), SUM), 2: BAND})


def _order_cells(line: OrderLine) -> tuple[Cell, ...]:
    to_order, each = line.to_order, demands.mass_kg(line)
    mass: Cell = NOT_KNOWN if each is None or to_order is None else each * to_order
    return (
        line.number, line.status, line.what, line.wanted.size or "not stated", line.item.grade or "–",
        line.rated.replace(" = ", "\n= "), "\n".join(own(line.item)) or "–", line.quantity, line.spares,
        BLOCKED if to_order is None else to_order, mass, _tags(line), "\n".join(_before(line)) or "–",
    )  # fmt: skip


def _before(line: OrderLine) -> Iterator[str]:
    """What is in the way of a line: rows that block it by name, and what is to be settled."""
    for row in line.blockers:
        yield f"{row.name} ({row.sheet}!{row.row}) is {row.verdict}: may be the same item"
    for question in line.questions:
        yield f"settle: {question}"


def _tags(line: OrderLine) -> str:
    return ", ".join(
        f"{row.name}{f' × {pieces}' if pieces > 1 else ''}{' (hidden row)' if row.line.hidden else ''}"
        for row, pieces in line.pieces
    )


def _totals(order: Order) -> tuple[Cell, ...]:
    free = [line for line in order.lines if line.to_order is not None]
    masses = [each * (line.to_order or 0) for line in free if (each := demands.mass_kg(line)) is not None]
    mass = (
        f"{sum(masses):,.1f} of {len(masses)} of {len(free)} lines; the rest {NOT_KNOWN}"
        if masses
        else NOT_KNOWN
    )
    if masses and len(masses) == len(free):
        mass = f"{sum(masses):,.1f}"
    pieces = sum(line.quantity for line in order.lines)
    cells: list[Cell] = [""] * len(ORDER_COLUMNS)
    cells[2], cells[7] = "All lines; to order, those not blocked", pieces
    cells[8] = sum(line.spares for line in free)
    cells[9], cells[10] = sum(line.to_order or 0 for line in free), mass
    return tuple(cells)


def _demands(sheet: Worksheet, order: Order, rule: RuleName, paper: int) -> None:
    page = Page(sheet, "marks and papers", DEMAND_COLUMNS, paper)
    page.note(
        "What to demand with each line of the sheet 'Order'. A piece that comes without is not accepted."
    )
    page.note("'From memory' means that the standard's own text was not read: ask the maker to confirm it.")
    page.headings()
    for line in order.lines:
        size = f"\n{line.wanted.size}" if line.wanted.size else ""
        page.line(
            (
                line.number, f"{line.what}{size}", BLOCKED if line.to_order is None else line.to_order,
                demands.makers(line, order), _listed(demands.marks(line, order)),
                _listed(demands.papers(line, order, rule)), demands.standard(line),
                "\n".join(substitutes(line, order)),
            ),
            {2: STRONG} if line.blockers else None,
        )  # fmt: skip


def _listed(texts: Iterator[str]) -> str:
    return "\n".join(f"• {text}" for text in texts)


def _not_ordered(sheet: Worksheet, order: Order, paper: int) -> None:
    page = Page(sheet, "not ordered", BLOCKED_COLUMNS, paper)
    page.note("Rows of the schedule that are not ordered and not counted anywhere, each with the reason.")
    page.headings()
    for one in order.not_ordered:
        item = one.row.judged.item
        page.line(
            (
                f"{one.row.sheet}, row {one.row.row}", item.lift or "–", one.row.name,
                ", ".join(filter(None, (item.kind or "kind not known", item.type))),
                item.size.name if item.size else "not stated", item.quantity, one.row.verdict, one.why,
                one.remedy or "–", ", ".join(str(line.number) for line in one.blocks) or "none",
            ),
            None if one.row.verdict == "FAIL" else {6: SLANTED},
        )  # fmt: skip
    if not order.not_ordered:
        page.note("None: every row that was found is ordered.")


def _about(sheet: Worksheet, order: Order, rule: RuleName, paper: int) -> None:
    page = Page(sheet, "where it comes from", ABOUT_COLUMNS, paper)
    checked = order.checked
    counts = ", ".join(f"{number} {word}" for word, number in checked.counts.items())
    page.note("Cautions", BAND)
    for caution in CAUTIONS:
        page.note(caution)
    page.note("The schedule", BAND)
    for fact in (
        f"File: {checked.book.path.name}",
        f"SHA-256 of the file: {checked.book.sha256}",
        f"Checked by rigxl {rigxl.__version__}, judged by {checked.criteria.title} "
        f"on {checked.criteria.judged_on.isoformat()}: {counts}",
        f"Proof loads by the rule '{rule}': {PROOF_RULES[rule].source.cited}",
        *checked.said,
        *left_out(checked),
        *_alone(order),
    ):
        page.note(fact)
    page.note("The criteria it was judged by", BAND)
    for one in checked.criteria:
        value = ", ".join(one.value) or "none" if isinstance(one.value, tuple) else str(one.value)
        page.line((one.name, value, one.source.cited, one.chosen_by), dict.fromkeys(range(4), ORDINARY))
    page.print_on_one_width()


def _alone(order: Order) -> Iterator[str]:
    """The sheets and columns of the schedule that were not used."""
    for sheet in order.checked.understood.sheets:
        if sheet.role == "other":
            yield f"Sheet '{sheet.name}' was left alone: {sheet.why}"
        unused = [column.heading for table in sheet.tables for column in table.columns if column.is_open]
        if unused:
            yield f"Sheet '{sheet.name}': columns not used: {', '.join(unused)}"
