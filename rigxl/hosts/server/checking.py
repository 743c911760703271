"""A workbook checked and marked, as it is done in the child process that reads it.

This module is all the child loads of the server: nothing of the web is in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import Limits

MARKABLE = frozenset({"xlsx", "xlsm", "xltx", "xltm"})


@dataclass(frozen=True)
class Order:
    """What is wanted of a workbook."""

    source: Path
    criteria: str | None = None
    overrides: Mapping[str, str] = field(default_factory=dict)
    sheets: tuple[str, ...] = ()
    ratings: Path | None = None
    mark: bool = False
    limits: Limits = field(default_factory=Limits)


@dataclass(frozen=True)
class Done:
    """What came of it."""

    findings: dict[str, Any]
    """As ``rigxl check --json`` prints them."""
    rows: int
    marked: Path | None = None
    refused: WorkbookError | None = None
    """Why there is no marked copy though one was wanted."""


def check(order: Order) -> Done:
    """Check a workbook and, where it is wanted, write the marked copy beside it.

    Raises:
        RigxlError: The workbook cannot be read, or the criteria are not understood.
    """
    from rigxl.criteria import Criteria
    from rigxl.schedule import report
    from rigxl.schedule.check import check_book
    from rigxl.schedule.mark import mark_checked
    from rigxl.workbook.foreign import read_here

    checked = check_book(
        read_here(order.source, order.limits),
        criteria=Criteria.ready(order.criteria) if order.criteria else None,
        overrides=order.overrides,
        sheets=order.sheets,
        ratings=read_here(order.ratings, order.limits) if order.ratings else None,
        chosen_by="the request",
        spend=True,
    )
    marked, refused = None, None
    if order.mark and checked.rows:
        kind = checked.book.kind if checked.book.kind in MARKABLE else "xlsx"
        target = order.source.with_name(f"{order.source.stem}.marked.{kind}")
        try:
            checked.said.extend(mark_checked(checked, target, limits=order.limits).warnings)
            marked = target
        except WorkbookError as refusal:
            refused = refusal
            checked.said.append(f"there is no marked copy: {refusal}")
    elif order.mark:
        refused = WorkbookError(
            "nothing-to-mark",
            "no row of a rigging schedule was found, so there is no marked copy",
        )
    found = report.workbook(checked, marked.name if marked else None)
    document = report.document([{**found, "file": order.source.name}])
    return Done(document, len(checked.rows), marked, refused)
