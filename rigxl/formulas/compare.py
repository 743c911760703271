"""Every cell that calls a function of ours: worked out, and held against the result that the file stores."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal, NamedTuple, TypeAlias

from rigxl.errors import CellError
from rigxl.formulas.arithmetic import Scalar, UnworkableError
from rigxl.formulas.dependents import dependents
from rigxl.formulas.ours import Ours
from rigxl.formulas.place import Where
from rigxl.formulas.worked import CircularError, Refusal, Worked, agree
from rigxl.formulas.working import Working
from rigxl.workbook.contents import Book
from rigxl.workbook.tokens import UnreadableFormulaError
from rigxl.workbook.values import Formula, Value

Kind: TypeAlias = Literal[
    "differs",
    "not calculated",
    "no add-in",
    "error",
    "text",
    "refused",
    "not worked out",
    "circle",
    "unreadable",
    "relies",
]
"""In words: see README, *Our functions in workbooks*."""
ABSENT = CellError("#NAME?")


class Doubtful(NamedTuple):
    """A cell whose stored result must not be used.

    ``said`` says why, and begins with what follows the cell's address; ``worked`` is what its formula gives,
    None where that is not known.
    """

    where: Where
    kind: Kind
    said: str
    stored: Value
    worked: Scalar

    @property
    def sentence(self) -> str:
        """What is amiss, in a plain sentence."""
        return self.where.address + self.said

    @property
    def stored_text(self) -> str:
        """What is stored, as a table shows it."""
        value = self.stored
        if isinstance(value, Formula):
            return _shown(value.result) if value.calculated else "never calculated"
        return _shown(value)

    @property
    def worked_text(self) -> str:
        """What it works out to, as a table shows it."""
        return "not known" if self.worked is None else _shown(self.worked)


@dataclass
class Compared:
    """What came of all the formulas of ours in a workbook."""

    agree: int = 0
    relying: int = 0
    """How many of those that agree rely on stored results of formulas that are not worked out here."""
    doubtful: list[Doubtful] = field(default_factory=list)

    @property
    def looked_at(self) -> int:
        """How many cells call a function of ours, or are filled by one that does."""
        return self.agree + sum(one.kind != "relies" for one in self.doubtful)

    @property
    def sound(self) -> bool:
        """Whether each cell stores what it should, be it the error of a refusal."""
        return all(one.kind == "refused" for one in self.doubtful)


def compare(book: Book) -> Compared:
    """Work out every formula of ours in a workbook, and hold it against what is stored."""
    found = Compared()
    working: Working | None = None
    ours = Ours(book.names)
    for sheet in book.sheets:
        for row in sheet.rows:
            for column, value in row.cells.items():
                if not isinstance(value, Formula) or not ours.mention(value.written):
                    continue
                working = working or Working(book)
                where = Where(sheet.name, row.number, column)
                found.doubtful += _of_cell(working, where, value, found)
    if working is not None:
        found.doubtful += _relying(working, book, found.doubtful)
    return found


def withdraw(book: Book, compared: Compared) -> None:
    """Take the results that must not be used out of a workbook: each is as if it was never calculated."""
    rows = {sheet.name: {row.number: row for row in sheet.rows} for sheet in book.sheets if compared.doubtful}
    for one in compared.doubtful:
        cells = rows[one.where.sheet][one.where.row].cells
        value = cells.get(one.where.column)
        told = value if isinstance(value, Formula) else Formula("", value, True)
        cells[one.where.column] = told._replace(calculated=False, doubt=one.said)


def _relying(working: Working, book: Book, doubtful: list[Doubtful]) -> Iterator[Doubtful]:
    """Formulas of others whose results are as stale as those of ours that they rely on."""
    for where, on in dependents(book, [one.where for one in doubtful if one.kind != "refused"]):
        value = working.places.sheets[where.sheet.lower()].cell(where.row, where.column)
        assert isinstance(value, Formula)
        now = f"relies on {on.address}, whose stored result must not be used"
        worked: Scalar = None
        try:
            worked = working.work(where).first
        except (UnworkableError, UnreadableFormulaError):
            pass
        else:
            if value.calculated and agree(working.plain(value.result), worked):
                continue
            now += f"; it works out to {_shown(worked, value.result)}"
        yield Doubtful(where, "relies", f" {now}: recalculate and save", value, worked)


def _of_cell(working: Working, where: Where, value: Formula, found: Compared) -> Iterator[Doubtful]:
    """What is amiss with one formula, and with the cells that it fills; what is not is counted."""
    try:
        if not working.ours.called_by(value.text):
            return
        worked = working.work(where)
    except CircularError as error:
        yield Doubtful(
            where, "circle", f" has no value, for {error}: correct one of these formulas", value, None
        )
        return
    except UnreadableFormulaError as error:
        said = f" holds a formula with a function of rigxl that cannot be read ({value.text[:80]}): {error}"
        yield Doubtful(where, "unreadable", said, value, None)
        return
    except UnworkableError as error:
        stored = _shown(value.result) if value.calculated else "nothing that was calculated"
        said = f" stores {stored}, which could not be checked: {error}"
        yield Doubtful(
            where, "not worked out", f"{said}; put what it needs into cells of its own", value, None
        )
        return
    for cell, held, result in _cells(working, where, value, worked):
        one = _doubt(working, cell, held, result, worked)
        if one is not None:
            yield one
        else:
            found.agree += 1
            found.relying += bool(worked.stored)


def _cells(
    working: Working, where: Where, value: Formula, worked: Worked
) -> Iterator[tuple[Where, Value, Scalar]]:
    """The cells of a formula, each with what it holds and what it should."""
    yield where, value, worked.first
    if value.fills is None:
        return
    sheet = working.places.sheets[where.sheet.lower()]
    area, used = value.fills, working.used(where.sheet)
    for row in range(area.first_row, min(area.last_row, used.last_row) + 1):
        for column in range(area.first_column, min(area.last_column, used.last_column) + 1):
            if (row, column) != (where.row, where.column) and (held := sheet.cell(row, column)) is not None:
                result = worked.at(row - area.first_row, column - area.first_column)
                yield Where(where.sheet, row, column), held, result


def _doubt(working: Working, where: Where, value: Value, worked: Scalar, of: Worked) -> Doubtful | None:
    """What is amiss with one cell; None when it stores what it should."""
    told = value if isinstance(value, Formula) else Formula("", value, True)
    stored = told.result
    result = working.plain(stored)
    if told.calculated and not isinstance(stored, CellError) and agree(result, worked):
        return None
    now = (
        f"is refused: {worked.sentence}"
        if isinstance(worked, Refusal)
        else f"works out to {_shown(worked, stored)}"
    )
    if of.stored:
        now += f" (relying on the stored results of {', '.join(of.stored)})"
    if not told.calculated:
        said = (
            f" was never calculated; it {now}: recalculate the workbook where rigxl's functions are at hand"
        )
        return Doubtful(where, "not calculated", said, value, worked)
    if isinstance(stored, CellError):
        if stored == ABSENT:
            said = f" stores {stored}, for the program that saved it had no functions of rigxl; it {now}"
            return Doubtful(
                where, "no add-in", f"{said} (see 'rigxl respell' and 'rigxl settle')", value, worked
            )
        if isinstance(worked, Refusal):
            return Doubtful(where, "refused", f" {now}", value, worked)
        if isinstance(worked, CellError):
            return Doubtful(
                where, "refused", f" is in error, {worked}, as what it is worked out from is", value, worked
            )
        return Doubtful(
            where, "error", f" stores the error {stored}; it {now}: recalculate and save", value, worked
        )
    if isinstance(result, str) and not isinstance(worked, str):
        said = f" stores the text '{result[:60]}' where a number belongs; it {now}: recalculate and save"
        return Doubtful(where, "text", said, value, worked)
    return Doubtful(
        where, "differs", f" stores {_shown(stored, worked)}, but {now}: recalculate and save", value, worked
    )


def _shown(value: object, beside: object = None) -> str:
    """A value as a sentence shows it, with digits enough to tell it from the one beside it."""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, float | int):
        for digits in (6, 10, 15):
            shown = f"{value:.{digits}g}"
            if not isinstance(beside, float | int) or shown != f"{beside:.{digits}g}":
                return shown
        return f"{value:.17g}"
    if value is None:
        return "a blank"
    return f"'{value}'" if isinstance(value, str) and not isinstance(value, CellError) else str(value)
