"""What one stored cell means: its type, its style and the workbook's evidence made one true value."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Sequence
from typing import TypeAlias

from rigxl.errors import WorkbookError
from rigxl.workbook import dates, splice, strings
from rigxl.workbook.dates import Shows
from rigxl.workbook.dressing import dressing
from rigxl.workbook.guard import shown
from rigxl.workbook.package import Workbook, truth
from rigxl.workbook.shared import Told
from rigxl.workbook.splice import Element
from rigxl.workbook.values import CellError, Dressed, Formula, Plain

Reading: TypeAlias = Callable[[bytes], Plain]
_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")
_BOOLEANS: dict[str, bool] = {"1": True, "true": True, "0": False, "-0": False, "false": False}
_CALCULATING = ("libreoffice", "openoffice", "collabora", "onlyoffice", "wps", "gnumeric")


class Typing:
    """Gives the cells of one workbook their types."""

    def __init__(
        self,
        shared: Sequence[str],
        looks: Sequence[Shows],
        date_1904: bool,
        zero_is_placeholder: bool,
        dressings: Sequence[str] = (),
    ):
        self.shared = [text or None for text in shared]
        self.looks = looks
        self.dressings = dressings
        self.date_1904 = date_1904
        self.zero_is_placeholder = zero_is_placeholder
        self.zeros = self.others = 0
        """How many formulas store a 0, and how many any other result."""
        self._by_index = {b"%d" % at: text for at, text in enumerate(self.shared)}

    def plain(self, kind: str, style: str, text: str) -> Plain:
        """The value in a cell without a formula.

        Args:
            kind: Its type attribute; empty when it has none.
            style: Its style attribute.
            text: What is stored, escapes undone by the parser only.

        Raises ValueError, with what is wrong, for what no spreadsheet program would open.
        """
        if kind in ("str", "inlineStr"):
            return strings.unescaped(text)
        bare = text.strip(" \t\r\n")
        if not bare:
            return None
        if kind == "s":
            at = splice.whole(bare, len(self.shared))
            if at < len(self.shared):
                return self.shared[at]
            raise ValueError(f"points at the text {shown(bare)}, which the file does not hold")
        if kind == "e":
            return CellError(bare)
        if kind == "b":
            if bare in _BOOLEANS:
                return _BOOLEANS[bare]
            raise ValueError(f"holds {shown(bare)} where only yes or no can stand")
        if kind == "d":
            moment = dates.written_moment(bare)
            if moment is not None:
                return moment
            raise ValueError(f"holds {shown(bare)} where only a date can stand")
        if kind not in ("", "n"):
            raise ValueError(f"is of the unknown type {shown(kind)}")
        if not _NUMBER.fullmatch(bare):
            raise ValueError(f"holds {shown(bare)} where only a number can stand")
        number = float(bare)
        if number in (float("inf"), float("-inf")):
            raise ValueError(f"holds {shown(bare)}, larger than a spreadsheet can count")
        look = self.look(style)
        if look is not Shows.NUMBER:
            return dates.moment(number, look, self.date_1904)
        text = self.dressing(style)
        return Dressed(number, text) if text else number

    def look(self, style: str) -> Shows:
        """What a style makes of a number; a style that does not exist changes nothing."""
        at = splice.whole(style or "0", len(self.looks))
        return self.looks[at] if at < len(self.looks) else Shows.NUMBER

    def dressing(self, style: str) -> str:
        """The text a style shows behind a number."""
        at = splice.whole(style or "0", len(self.dressings))
        return self.dressings[at] if at < len(self.dressings) else ""

    def formula(self, told: Told, kind: str, result: Plain, stored: bool) -> Formula:
        """A formula with its result.

        Args:
            told: What the file says of the formula.
            kind: The type attribute of the cell.
            result: The typed result.
            stored: Is there an element for the result at all?
        """
        calculated = stored and (result is not None or kind in ("str", "s"))
        if calculated and kind in ("", "n") and _is_zero(result):
            self.zeros += 1
            calculated = not self.zero_is_placeholder
        elif calculated:
            self.others += 1
        if result is None and calculated:
            result = ""
        return Formula("=" + told.text if told.text else "", result, calculated, told.moved, told.fills)

    def quick(self, kind: bytes, style: bytes, careful: bool) -> Reading:
        """The fastest function from stored bytes to the value, for cells of one type and style.

        It raises ValueError or KeyError for anything out of the ordinary; the caller then asks ``plain``.

        Args:
            kind: The type attribute.
            style: The style attribute.
            careful: Look at each number; otherwise the caller makes sure that they have only digits.
        """
        if kind == b"s":
            return self._by_index.__getitem__
        if kind in (b"", b"n") and not careful and self.look(style.decode()) is Shows.NUMBER:
            text = self.dressing(style.decode())
            return (lambda raw: Dressed(float(raw), text)) if text else float
        if kind in (b"str", b"inlineStr"):
            return strings.from_xml
        if kind in (b"", b"n") and not careful:
            shown = self.look(style.decode())
            return lambda raw: dates.moment(float(raw), shown, self.date_1904)
        name, look = kind.decode(), style.decode()
        return lambda raw: self.plain(name, look, strings.from_xml(raw))


def _is_zero(result: Plain) -> bool:
    """A stored 0, also one that its format shows as midnight or as the first day."""
    return (
        result == 0
        or (isinstance(result, dt.time) and result == dt.time())
        or (isinstance(result, dt.datetime) and result == dt.datetime(1904, 1, 1))
    )


def typing_of(workbook: Workbook) -> Typing:
    """The typing of a workbook, from its strings, its styles and what it says of its calculation."""
    package = workbook.package
    part = workbook.own("sharedStrings")
    shared = strings.read_shared(package.text(part).text, part) if part else []
    part = workbook.own("styles")
    formats = read_formats(package.tree(part)) if part else []
    return Typing(
        shared,
        [dates.shows(number, code) for number, code in formats],
        workbook.date_1904,
        zero_is_placeholder(workbook),
        [dressing(code) for _, code in formats],
    )


def read_formats(styles: Element) -> list[tuple[int, str | None]]:
    """The number format of each cell style of a styles part: its number, and its code where it is given."""
    listed, formats = styles.find("numFmts"), styles.find("cellXfs")
    codes = {
        element.attributes.get("numFmtId", ""): element.attributes.get("formatCode")
        for element in (listed.all("numFmt") if listed else [])
    }
    found = []
    for element in formats.all("xf") if formats else []:
        number = element.attributes.get("numFmtId", "0")
        found.append((splice.whole(number), codes.get(number)))
    return found


def zero_is_placeholder(workbook: Workbook) -> bool:
    """Must a stored formula result of 0 be taken for never calculated?

    Programs that only write files store 0 for every formula and ask for a calculation on opening
    (``fullCalcOnLoad``). A program that calculates does not ask: it keeps a calculation chain, or gives
    its name. So 0 is a placeholder where the file asks, holds no chain and names no such program.
    """
    return asks_for_calculation(workbook) and not shows_calculation(workbook)


def shows_calculation(workbook: Workbook) -> bool:
    """Does the file hold evidence that a spreadsheet program calculated it?"""
    return bool(workbook.own("calcChain")) or _names_a_calculator(workbook)


def asks_for_calculation(workbook: Workbook) -> bool:
    """Does the workbook ask to be calculated when it is opened?"""
    element = workbook.tree.find("calcPr")
    return element is not None and truth(element.attributes.get("fullCalcOnLoad"))


def _names_a_calculator(workbook: Workbook) -> bool:
    for part in workbook.package.related("", "extended-properties"):
        try:
            application = workbook.package.tree(part).find("Application")
        except WorkbookError as error:
            if error.code == "damaged":
                return False
            raise
        return application is not None and application.text.strip().lower().startswith(_CALCULATING)
    return False
