"""What one run of ``rigxl check`` came to: the workbooks checked, those refused, and the exit code."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from rigxl.errors import RigxlError, WorkbookError
from rigxl.formulas.compare import Doubtful
from rigxl.items import FAIL, HOLD, Finding, Rule
from rigxl.machines.baseline import Baseline, Comparison, compare
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.tables import COMMON_PRACTICE

STORED = Rule(
    "stored-result",
    "A cell that calls a function of rigxl stores what the function gives.",
    COMMON_PRACTICE,
)
"""What is said of cells, not of rows; never in a baseline, for recalculating settles it."""


@dataclass(frozen=True)
class Refusal:
    """A workbook that could not be checked or marked, and why."""

    file: Path
    code: str
    sentence: str

    @classmethod
    def of(cls, file: Path, error: RigxlError) -> Refusal:
        """From what was raised."""
        return cls(file, error.code if isinstance(error, WorkbookError) else "not-understood", str(error))


@dataclass
class Done:
    """A workbook that was checked, where its marked copy went, and how it compares with the baseline."""

    checked: Checked
    marked: str | None = None
    against: Comparison | None = None

    @property
    def passes(self) -> bool:
        """Whether every row passes, is waived, or has nothing against it but what the baseline knows."""
        if self.against is None:
            return self.checked.all_settled
        settled = not self.against.new and all(map(self._is_settled, self.checked.rows))
        return settled and self.checked.formulas.sound

    @property
    def stale(self) -> list[Doubtful]:
        """The cells whose stored results must not be used."""
        return [one for one in self.checked.formulas.doubtful if one.kind != "refused"]

    def _is_settled(self, row: CheckedRow) -> bool:
        return row.verdict not in (FAIL, HOLD) or bool(row.rules)


@dataclass
class Run:
    """Everything that was asked for, in order."""

    done: list[Done] = field(default_factory=list)
    refused: list[Refusal] = field(default_factory=list)
    baseline: Baseline | None = None

    def add(self, checked: Checked, marked: str | None) -> Done:
        """Take up one workbook."""
        against = compare(self.baseline, checked) if self.baseline else None
        self.done.append(Done(checked, marked, against))
        return self.done[-1]

    def refuse_without_rows(self, named: Container[Path]) -> None:
        """Say of workbooks that were asked for by name that they hold no schedule; of all where none does."""
        some = any(one.checked.rows for one in self.done)
        for one in self.done:
            path = one.checked.book.path
            if not one.checked.rows and (path in named or not some):
                sentence = f"no row of a rigging schedule was found ('rigxl columns {path.name}' shows why)"
                self.refused.append(Refusal(path, "no-schedule", sentence))

    @property
    def exit_code(self) -> int:
        """0: every row passes, is waived or is known. 1: something fails or is held. 2: it could not run."""
        with_rows = [one for one in self.done if one.checked.rows]
        if self.refused or not with_rows:
            return 2
        return 0 if all(one.passes for one in with_rows) else 1


def open_findings(row: CheckedRow) -> Iterator[Finding]:
    """What fails or holds a row."""
    return (one for one in row.judged.findings if one.outcome in (FAIL, HOLD))
