"""The waivers of a workbook: a sheet named for them, one waiver a row.

    Rule           Item   Lift    Reason                     Who       Until        Utilisation up to
    design-margin  S-104          weighed twice, slow lift   A. Engel  2026-12-31   85 %

Item or lift is enough. Until is typed as a date: a formula would move it on for ever.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from typing import Any

from rigxl.errors import InputError, RigxlError
from rigxl.items import Waiver
from rigxl.rules import find
from rigxl.schedule.cells import as_text
from rigxl.schedule.days import read_day
from rigxl.schedule.headings import plain
from rigxl.units import is_not_known, read_ratio
from rigxl.workbook.contents import Sheet
from rigxl.workbook.values import CellError, Formula, Row, Value, cell_name, column_letters

SHEET_NAME = re.compile(r"(list|register) of waivers|waivers?( (list|register))?")
HEADINGS: Mapping[str, frozenset[str]] = {
    "rule": frozenset({"rule", "rule waived", "waived rule", "rules"}),
    "item": frozenset({"item", "tag", "item or lift", "lift or item", "item tag", "tag no", "for", "piece"}),
    "lift": frozenset({"lift", "lift name", "lift no"}),
    "reason": frozenset({"reason", "why", "justification", "grounds", "reasons"}),
    "who": frozenset({"who", "waived by", "approved by", "accepted by", "signed by", "by", "engineer"}),
    "until": frozenset(
        {"until", "valid until", "valid to", "expires", "expiry", "expiry date", "expires on"}
    ),
    "most": frozenset({"utilisation up to", "utilization up to", "up to utilisation", "up to utilization"}),
}
MEANT = {plain(heading): name for name, headings in HEADINGS.items() for heading in headings}
NEEDED = ("rule", "item", "lift", "reason", "who", "until")
FEWEST = 3
NAME = re.compile(r"[^\W\d_]{2}")
"""A person's name has two letters beside each other."""


def is_waivers(sheet: Sheet) -> bool:
    """Whether a sheet is named for waivers."""
    return SHEET_NAME.fullmatch(plain(sheet.name)) is not None


def headings_of(sheet: Sheet) -> Row | None:
    """The row of headings of a table of waivers; None where there is none."""
    return next((row for row in sheet.rows if len(_columns(row)) >= FEWEST), None)


def read_waivers(sheet: Sheet) -> tuple[list[Waiver], list[str]]:
    """The waivers on a sheet, and what a person should be told of the sheet as a whole."""
    headings = headings_of(sheet)
    if headings is None:
        return [], []
    columns = _columns(headings)
    rows = [row for row in sheet.rows if row.number > headings.number and _is_filled(row, columns)]
    return [_waiver(sheet.name, row, columns) for row in rows], list(_about(sheet, headings))


def _columns(row: Row) -> dict[str, int]:
    """Which column is which; the first of two counts."""
    found: dict[str, int] = {}
    for number, value in sorted(row.cells.items()):
        name = MEANT.get(plain(value)) if isinstance(value, str) else None
        if name is not None:
            found.setdefault(name, number)
    return found


def _about(sheet: Sheet, headings: Row) -> Iterator[str]:
    """Columns that say the same, or nothing that is known."""
    used = _columns(headings)
    unused = []
    for number, value in sorted(headings.cells.items()):
        if not isinstance(value, str) or not value.strip():
            continue
        name = MEANT.get(plain(value))
        if name is None:
            unused.append(value.strip())
        elif used[name] != number:
            first = column_letters(used[name])
            yield f"sheet '{sheet.name}': column {column_letters(number)} says what {first} says: not used"
    if unused:
        yield f"sheet '{sheet.name}': columns not used: {', '.join(unused)}"
    if sheet.state != "visible":
        yield f"sheet '{sheet.name}' is hidden, and its waivers count"
    hidden = [str(row.number) for row in sheet.rows if row.hidden and _is_filled(row, used)]
    if hidden:
        yield f"sheet '{sheet.name}': row {', '.join(hidden)} is hidden, and its waiver counts"


def _is_filled(row: Row, columns: Mapping[str, int]) -> bool:
    return any(
        value is not None and value != "" for name in columns if (value := row.cells.get(columns[name]))
    )


def _waiver(sheet: str, row: Row, columns: Mapping[str, int]) -> Waiver:
    said: dict[str, Any] = {}
    trouble = ""
    for name in (*NEEDED, "most"):
        value = row.cells.get(columns.get(name, 0))
        if value is None or (isinstance(value, str) and not value.strip()):
            continue
        try:
            said[name] = _read(name, value)
        except RigxlError as error:
            trouble = trouble or f"{cell_name(row.number, columns[name])}: {error}"
    waiver = Waiver(sheet, row.number, **said)
    return waiver._replace(trouble=_missing(said, trouble))


def _read(name: str, value: Value) -> Any:
    """One cell as its column's; what says that it is not known says nothing.

    Raises:
        RigxlError: The cell cannot be used.
    """
    if isinstance(value, Formula):
        if name == "until":
            raise InputError("the day is worked out by a formula, which may move it on: type the date")
        if not value.calculated:
            raise InputError("a formula that was never calculated: recalculate and save")
        value = value.result
    if isinstance(value, CellError):
        raise InputError(f"it holds the error {value}")
    if name == "until":
        return _day(value)
    if name == "most":
        return _ratio(value)
    text = "" if value is None else as_text(value)
    if is_not_known(text):
        return ""
    return _slug(text) if name == "rule" else text


def _day(value: Value) -> dt.date | None:
    if isinstance(value, dt.datetime):
        return value.date()
    if isinstance(value, str):
        return None if is_not_known(value) else read_day(value)
    raise InputError(f"{value} is not a date: write one such as 2026-12-31")


def _ratio(value: Value) -> float:
    if isinstance(value, bool) or not isinstance(value, str | float):
        raise InputError("the utilisation it holds up to is a number such as 85 %")
    ratio = read_ratio(value).value
    if not 0 < ratio <= 1:
        raise InputError(
            f"a waiver holds up to 100 % of use at most, and {as_text(value)} was found: write 85 %"
        )
    return ratio


def _slug(text: str) -> str:
    """A rule's name as typed, with hyphens."""
    return "-".join(text.lower().replace("-", " ").split())


def _missing(said: Mapping[str, Any], trouble: str) -> str:
    """The first thing that keeps a waiver from being used; empty where there is none."""
    if trouble:
        return trouble
    if not said.get("rule"):
        return "it names no rule: write one such as design-margin"
    if not said.get("item") and not said.get("lift"):
        return "it names no item and no lift: write the tag of one item, or the name of one lift"
    try:
        find(said["rule"])
    except InputError as error:
        return str(error)
    if not said.get("reason"):
        return "it gives no reason"
    if not NAME.search(said.get("who", "")):
        return "it does not say who waives it: write the name of the person who answers for it"
    if said.get("until") is None:
        return "it has no date until which it holds: write one such as 2026-12-31"
    return ""
