"""From rows to items: every cell read as its column's field, every cell that cannot be used named."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from rigxl.items import Item
from rigxl.schedule.cells import ALL_LEGS, REMEMBERED, Outcome, Reader, Told
from rigxl.schedule.doubts import Doubt, doubts
from rigxl.schedule.fields import FIELD, JOINED
from rigxl.schedule.lifts import join
from rigxl.schedule.line import Line, Where, address
from rigxl.schedule.listing import Listing
from rigxl.schedule.map import ASIDE, Understood
from rigxl.schedule.neighbours import works_out
from rigxl.schedule.words import against, kinds_in
from rigxl.units import Habits
from rigxl.units.figures import UNDECLARED
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.values import Value

__all__ = ["Line", "Tables", "Where", "apart", "lines", "tables"]

ROUNDING_DEG = 0.5
"""Two ways of giving one angle may differ by this much, as rounded figures do."""


class Tables(NamedTuple):
    """The lines of a workbook's tables, in order: items, and those of each lift; inspections; ratings.

    ``of_lifts`` are the lines of tables of lifts.
    """

    items: list[Line]
    lifts: list[list[Line]]
    inspections: list[Line]
    ratings: list[Line]
    of_lifts: list[Line]


def lines(book: Book, understood: Understood, habits: Habits = UNDECLARED) -> list[Line]:
    """Every line of every schedule in a workbook, in order, with its lift's values filled in."""
    return tables(book, understood, habits).items


def tables(book: Book, understood: Understood, habits: Habits = UNDECLARED, *, spend: bool = False) -> Tables:
    """Every line of a workbook's tables, those of schedules with their lift's values filled in.

    Args:
        book: The workbook.
        understood: What its columns are.
        habits: What its criteria say a ton and a decimal mark are.
        spend: Empty each row of the workbook once it is read, for a caller who has no more use for them; not
            where a sheet works something out itself, for then all of it is looked at again.
    """
    found: dict[str, list[Line]] = {name: [] for name in Tables._fields}
    doubtful: list[tuple[Line, Doubt, Value]] = []
    spend = spend and _each_once(understood) and not any(map(works_out, understood.tables))
    for plan in _plans(book, understood, habits):
        found[plan.table].extend(plan.lines(spend))
        doubtful += plan.doubtful
    read, lifts = found["items"], found["lifts"]
    for line in read + lifts:
        if line.item.carrying == ALL_LEGS and line.item.legs is not None:
            line.item.carrying = line.item.legs
    _hold_doubtful(doubtful, of_lifts=True)
    together = join(read, lifts)
    _hold_doubtful(doubtful, of_lifts=False)
    for line in read:
        if line.item.carrying == ALL_LEGS:
            _all_carry(line)
    return Tables(read, together, found["inspections"], found["ratings"], lifts)


def apart(book: Book, understood: Understood, habits: Habits = UNDECLARED) -> dict[str, list[Line]]:
    """Every line as its own row has it, before a lift shares its values; by the names of ``Tables``."""
    found: dict[str, list[Line]] = {name: [] for name in Tables._fields}
    for plan in _plans(book, understood, habits):
        found[plan.table].extend(plan.lines(spend=False))
    return found


def _plans(book: Book, understood: Understood, habits: Habits) -> list[_Plan]:
    sheets = {sheet.name: sheet for sheet in book.sheets}
    return [_Plan(sheets[listing.sheet], listing, habits) for listing in understood.tables]


def _each_once(understood: Understood) -> bool:
    """Whether no row is read twice, as one that runs through two tables side by side would be."""
    rows = [id(row.cells) for listing in understood.tables for row in listing.rows]
    return len(set(rows)) == len(rows)


def _hold_doubtful(doubtful: list[tuple[Line, Doubt, Value]], *, of_lifts: bool) -> None:
    """Hold rows over doubtful columns: lifts before items take from them, items once they have taken."""
    for line, doubt, cell in doubtful:
        if (line.listing.role == "lifts") == of_lifts:
            doubt.hold(line, cell)


def _all_carry(line: Line) -> None:
    """Settle 'all legs carry', now that the lift has had its say on how many there are."""
    item = line.item
    item.carrying = item.legs
    if item.legs is None:
        item.problems["carrying"] = (
            f"{line.cell_of('carrying')}: all legs are said to carry, and their number is not known"
        )


