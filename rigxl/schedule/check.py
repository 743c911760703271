"""A schedule checked: its workbook read, its columns understood, every line judged."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from rigxl.checks import assembly, traceability
from rigxl.checks import waivers as waiving
from rigxl.checks.judge import Judged, judge
from rigxl.checks.makers import MakersTable
from rigxl.criteria import Criteria
from rigxl.errors import WorkbookError
from rigxl.formulas.compare import Compared, compare, withdraw
from rigxl.items import FAIL, HOLD, PASS, VERDICTS, WAIVED
from rigxl.rules import gathered
from rigxl.schedule import criteria_sheet, goods_in, inspections, stale
from rigxl.schedule.map import Mapping as ColumnMapping
from rigxl.schedule.map import Understood, understand
from rigxl.schedule.opinion import Opinion, Remark
from rigxl.schedule.ratings import makers_table
from rigxl.schedule.read import Line, tables
from rigxl.schedule.reworking import second_opinion
from rigxl.schedule.waivers import read_waivers
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book
from rigxl.workbook.guard import Limits

if TYPE_CHECKING:
    import pandas as pd


@dataclass(slots=True)
class CheckedRow:
    """One line of a schedule with its verdict."""

    line: Line
    judged: Judged
    weakest: bool = False
    """Whether no item of its lift has a higher utilisation."""
    remarks: list[Remark] = field(default_factory=list)
    """What is said of the figures that the sheet itself works out in the row."""

    @property
    def sheet(self) -> str:
        return self.line.sheet

    @property
    def row(self) -> int:
        return self.line.row

    @property
    def verdict(self) -> str:
        return self.judged.verdict

    @property
    def name(self) -> str:
        """The item's tag, or what else names it."""
        item = self.judged.item
        return item.tag or item.serial or item.description or item.kind or f"row {self.row}"

    def cell_of(self, name: str) -> str:
        """The address of a field's cell, or of the row where it has none."""
        return self.line.cell_of(name)

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules that fail or hold the row."""
        return self._rules(FAIL, HOLD)

    @property
    def waived(self) -> tuple[str, ...]:
        """The rules that the row would fail and that are waived."""
        return self._rules(WAIVED)

    def _rules(self, *outcomes: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one.rule.name for one in self.judged.findings if one.outcome in outcomes))


@dataclass
class Checked:
    """A workbook checked: its rows in order, and what they were judged by."""

    book: Book
    understood: Understood
    criteria: Criteria
    rows: list[CheckedRow]
    said: list[str] = field(default_factory=list)
    """What a person should be told about the workbook as a whole."""
    together: list[list[CheckedRow]] = field(default_factory=list)
    """The rows of each lift, in order."""
    waivers: list[waiving.Standing] = field(default_factory=list)
    """Every waiver of the workbook, and what became of it."""
    formulas: Compared = field(default_factory=Compared)
    """What came of the cells that call our functions."""
    makers: MakersTable | None = None
    """The makers' own ratings that governed."""
    opinion: Opinion = field(default_factory=Opinion)
    """What the sheet works out itself, worked out again."""

    @cached_property
    def counts(self) -> dict[str, int]:
        """How many rows pass, fail, are held and are waived."""
        counted = Counter(row.verdict for row in self.rows)
        return {word: counted[word] for word in VERDICTS}

    @property
    def all_settled(self) -> bool:
        """Whether there are rows, every one passes or is waived, and our functions are stored as they are."""
        settled = self.counts[PASS] + self.counts[WAIVED] == len(self.rows)
        return bool(self.rows) and settled and self.formulas.sound

    @cached_property
    def lifts(self) -> dict[str, list[CheckedRow]]:
        """The rows of each lift that is named, by its name as first written; another sheet has its own."""
        found: dict[str, list[CheckedRow]] = {}
        for rows in self.together:
            name = rows[0].judged.item.lift or ""
            found[f"{name} on sheet '{rows[0].sheet}'" if name in found else name] = rows
        return found

    def to_frame(self) -> pd.DataFrame:
        """The rows as a table, one a line, numbers in kN."""
        from rigxl.schedule.report import frame

        return frame(self)


