"""A baseline: what failed or was held when it was written, so that only what is new fails a later run.

A finding is known by its workbook, lift, tag and rule, never by its row, so that rows may move. What has no
tag or serial number, or a mere line number, cannot be told from its neighbours and is new every time; so is a
finding that became another outcome, says something else, came to more rows than before, or an overload that
has grown. Figures and cells do not count in what a finding says.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

import rigxl
from rigxl.checks.judge import CAPACITY, MARGIN
from rigxl.checks.traceability import NAMES_A_PIECE, key
from rigxl.errors import InputError, WorkbookError
from rigxl.items import FAIL, HOLD
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.workbook.save import save

REPORT, VERSION = "rigxl baseline", 1
BY_NUMBERS = frozenset({CAPACITY.name, MARGIN.name})
"""Rules whose findings are worse, and new, when the utilisation has grown."""
ROUNDING = 1e-4
_CELL = re.compile(r"\b[A-Z]{1,3}[0-9]+\b")
_WORD = re.compile(r"[^\W\d_]+")


class Known(NamedTuple):
    """One finding of a baseline; ``used`` is the utilisation of each row it stood on, the highest first."""

    file: str
    lift: str
    item: str
    rule: str
    outcome: str
    used: tuple[float, ...] = ()
    says: tuple[str, ...] = ()
    """The words of what it says, for rules that are not of numbers."""

    @property
    def key(self) -> tuple[str, ...]:
        """What it is known by."""
        return self.file, key(self.lift), key(self.item), self.rule, self.outcome


class Found(NamedTuple):
    """One rule that fails or holds one row; ``known`` is None where nothing tells the row from others."""

    row: CheckedRow
    rule: str
    outcome: str
    known: Known | None


@dataclass
class Baseline:
    """A baseline as read from its file."""

    path: Path
    known: list[Known] = field(default_factory=list)


@dataclass
class Comparison:
    """What of one workbook is new, what was known, and what was known and is no longer found."""

    new: list[Found] = field(default_factory=list)
    known: list[Found] = field(default_factory=list)
    gone: list[Known] = field(default_factory=list)

    @cached_property
    def _new(self) -> frozenset[tuple[int, str, str]]:
        return frozenset((id(one.row), one.rule, one.outcome) for one in self.new)

    def is_new(self, row: CheckedRow, rule: str, outcome: str) -> bool:
        """Whether a finding of a row is not in the baseline."""
        return (id(row), rule, outcome) in self._new


def read(path: Path) -> Baseline:
    """A baseline from its file.

    Raises:
        InputError: There is no such file, or it holds no baseline.
    """
    try:
        said = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise InputError(f"there is no baseline {path}: write one with --write-baseline {path}") from None
    except (OSError, ValueError) as error:
        raise InputError(f"{path} cannot be read as a baseline: {error}") from None
    if not isinstance(said, dict) or said.get("report") != REPORT or said.get("version") != VERSION:
        raise InputError(
            f"{path} is no baseline of version {VERSION}: write one with --write-baseline {path}"
        )
    try:
        return Baseline(path, [_entry(one) for one in said["findings"]])
    except (KeyError, TypeError, ValueError) as error:
        raise InputError(
            f"{path}: a finding of the baseline is not whole ({error!r}): write it anew"
        ) from None


def _entry(said: Any) -> Known:
    texts = {name: said[name] for name in ("file", "lift", "item", "rule", "outcome")}
    if not all(isinstance(text, str) for text in texts.values()):
        raise TypeError("texts are wanted")
    says = tuple(said["says"])
    if not all(isinstance(text, str) for text in says):
        raise TypeError("texts are wanted")
    return Known(**texts, used=tuple(map(float, said["used"])), says=says)


def refuse_to_replace(path: Path) -> None:
    """Leave alone what stands where a baseline would be written and is none, such as a workbook.

    Raises:
        InputError: There is such a file.
    """
    try:
        text = path.read_bytes()
        is_one = not text or json.loads(text)["report"] == REPORT
    except FileNotFoundError:
        return
    except (OSError, ValueError, KeyError, TypeError):
        is_one = False
    if not is_one:
        raise InputError(f"{path} is there and is no baseline: name another file for it")


def write(path: Path, workbooks: Iterable[Checked]) -> tuple[int, int]:
    """Write what fails or is held in these workbooks; how many findings, and how many cannot be known again.

    Raises:
        WorkbookError: The file cannot be written.
    """
    entries: dict[tuple[str, ...], Known] = {}
    nameless = 0
    for checked in workbooks:
        for one in _found(checked, path):
            if one.known is None:
                nameless += 1
                continue
            _join(entries, one.known)
    document = {
        "report": REPORT,
        "version": VERSION,
        "rigxl": rigxl.__version__,
        "findings": [one._asdict() for one in sorted(entries.values(), key=lambda one: one.key)],
    }
    content = (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()
    _save(path, content)
    return len(entries), nameless


def compare(baseline: Baseline, checked: Checked) -> Comparison:
    """What of a workbook is new, known and gone."""
    there = {one.key: one for one in baseline.known if one.file == _name(checked, baseline.path)}
    found = list(_found(checked, baseline.path))
    here: dict[tuple[str, ...], Known] = {}
    for one in found:
        if one.known is not None:
            _join(here, one.known)
    covered = {name for name, now in here.items() if name in there and _covers(there[name], now)}
    comparison = Comparison()
    for one in found:
        is_known = one.known is not None and one.known.key in covered
        (comparison.known if is_known else comparison.new).append(one)
    comparison.gone = [one for name, one in there.items() if name not in here]
    return comparison


def _join(entries: dict[tuple[str, ...], Known], one: Known) -> None:
    """Take up one row's finding, with other rows of the same tag."""
    before = entries.get(one.key)
    used = one.used if before is None else (*before.used, *one.used)
    says = one.says if before is None else (*before.says, *one.says)
    entries[one.key] = one._replace(used=tuple(sorted(used, reverse=True)), says=tuple(sorted({*says})))


