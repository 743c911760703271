"""What a sheet works out itself, worked out again: table by table, row by row, column by column."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple, Protocol

from rigxl.checks.judge import Judged
from rigxl.criteria import Criteria
from rigxl.formulas.place import Where
from rigxl.opinion.figures import CHECKS, FIGURES, Case, of_lift
from rigxl.opinion.rules import FIGURE, ODD_FORMULA, STALE, VERDICT
from rigxl.schedule.headings import plain
from rigxl.schedule.line import Line, address
from rigxl.schedule.listing import Column, Listing
from rigxl.schedule.map import Understood
from rigxl.schedule.neighbours import ANY_OTHER, WORKED_OUT, Neighbours, Odd, works_out
from rigxl.schedule.opinion import Gone, Opinion, Remark
from rigxl.schedule.stored import Stored
from rigxl.schedule.worked import CheckColumn, FigureColumn, Held, result_of
from rigxl.units import Habits
from rigxl.workbook.contents import Book
from rigxl.workbook.values import Formula, Plain, Value, cell_name

SAME_RATIO = 0.002
"""A figure that is off by the ratio of one before it in the row, within this, follows from that one."""

SAME_WORD = 3
"""One word typed in so many rows and no other may have been copied down."""

RANK = {name: rank for rank, name in enumerate((*FIGURES, *CHECKS))}


class Placed(Protocol):
    """A checked row: its line, how it was judged, and what is said of the figures in it."""

    line: Line
    judged: Judged
    remarks: list[Remark]


class _Entry(NamedTuple):
    """A row of a table, and what it is judged by."""

    line: Line
    case: Case
    row: Placed | None


class _Column(NamedTuple):
    """A column to go through: how its cells are held against ours, if they can be, and all of it together."""

    gone: Gone
    reader: FigureColumn | CheckColumn | None
    beside: Neighbours
    one_word: int
    """In how many rows the same verdict is typed, where no other and no formula stands in the column."""

    @property
    def number(self) -> int:
        return self.gone.column.number

    @property
    def is_check(self) -> bool:
        return isinstance(self.reader, CheckColumn)


def second_opinion(
    book: Book, understood: Understood, rows: Sequence[Placed], lifts: Sequence[Line], criteria: Criteria
) -> Opinion:
    """Work out again what the sheets of a workbook work out, and say where the two do not agree.

    What is said of a row of items is added to its findings, as advice.

    Args:
        book: The workbook.
        understood: What its columns are.
        rows: The rows of items, as judged.
        lifts: The lines of its tables of lifts.
        criteria: What they are judged by.
    """
    entries: dict[int, list[_Entry]] = defaultdict(list)
    for row in rows:
        entries[id(row.line.listing)].append(_Entry(row.line, Case(row.judged, criteria), row))
    for line in lifts:
        if line.listing.role == "lifts":
            entries[id(line.listing)].append(_Entry(line, of_lift(line.item, criteria), None))
    formulas = Stored(book)
    opinion = Opinion()
    for table in understood.tables:
        if id(table) in entries and works_out(table):
            _Table(table, entries[id(table)], formulas, criteria.habits).go_through(opinion)
    return opinion


class _Table:
    """One table, with the rows that were checked."""

    def __init__(self, listing: Listing, entries: list[_Entry], formulas: Stored, habits: Habits) -> None:
        self.listing = listing
        self.entries = entries
        self.rows: Mapping[int, Mapping[int, Value]] = {row.number: row.cells for row in listing.rows}
        self._formulas = formulas
        self._uses = [_use(entry) for entry in entries]
        self._counts = Counter(
            number for row in listing.rows for number, value in row.cells.items() if type(value) is Formula
        )
        columns = filter(None, (self._column(one, habits) for one in listing.columns if not one.ours))
        self.columns = sorted(columns, key=lambda one: RANK.get(one.reader.name if one.reader else "", -1))

    def _column(self, column: Column, habits: Habits) -> _Column | None:
        """How a column is gone through; None where the sheet does not work it out."""
        number = column.number
        name = "" if column.field else self._figure(column)
        if not name and self._counts[number] < ANY_OTHER.formulas:
            return None
        found = [
            (entry.line.row, value, use)
            for entry, use in zip(self.entries, self._uses, strict=True)
            if (value := self.rows[entry.line.row].get(number)) is not None
        ]
        reader: FigureColumn | CheckColumn | None = None
        one_word = 0
        if name in FIGURES:
            reader = FigureColumn(column, name, habits, [value for _, value, _ in found])
        elif name in CHECKS:
            reader = CheckColumn(name)
            typed = not self._counts[number] and len({value for _, value, _ in found}) == 1
            one_word = len(found) if typed else 0
        beside = Neighbours(found, WORKED_OUT if reader else ANY_OTHER)
        gone = Gone(self.listing.sheet, self.listing.header_row, column)
        return _Column(gone, reader, beside, one_word)

    def _figure(self, column: Column) -> str:
        """What a column holds; a load per leg beside a tension is the share without the angle."""
        if column.worked == "leg_tension" and "tension" not in plain(column.heading):
            others = (one for one in self.listing.columns if one.worked == "leg_tension")
            if any("tension" in plain(one.heading) for one in others):
                return "share"
        return column.worked

    def go_through(self, opinion: Opinion) -> None:
        """Add what is found, row by row."""
        opinion.columns += [one.gone for one in self.columns if one.reader]
        for entry in self.entries:
            found = list(self._row(entry))
            opinion.remarks += found
            if entry.row and found:
                entry.row.remarks += found
                for one in found:
                    advice = one.rule.advises(one.sentence)
                    findings = entry.row.judged.findings
                    findings.insert(0 if one.is_kinder else len(findings), advice)

    def _row(self, entry: _Entry) -> Iterator[Remark]:
        cells = self.rows[entry.line.row]
        off: list[tuple[float, str]] = []
        for column in self.columns:
            cell = cells.get(column.number)
            if cell is None:
                continue
            held = column.reader.held(cell, entry.case) if column.reader else None
            is_off = held is not None and not held.agrees
            column.gone.compared += held is not None
            column.gone.off += is_off
            odd = self._odd(column, entry.line.row, cell, held)
            if odd or is_off:
                yield self._remark(column, entry, cell, held, odd, off)

    def _odd(self, column: _Column, row: int, cell: Value, held: Held | None) -> Odd | None:
        is_off = held is not None and not held.agrees
        if column.beside.even and held and not is_off:
            return None
        odd = column.beside.odd(row, is_off, self.rows, column.is_check)
        rests_on_it = is_off or (held is None and column.reader is not None)
        if odd or not rests_on_it or not isinstance(cell, Formula) or not cell.calculated:
            return odd
        given = self._formulas.renewed(self._where(row, column), cell.result)
        if given is None:
            return None
        return Odd(STALE, f"its formula gives {_shown(given)} on what stands there now: recalculate and save")

    def _where(self, row: int, column: _Column) -> Where:
        return Where(self.listing.sheet, row, column.number)

    def _remark(
        self,
        column: _Column,
        entry: _Entry,
        cell: Value,
        held: Held | None,
        odd: Odd | None,
        off: list[tuple[float, str]],
    ) -> Remark:
        reader, heading = column.reader, column.gone.column.heading
        where = address(entry.line.sheet, entry.line.row, column.number)
        if held and reader and not held.agrees:
            says, ours, rule = held.says, held.ours, odd.rule if odd else FIGURE
            cause = self._cause(column, entry, cell, held, odd, off)
            sentence = f"{where} gives {reader.plain} as {says}, and it works out at {ours}"
            if column.is_check:
                rule, sentence = VERDICT, f"{where} says {says}, and {reader.plain} is {ours} by this check"
            sentence += f": {cause}" if cause else ""
        else:
            assert odd
            rule, cause = odd.rule, odd.words
            says = reader.shown(cell, entry.case) if reader else _shown(result_of(cell))
            ours = says if held else ""
            name = reader.plain if reader else f"'{heading}'"
            sentence = f"{where} gives {name} as {says}{', as it works out' if held else ''}, but {cause}"
            usual = "" if held or rule is STALE else odd.usual
            given = self._formulas.instead(self._where(entry.line.row, column), usual)
            sentence += "" if given is None else f"; that formula gives {_shown(given)} here"
        kinder = held is not None and held.is_kinder
        return Remark(rule, where, heading, says, ours, cause, sentence, kinder, entry.row is not None)

    def _cause(
        self,
        column: _Column,
        entry: _Entry,
        cell: Value,
        held: Held,
        odd: Odd | None,
        off: list[tuple[float, str]],
    ) -> str:
        """Why a figure is off; empty where nothing is likely. What others may follow from is noted."""
        where = cell_name(entry.line.row, column.number)
        if column.is_check:
            if odd:
                return odd.words
            if column.one_word >= SAME_WORD:
                return f"the same word is typed in all {column.one_word} rows of the column"
            return f"it may follow from {' and '.join(cell for _, cell in off)}" if off else ""
        follows = [one for ratio, one in off if abs(held.ratio - ratio) <= SAME_RATIO * abs(ratio)]
        if follows and not odd:
            return f"it follows from {follows[0]}"
        roots = list(off)
        off.append((held.ratio, where))
        if odd and odd.rule is not ODD_FORMULA:
            return odd.words
        slips = self._slips(column, entry, cell, roots)
        if slips:
            column.gone.causes[slips] += 1
        return ", ".join(filter(None, (odd.words if odd else "", slips)))

    def _slips(self, column: _Column, entry: _Entry, cell: Value, roots: Sequence[tuple[float, str]]) -> str:
        """The slips that would make the figure what it is: its own, or one more after that of a root."""
        assert column.reader
        if own := column.reader.causes(cell, entry.case):
            return ", or ".join(f"as if {words}" for words in own)
        for ratio, where in roots:
            if more := column.reader.causes(cell, entry.case, ratio):
                return f"it follows from {where}, and as if {more[0]}"
        return ""


def _use(entry: _Entry) -> tuple[object, ...]:
    """How a row is used: rows used alike are worked out alike."""
    item = entry.case.item
    return item.position, item.kind, item.hitch


def _shown(value: Plain) -> str:
    if isinstance(value, bool):
        return str(value).upper()
    return f"{value:.4g}" if isinstance(value, float) else f"'{'' if value is None else value}'"