class _Plan:
    """How one table is read: a reader for each of its columns."""

    def __init__(self, sheet: Sheet, listing: Listing, habits: Habits) -> None:
        self.sheet = sheet
        self.listing = listing
        self.table = listing.role if listing.role in ASIDE else "items"
        self.hidden = sheet.state != "visible"
        by_target: dict[str, list[tuple[int, Reader]]] = {}
        for column in listing.columns:
            if column.field:
                field = FIELD[column.field]
                reader = Reader(field, column.unit, habits)
                by_target.setdefault(field.target, []).append((column.number, reader))
        self.columns = {target: given[0][0] for target, given in by_target.items()}
        self.single = [
            (given[0][0], target, given[0][1]) for target, given in by_target.items() if len(given) == 1
        ]
        self.several = {target: given for target, given in by_target.items() if len(given) > 1}
        self.merged = _merged_down(
            sheet, listing, {number for given in by_target.values() for number, _ in given}
        )
        rope = by_target.get("rope_diameter")
        self.rope = (
            (rope[0][0], Reader(FIELD["size"], rope[0][1].unit, habits))
            if rope and "size" not in by_target
            else None
        )
        self.doubts = tuple(doubts(listing, habits))
        self.doubtful: list[tuple[Line, Doubt, Value]] = []
        self.masses: dict[tuple[str, ...], frozenset[str]] = {}
        self.filled: dict[tuple[int, ...], frozenset[int]] = {}

    def lines(self, spend: bool) -> Iterator[Line]:
        """The table's rows as read; with ``spend`` each is emptied then."""
        name, listing, columns, single = self.sheet.name, self.listing, self.columns, self.single
        masses_known, filled_known, merged, hidden = self.masses, self.filled, self.merged, self.hidden
        for row in listing.rows:
            number, cells = row.number, row.cells
            spread = merged.get(number)
            if spread:
                cells = {**cells, **{column: value for column, (value, _) in spread.items()}}
            item = Item()
            filled = tuple(cells)
            if None in cells.values():
                filled = tuple(column for column, cell in cells.items() if cell is not None)
            known = filled_known.get(filled) or filled_known.setdefault(filled, frozenset(filled))
            where = Where(name, number, columns, known)
            line = Line(name, number, item, hidden or row.hidden, where, listing)
            if spread:
                for target, column in columns.items():
                    if column in spread:
                        where.move(target, address(name, spread[column][1], column))
            units = item.units
            masses: tuple[str, ...] = ()
            pattern = ""
            for column, target, reader in single:
                cell = cells.get(column)
                if cell is None:
                    continue
                outcome = reader[cell] if type(cell) in REMEMBERED else reader.read(cell)
                value, unit, by_gravity, told = outcome
                if told is None:
                    setattr(item, target, value)
                    if unit:
                        units[target] = unit
                        if by_gravity:
                            masses += (target,)
                else:
                    pattern = _tell(line, target, outcome) or pattern
            if masses:
                item.by_gravity = masses_known.get(masses) or masses_known.setdefault(
                    masses, frozenset(masses)
                )
            if self.several:
                self._several(line, cells)
            if item.kind is None:
                pattern = _kind_from_words(line)
            if self.rope and item.kind == "sling":
                self._size_by_rope(line, cells)
            if pattern and "type" not in item.problems:
                if item.type is None:
                    item.type = pattern
                    where.move("type", line.cell_of("kind"))
                elif pattern.casefold() not in item.type.casefold():
                    item.type = f"{item.type}, {pattern}"  # such as polyester, of a web sling
            for doubt in self.doubts:
                if cells.get(doubt.number) is not None:
                    self.doubtful.append((line, doubt, cells[doubt.number]))
            if spend:
                row.cells.clear()
            yield line

    def _size_by_rope(self, line: Line, cells: Mapping[int, Value]) -> None:
        """A rope sling goes by the diameter of its rope where no column is for sizes."""
        assert self.rope is not None
        number, reader = self.rope
        outcome = reader.read(cells.get(number))
        line.cells.move("size", address(line.sheet, line.row, number))
        _tell(line, "size", outcome._replace(told=outcome.told or Told()))

    def _several(self, line: Line, cells: Mapping[int, Value]) -> None:
        """Fields that more than one column gives."""
        for target, given in self.several.items():
            filled = []
            for number, reader in given:
                cell = cells.get(number)
                if cell is not None:
                    outcome = reader.read(cell)
                    if outcome.value is not None or (outcome.told and outcome.told.problem):
                        filled.append((address(line.sheet, line.row, number), reader, outcome))
            if not filled:
                continue
            if target in JOINED:
                _join_texts(line, target, [(cell, outcome) for cell, _, outcome in filled])
            elif len({reader.field.name for _, reader in given}) < len(given):
                where = " and ".join(address(line.sheet, line.row, number) for number, _ in given)
                line.item.problems[target] = (
                    f"{where} both give the {FIELD[target].plain}: keep one column, "
                    "or say in a mapping which of them counts"
                )
            else:
                _one_angle(line, target, [(cell, outcome) for cell, _, outcome in filled])


