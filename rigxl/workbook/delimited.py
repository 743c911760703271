"""Text with delimiters (.csv and its kin): find out how it was written, say so, and change nothing by guess.

A cell becomes a number only when it can be read in one way and writing it back gives the same text;
an error word becomes an error; all else stays the text it was.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import Budget
from rigxl.workbook.values import CellError, Plain, Row, Value

DELIMITERS = {";": "semicolons", "\t": "tabs", "|": "upright bars", ",": "commas"}
ERRORS = frozenset(
    {"#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!", "#GETTING_DATA", "#SPILL!", "#CALC!"}
)
SHIFTED = CellError("#COLUMNS!")
MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
POINTED = re.compile(r"-?(?:0|[1-9]\d{0,14})(?:\.\d{1,14})?")
COMMAED = re.compile(r"-?(?:0|[1-9]\d{0,14}),\d{1,14}")
GROUPED = re.compile(r"-?[1-9]\d{0,2}[.,]\d{3}")
NUMERIC = re.compile(r"[-+]?[\d.,]*\d[\d.,]*")
SAMPLE_ROWS = 200


class Delimited(NamedTuple):
    """The rows of a text, and sentences on how they were read."""

    rows: list[Row]
    warnings: list[str]


def read_delimited(data: bytes, budget: Budget) -> Delimited:
    """The rows of a delimited text.

    Args:
        data: The bytes of the file.
        budget: Counts the cells.

    Raises:
        WorkbookError: Not text, a quote that never closes, or too many cells.
    """
    text, warnings = _decoded(data)
    delimiter, declared, how = _delimiter(text)
    warnings.append(how)
    lines = list(_records(text, delimiter))
    if declared:
        lines[0] = []
    budget.spend(sum(map(len, lines)), "of text")
    with_comma, said = _decimal_comma(lines, delimiter)
    warnings += said
    shifted = set(_too_long(lines))
    rows = []
    for number, line in enumerate(lines, start=1):
        cells: dict[int, Value] = {
            column: SHIFTED if number in shifted else _value(raw, delimiter, with_comma)
            for column, raw in enumerate(line, start=1)
            if raw.strip()
        }
        if cells:
            rows.append(Row(number, cells))
    if shifted:
        some = ", ".join(map(str, sorted(shifted)[:10])) + (" and more" if len(shifted) > 10 else "")
        warnings.append(
            f"row {some} has more cells than the headings above it, so a delimiter stands inside a value "
            "that is not in quotes; no cell of such a row can be trusted"
        )
    return Delimited(rows, warnings)


def _decoded(data: bytes) -> tuple[str, list[str]]:
    """The text, and a sentence when its encoding is not the usual one."""
    for mark, encoding in MARKS:
        if data.startswith(mark):
            said = [] if encoding == "utf-8-sig" else ["the text was read as UTF-16"]
            try:
                return data.decode(encoding), said
            except UnicodeDecodeError:
                raise _not_text() from None
    if b"\0" in data:
        # half of the bytes of plain Latin text in UTF-16 are zero: the second of each pair, or the first
        for encoding, zeros in (("utf-16-le", data[1:2000:2]), ("utf-16-be", data[0:2000:2])):
            if len(data) % 2 == 0 and zeros.count(0) > 0.7 * len(zeros):
                try:
                    return data.decode(encoding), ["the text was read as UTF-16"]
                except UnicodeDecodeError:
                    break
        raise _not_text()
    try:
        return data.decode("utf-8"), []
    except UnicodeDecodeError:
        pass
    try:
        return data.decode("cp1252"), [
            "the text is not UTF-8 and was read as Windows-1252: look at accented letters, ° and ½"
        ]
    except UnicodeDecodeError:
        raise _not_text() from None


def _not_text() -> WorkbookError:
    return WorkbookError(
        "not-text",
        "the file is not plain text in UTF-8, UTF-16 or Windows-1252, so it cannot be read as a table",
    )


def _delimiter(text: str) -> tuple[str, bool, str]:
    """The delimiter, whether the first line declares it, and a sentence on it."""
    declared = re.match(r"sep=(.)\r?\n", text)
    if declared:
        mark = declared[1]
        return mark, True, f"the first line says that {DELIMITERS.get(mark, repr(mark))} part the columns"
    sample = "".join(io.StringIO(text, newline="").readlines()[:SAMPLE_ROWS])
    scores = {mark: _evenness(sample, mark) for mark in DELIMITERS}
    best = max(scores, key=lambda mark: scores[mark])
    if scores[best] == 0:
        return ",", False, "no delimiter was found, so each line was read as one cell"
    rivals = [DELIMITERS[mark] for mark in scores if mark != best and scores[mark] > 0.9 * scores[best]]
    also = f"; {rivals[0]} would fit nearly as well" if rivals else ""
    return best, False, f"the columns were read as parted by {DELIMITERS[best]}{also}"


def _evenness(sample: str, delimiter: str) -> float:
    """How large a share of the lines has the usual number of columns, if that is two or more."""
    widths = Counter(
        len(line) for line in csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter) if line
    )
    split = {width: count for width, count in widths.items() if width > 1}
    if not split:
        return 0.0
    return max(split.values()) / sum(widths.values())


def _records(text: str, delimiter: str) -> Iterator[list[str]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    done = 0
    try:
        for line in reader:
            yield line
            done += 1
    except csv.Error as fault:
        raise WorkbookError(
            "broken-text",
            f"row {done + 1} cannot be split into cells ({fault}); look at its quotation marks",
        ) from None


def _decimal_comma(lines: list[list[str]], delimiter: str) -> tuple[bool, list[str]]:
    """Whether 12,5 means twelve and a half in this file, and a sentence where that is of use."""
    if delimiter == ",":
        return False, []
    commas = points = 0
    for line in lines:
        for raw in line:
            cell = raw.strip()
            if GROUPED.fullmatch(cell):
                continue
            commas += COMMAED.fullmatch(cell) is not None
            points += "." in cell and POINTED.fullmatch(cell) is not None
    if commas and points:
        return False, [
            "numbers occur with a decimal comma and with a decimal point; those with a comma stay text"
        ]
    if commas:
        return True, ["12,5 was read as twelve and a half: the file uses the decimal comma"]
    return False, []


def _too_long(lines: list[list[str]]) -> Iterator[int]:
    """Rows (from 1) that hold more cells than the headings above them.

    A row of words alone, such as headings under a title, may widen the table; a row with numbers may not,
    because then a value such as 5,5 has been torn in two and stands under the wrong headings.
    """
    widest = 0
    for number, line in enumerate(lines, start=1):
        width = max((column for column, raw in enumerate(line, start=1) if raw.strip()), default=0)
        if width == 0:
            widest = 0
        elif width > widest > 1 and any(NUMERIC.fullmatch(raw.strip()) for raw in line):
            yield number
        else:
            widest = max(widest, len(line))


def _value(raw: str, delimiter: str, with_comma: bool) -> Plain:
    """What one cell means, where that is beyond doubt; otherwise its text."""
    cell = raw.strip()
    if cell.upper() in ERRORS:
        return CellError(cell.upper())
    if GROUPED.fullmatch(cell) and not (delimiter == "," and "." in cell):
        return raw
    if with_comma and COMMAED.fullmatch(cell):
        cell = cell.replace(",", ".")
    elif with_comma and "." in cell:
        return raw
    if POINTED.fullmatch(cell) and _same(cell):
        return float(cell)
    return raw


def _same(cell: str) -> bool:
    """True when the number, written again, is the text that was read."""
    number = float(cell)
    return (str(int(number)) if number.is_integer() else repr(number)) == cell