def check_book(
    book: Book,
    *,
    criteria: Criteria | None = None,
    overrides: Mapping[str, str] | None = None,
    mapping: ColumnMapping | None = None,
    today: dt.date | None = None,
    sheets: Sequence[str] = (),
    ratings: Book | None = None,
    chosen_by: str = "the command line",
    goods: Book | None = None,
    settled: bool = False,
    spend: bool = False,
) -> Checked:
    """Check a workbook that was read.

    Args:
        book: The workbook.
        criteria: The ground to stand on; US practice unless stated. A criteria sheet overrides it.
        overrides: Settings that override both, as typed.
        mapping: Which column is which field, where the headings do not say.
        today: The day to judge inspections on where the criteria do not say; the clock's unless stated.
        sheets: Only these sheets, by name.
        ratings: A workbook of makers' ratings, which govern as those on a sheet of the workbook itself do.
        chosen_by: Who chose the overrides, as the report says it.
        goods: A workbook with a filled-in goods-in list; one in the workbook itself counts too.
        settled: Whether ``criteria`` are the last word, so that a sheet of criteria does not count.
        spend: Empty the rows of ``book`` as they are read, which spares memory where nobody needs them.

    Raises:
        InputError: Criteria, a mapping or ratings that are not understood.
        WorkbookError: A sheet that is not there.
    """
    for name in sheets:
        if name not in {sheet.name for sheet in book.sheets}:
            there = ", ".join(f"'{sheet.name}'" for sheet in book.sheets)
            raise WorkbookError(
                "no-such-sheet", f"there is no sheet '{name}' in {book.path.name}: it has {there}"
            )
    formulas = compare(book)
    withdraw(book, formulas)
    understood = understand(book, mapping)
    stale.withdraw(book, understood)
    ground = criteria or Criteria.ready()
    for sheet in understood.sheets:
        if sheet.role == "criteria" and not settled:
            ground = criteria_sheet.apply(ground, next(one for one in book.sheets if one.name == sheet.name))
    ground = ground.override(overrides or {}, chosen_by).on(today or dt.date.today())
    arrived = goods_in.boxes(book, ground.habits)
    if goods is not None:
        arrived += goods_in.boxes_of_file(goods, ground.habits)
    found = tables(book, understood, ground.habits, spend=spend)
    makers, unrated = makers_table(found.ratings, ratings, ground.habits)
    said = [*book.warnings, *understood.says, *inspections.join(found.items, found.inspections), *unrated]
    said += goods_in.join(found.items, arrived)
    lifts = [lift for lift in found.lifts if not sheets or lift[0].sheet in sheets]
    for lift in lifts:
        if len(lift) > 1:
            assembly.prepare([line.item for line in lift])
    rows = [
        CheckedRow(line, judge(line.item, ground, makers))
        for line in found.items
        if not sheets or line.sheet in sheets
    ]
    of_line = {id(row.line): row for row in rows}
    together = [[of_line[id(line)] for line in lift] for lift in lifts]
    for members in together:
        assembly.check(members)
        _mark_weakest(members)
    traceability.check(rows, ground)
    standings, about_waivers = _waive(book, understood, found.items, of_line, ground)
    said += about_waivers
    of_lifts = [line for line in found.of_lifts if not sheets or line.sheet in sheets]
    opinion = second_opinion(book, understood, rows, of_lifts, ground)
    said += opinion.says
    checked = Checked(book, understood, ground, rows, said, together, standings, formulas, makers, opinion)
    if not rows:
        checked.said.append("no row of a rigging schedule was found in this workbook")
    return checked


def _waive(
    book: Book, understood: Understood, lines: list[Line], of_line: dict[int, CheckedRow], ground: Criteria
) -> tuple[list[waiving.Standing], list[str]]:
    """Cover what the workbook's waivers cover; what became of each, and what to say of them."""
    found, said = [], []
    for sheet in book.sheets:
        if understood.role_of(sheet.name) == "waivers":
            waivers, about = read_waivers(sheet)
            found += waivers
            said += about
    if not found:
        return [], said
    candidates = [waiving.Candidate(line.item, line.sheet, of_line.get(id(line))) for line in lines]
    rules = {name: rule for name, (rule, _) in gathered().items()}
    standings = waiving.apply(found, candidates, rules, ground)
    return standings, [*said, *(one.says for one in standings if one.says)]


def _mark_weakest(members: list[CheckedRow]) -> None:
    spent = [row for row in members if row.judged.utilisation is not None]
    if spent:
        max(spent, key=lambda row: row.judged.utilisation or 0).weakest = True


def check_workbook(
    path: str | Path,
    *,
    criteria: Criteria | str | None = None,
    overrides: Mapping[str, str] | None = None,
    mapping: ColumnMapping | None = None,
    today: dt.date | None = None,
    sheets: Sequence[str] = (),
    ratings: str | Path | None = None,
    goods: str | Path | None = None,
    limits: Limits | None = None,
) -> Checked:
    """Check every schedule in a workbook; the file is only read.

    Args:
        path: The workbook.
        criteria: Criteria, or the name of a ready set: us, ontario or europe.
        overrides: Settings by name, as typed, such as ``{"margin": "30 %"}``.
        mapping: Which column is which field, where the headings do not say.
        today: The day to judge inspections on; the clock's unless stated.
        sheets: Only these sheets, by name.
        ratings: A file of makers' ratings, which govern as those on a sheet of the workbook itself do.
        goods: A file with a filled-in goods-in list; one in the workbook itself counts too.
        limits: Limits for reading; the usual ones unless stated.

    Raises:
        WorkbookError: The file cannot be read.
        InputError: Criteria, a mapping or ratings that are not understood.
    """
    ground = Criteria.ready(criteria) if isinstance(criteria, str) else criteria
    book = read_book(Path(path), limits or Limits())
    return check_book(
        book,
        criteria=ground,
        overrides=overrides,
        mapping=mapping,
        today=today,
        sheets=sheets,
        ratings=read_book(Path(ratings), limits or Limits()) if ratings else None,
        goods=read_book(Path(goods), limits or Limits()) if goods else None,
    )


def check_frame(
    frame: pd.DataFrame,
    *,
    criteria: Criteria | str | None = None,
    overrides: Mapping[str, str] | None = None,
    mapping: ColumnMapping | None = None,
    today: dt.date | None = None,
) -> Checked:
    """Check a schedule held in a DataFrame whose columns are named as a sheet's headings would be.

    Args:
        frame: One line of the schedule a row; row 2 is the first, as it would be on a sheet.
        criteria: Criteria, or the name of a ready set.
        overrides: Settings by name, as typed.
        mapping: Which column is which field, where the headings do not say.
        today: The day to judge inspections on; the clock's unless stated.

    Raises:
        InputError: Criteria or a mapping that are not understood.
    """
    from rigxl.schedule.frames import from_frame

    ground = Criteria.ready(criteria) if isinstance(criteria, str) else criteria
    return check_book(from_frame(frame), criteria=ground, overrides=overrides, mapping=mapping, today=today)