def _tell(line: Line, target: str, outcome: Outcome) -> str:
    """Set a value that comes with a sentence; what the cell says for another field is handed back."""
    told = outcome.told
    assert told is not None
    if told.problem:
        line.item.problems[target] = line.cells[target] + told.problem
        return ""
    setattr(line.item, target, outcome.value)
    if told.note:
        line.notes += (f"{line.cells[target]}: {told.note}",)
    return told.aside


def _has_problem(line: Line, target: str, given: list[tuple[str, Outcome]]) -> bool:
    """Whether one of several cells cannot be used; the first that cannot is named."""
    for cell, outcome in given:
        if outcome.told and outcome.told.problem:
            line.item.problems[target] = cell + outcome.told.problem
            return True
    return False


def _join_texts(line: Line, target: str, given: list[tuple[str, Outcome]]) -> None:
    if not _has_problem(line, target, given):
        setattr(line.item, target, " / ".join(dict.fromkeys(outcome.value for _, outcome in given)))


def _one_angle(line: Line, target: str, given: list[tuple[str, Outcome]]) -> None:
    """One angle given in more than one way: the lower, if they differ by no more than rounding."""
    if _has_problem(line, target, given):
        return
    given.sort(key=lambda pair: float(pair[1].value))
    (low_cell, low), (high_cell, high) = given[0], given[-1]
    if high.value - low.value > ROUNDING_DEG:
        line.item.problems[target] = (
            f"{low_cell} says that the sling angle is {low.value:.4g}° from horizontal and {high_cell} "
            f"{high.value:.4g}°: correct one of them"
        )
        return
    setattr(line.item, target, low.value)
    line.cells.move(target, low_cell)
    line.notes += tuple(f"{cell}: {one.told.note}" for cell, one in given if one.told and one.told.note)


def _kind_from_words(line: Line) -> str:
    """Without a kind, the one kind that the type or else the description names; its words tell the type."""
    item = line.item
    if "kind" in item.problems:
        return ""
    for name in ("type", "description"):
        text = getattr(item, name)
        named = kinds_in(text) if text else ()
        if named and (said := against(str(text))):
            item.problems["kind"] = f"{line.cell_of(name)}: '{text}' {said}: fill in the kind"
            return ""
        if len(named) == 1:
            item.kind = named[0]
            line.cells.move("kind", line.cell_of(name))
            line.notes += (f"{line.cell_of(name)}: the kind, {item.kind}, is read from the {name}",)
            return str(text)
        if named:
            item.problems["kind"] = (
                f"{line.cell_of(name)}: '{text}' names more than one kind of hardware ({', '.join(named)}): "
                "fill in the kind"
            )
            return ""
    return ""


def _merged_down(sheet: Sheet, listing: Listing, wanted: set[int]) -> dict[int, dict[int, tuple[Value, int]]]:
    """By row and column, the value that a merged cell above gives and the row it stands in."""
    numbers = [row.number for row in listing.rows]
    found: dict[int, dict[int, tuple[Value, int]]] = {}
    covered: dict[int, int] = {}
    for area in sorted(sheet.merges):
        column = area.first_column
        if (
            area.last_row == area.first_row
            or column not in wanted
            or area.first_row <= covered.get(column, 0)
        ):
            continue
        covered[column] = area.last_row
        below = numbers[bisect_right(numbers, area.first_row) : bisect_right(numbers, area.last_row)]
        value = sheet.cell(area.first_row, column) if below else None
        if value is not None and area.first_row > listing.header_rows[-1]:
            for number in below:
                found.setdefault(number, {})[column] = (value, area.first_row)
    return found
