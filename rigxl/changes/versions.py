"""The two files read, checked and compared."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from rigxl.batch import Options, limits_from
from rigxl.changes.basis import ASKED_THEN, MARKED_THEN, TODAY
from rigxl.changes.causes import explain
from rigxl.changes.compare import Compared, compare
from rigxl.changes.earlier import day_of
from rigxl.changes.unlike import say
from rigxl.criteria import Criteria
from rigxl.errors import WorkbookError
from rigxl.schedule.check import Checked, check_book
from rigxl.schedule.map import Mapping, read_mapping
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book


def compare_workbooks(
    old: Path,
    new: Path,
    options: Options | None = None,
    *,
    old_map: Path | None = None,
    old_day: dt.date | None = None,
    today: dt.date | None = None,
) -> Compared:
    """What changed from one version of a workbook to the other; the files are only read.

    Args:
        old: The old version.
        new: The new one.
        options: What both are judged by besides what they say themselves.
        old_map: What a person says of the old version's columns, where they are others.
        old_day: The day the old version is judged on where its criteria do not say; the day it was marked, or
            today, unless stated.
        today: The day the new version is judged on where its criteria do not say; the clock's unless stated.

    Raises:
        WorkbookError: A file that cannot be read, or holds no row of a schedule.
        InputError: Criteria, a mapping or ratings that are not understood.
    """
    checking = _Checking(options or Options())
    old_book, new_book = checking.read(old), checking.read(new)
    mapping = read_mapping(old_map) if old_map else checking.mapping
    marked = day_of(old_book)
    if old_day:
        before = checking.check(old_book, mapping, old_day, ASKED_THEN)
    elif marked:
        before = checking.check(old_book, mapping, marked, MARKED_THEN)
    else:
        before = checking.check(old_book, mapping, today)
    after = checking.check(new_book, checking.mapping, today)

    def again(version: Checked, criteria: Criteria) -> Checked:
        return checking.by(version.book, mapping if version is before else checking.mapping, criteria)

    compared = compare(before, after, checking.options.sheets)
    explain(compared, again)
    compared.said = say(compared)
    return compared


class _Checking:
    """What both versions are checked by, read once."""

    def __init__(self, options: Options) -> None:
        self.options = options
        self.limits = limits_from(options.limits)
        self.criteria = Criteria.ready(options.criteria) if options.criteria else None
        self.mapping = read_mapping(options.map_file) if options.map_file else None
        self.ratings = read_book(options.ratings, self.limits) if options.ratings else None
        self.goods = read_book(options.goods_in, self.limits) if options.goods_in else None

    def read(self, path: Path) -> Book:
        """One version, in a child process where it is not trusted."""
        if not self.options.untrusted:
            return read_book(path, self.limits)
        from rigxl.workbook.sandbox import read_apart

        return read_apart(path, self.limits)

    def check(
        self, book: Book, mapping: Mapping | None, day: dt.date | None, because: str = TODAY
    ) -> Checked:
        """A version checked on a day, or on the one its criteria name."""
        checked = check_book(
            book,
            criteria=self.criteria,
            overrides=self.options.overrides,
            mapping=mapping,
            today=day,
            sheets=self.options.sheets,
            ratings=self.ratings,
            goods=self.goods,
        )
        if not checked.rows:
            raise WorkbookError(
                "no-schedule",
                f"{book.path}: no row of a rigging schedule was found in it, so there is nothing to compare: "
                "see 'rigxl columns'",
            )
        if day and checked.criteria.chosen["judged on"].chosen_by == TODAY:
            checked.criteria = checked.criteria.override({"judged on": day.isoformat()}, because)
        return checked

    def by(self, book: Book, mapping: Mapping | None, criteria: Criteria) -> Checked:
        """A version checked by criteria that are the last word."""
        return check_book(
            book,
            criteria=criteria,
            mapping=mapping,
            sheets=self.options.sheets,
            ratings=self.ratings,
            goods=self.goods,
            settled=True,
        )
