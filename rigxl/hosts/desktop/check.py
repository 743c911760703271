"""The macro "check this workbook": the batch check on a copy of it, the marks brought back into it."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from rigxl.errors import RigxlError

OPENED = ".xlsx"


def check_open_workbook() -> None:
    """Check the workbook whose macro called, and tell the person what was found.

    The workbook is not saved: whoever opened it decides whether the marks stay.
    """
    import xlwings

    book = xlwings.Book.caller()
    try:
        told = check(book)
    except RigxlError as refusal:
        told = f"This workbook was not checked: {refusal}"
    book.app.alert(told, "rigxl")


def check(book: Any) -> str:
    """Check an open workbook and bring the marks back into it; what to tell the person.

    Raises:
        RigxlError: The workbook cannot be read, or holds no schedule that can be marked in place.
    """
    from rigxl.schedule.check import check_workbook
    from rigxl.schedule.mark import mark_checked

    with TemporaryDirectory(prefix="rigxl-") as folder:
        suffix = Path(book.name).suffix or OPENED
        copy, target = Path(folder) / f"open{suffix}", Path(folder) / f"open.marked{suffix}"
        book.api.SaveCopyAs(str(copy))
        checked = check_workbook(copy)
        if not checked.rows:
            return "No row of a rigging schedule was found in this workbook."
        outcome = mark_checked(checked, target)
        if outcome.separate:
            return f"The marks could not be brought into this workbook: {' '.join(outcome.warnings)}"
        marked = book.app.books.open(str(target), update_links=False, read_only=True)
        try:
            bring_back(book, marked, outcome.placed)
        finally:
            marked.close()
    counted = ", ".join(f"{number} {word}" for word, number in checked.counts.items())
    return (
        f"{counted}. The verdicts and their reasons stand beside the rows and on the sheet of their own. "
        "The maker's instructions, the local code and a licensed engineer govern over this check."
    )


def bring_back(book: Any, marked: Any, placed: dict[str, str]) -> None:
    """Copy the mark columns of each sheet and the summary sheet out of the marked copy.

    Args:
        book: The open workbook, an ``xlwings.Book``.
        marked: The marked copy, open in the same program.
        placed: By sheet the columns the marks stand in, such as ``AB:AH``.
    """
    from rigxl.schedule.summary import SUMMARY

    for sheet, columns in placed.items():
        whole = columns if ":" in columns else f"{columns}:{columns}"
        marked.sheets[sheet].range(whole).copy(book.sheets[sheet].range(whole))
    names = [sheet.name for sheet in book.sheets]
    if SUMMARY in [sheet.name for sheet in marked.sheets]:
        if SUMMARY in names:
            book.sheets[SUMMARY].delete()
        marked.sheets[SUMMARY].copy(after=book.sheets[len(book.sheets) - 1])