def _covers(before: Known, now: Known) -> bool:
    """Whether what was known takes in what is there now: nothing else, no more rows, no overload grown."""
    if len(now.used) > len(before.used) or not set(now.says) <= set(before.says):
        return False
    pairs = zip(now.used, before.used, strict=False)
    return now.rule not in BY_NUMBERS or all(less <= more + ROUNDING for less, more in pairs)


def _found(checked: Checked, baseline: Path) -> Iterator[Found]:
    """Every rule that fails or holds a row, once a row."""
    file = _name(checked, baseline)
    for row in checked.rows:
        item, used = row.judged.item, row.judged.utilisation
        name = item.tag if item.tag and NAMES_A_PIECE.match(item.tag) else item.serial
        said: dict[tuple[str, str], dict[str, None]] = {}
        for one in row.judged.findings:
            if one.outcome in (FAIL, HOLD):
                words = {} if one.rule.name in BY_NUMBERS else {_words(row, one.sentence): None}
                said.setdefault((one.rule.name, one.outcome), {}).update(words)
        for (rule, outcome), says in said.items():
            known = Known(
                file, item.lift or "", name or "", rule, outcome, (round(used or 0, 6),), tuple(sorted(says))
            )
            yield Found(row, rule, outcome, known if name else None)


def _words(row: CheckedRow, sentence: str) -> str:
    """A sentence without figures and cells, which change when nothing else does."""
    return " ".join(_WORD.findall(_CELL.sub("", sentence.replace(f"{row.sheet}!", ""))))


def _save(path: Path, content: bytes) -> None:
    def put(file: BinaryIO) -> None:
        file.write(content)

    def prove(written: Path) -> None:
        if written.read_bytes() != content:
            raise WorkbookError("cannot-save", f"{path} is not what was to be written")

    save(path, put, prove)


def _name(checked: Checked, baseline: Path) -> str:
    """A workbook as the baseline names it: from the folder that the baseline is in."""
    try:
        name = os.path.relpath(checked.book.path, baseline.parent)
    except ValueError:  # another drive
        name = str(checked.book.path.absolute())
    return Path(name).as_posix()
