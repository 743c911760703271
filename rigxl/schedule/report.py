"""What was found, as plain data: for JSON, CSV and DataFrames. Forces in kN, ratios as ratios."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

import rigxl
from rigxl.checks.judge import Judged, reasons
from rigxl.checks.waivers import Standing
from rigxl.formulas.told import data
from rigxl.items import PASS, Finding, Waiver
from rigxl.schedule.check import Checked, CheckedRow

if TYPE_CHECKING:
    import pandas as pd

VERSION = 1
"""Of the document: it changes when a name goes or comes to mean something else, not when one is added."""
CAUTIONS = (
    "The maker's instructions, the local code and the judgement of a licensed engineer or a qualified rigger "
    "govern over this check.",
    "A verdict holds for what the row says: look at the piece itself before it is used.",
    "Nobody stands or passes under a suspended load.",
)


def _force(newtons: float | None) -> dict[str, Any] | None:
    return None if newtons is None else {"value": round(newtons / 1000, 9), "unit": "kN"}


def _ratio(value: float | None) -> dict[str, Any] | None:
    return None if value is None else {"value": round(value, 9), "unit": "1"}


def reason(finding: Finding) -> dict[str, Any]:
    """One reason as data; what is waived says by whom, until when and why."""
    said = {
        "rule": finding.rule.name,
        "outcome": finding.outcome.lower(),
        "sentence": finding.sentence,
        "remedy": finding.remedy,
        "source": finding.rule.source.cited,
    }
    return said if finding.waiver is None else {**said, "waiver": waiver(finding.waiver)}


def waiver(one: Waiver) -> dict[str, Any]:
    """One waiver as data, as it was written."""
    return {
        "sheet": one.sheet,
        "row": one.row,
        "rule": one.rule,
        "item": one.item or None,
        "lift": one.lift or None,
        "reason": one.reason,
        "who": one.who,
        "until": None if one.until is None else one.until.isoformat(),
        "utilisation up to": _ratio(one.most),
    }


def standing(one: Standing) -> dict[str, Any]:
    """One waiver with what became of it: its state, why it covers nothing, and the rows it covers."""
    rows = [{"sheet": row.sheet, "row": row.row, "item": row.name} for row in one.rows]
    return {**waiver(one.waiver), "state": one.state, "says": one.says, "covers": rows}


def covered(one: Standing) -> str:
    """The rows a waiver covers, or why it covers none."""
    return one.says or ", ".join(f"{row.name} ({row.sheet}, row {row.row})" for row in one.rows) or one.state


def row(checked: CheckedRow) -> dict[str, Any]:
    """One row as data."""
    judged = checked.judged
    return {
        "sheet": checked.sheet,
        "row": checked.row,
        "item": checked.name,
        "lift": judged.item.lift,
        "kind": judged.item.kind,
        "verdict": judged.verdict,
        "force": _force(judged.force),
        "derate": _ratio(judged.derate),
        "required": _force(judged.required),
        "rated": _force(judged.rated),
        "utilisation": _ratio(judged.utilisation),
        "weakest": checked.weakest,
        "hidden": checked.line.hidden,
        "reasons": [reason(finding) for finding in reasons(judged)],
        "second opinion": [remark.data() for remark in checked.remarks],
        "read": list(checked.line.notes),
    }


def workbook(checked: Checked, marked: str | None = None) -> dict[str, Any]:
    """One workbook as data."""
    return {
        "file": str(checked.book.path),
        "sha256": checked.book.sha256,
        "marked": marked,
        "counts": checked.counts,
        "said": checked.said,
        "sheets": [
            {"name": sheet.name, "role": sheet.role, "why": sheet.why} for sheet in checked.understood.sheets
        ],
        "left out": list(left_out(checked)),
        "criteria": [
            {
                "setting": one.name,
                "value": list(one.value) if isinstance(one.value, tuple) else str(one.value),
                "chosen by": one.chosen_by,
                "source": one.source.cited,
            }
            for one in checked.criteria
        ],
        "lifts": [
            {"lift": lift, "rows": len(members), "weakest": row_name(weakest(members))}
            for lift, members in checked.lifts.items()
        ],
        "waivers": [standing(one) for one in checked.waivers],
        "formulas": data(checked.formulas),
        "second opinion": checked.opinion.data(),
        "rows": [row(one) for one in checked.rows],
    }


def left_out(checked: Checked) -> Iterator[str]:
    """The rows of each table that were not taken for items, and why, in sentences."""
    for table in checked.understood.tables:
        by_reason: dict[str, list[int]] = {}
        for number, why in table.left_out.items():
            by_reason.setdefault(why, []).append(number)
        for why, numbers in by_reason.items():
            rows = (
                f"rows {', '.join(map(str, numbers))} were" if len(numbers) > 1 else f"row {numbers[0]} was"
            )
            yield f"{table.sheet}: {rows} left out: {why}"


def weakest(members: Iterable[CheckedRow]) -> CheckedRow | None:
    """The weakest item of a lift; None where no utilisation is known."""
    return next((one for one in members if one.weakest), None)


def row_name(one: CheckedRow | None) -> dict[str, Any] | None:
    """Where a row stands and what it is called."""
    return None if one is None else {"sheet": one.sheet, "row": one.row, "item": one.name}


def document(workbooks: Iterable[dict[str, Any]]) -> dict[str, Any]:
    """The whole of ``rigxl check --json``."""
    return {
        "report": "rigxl check",
        "version": VERSION,
        "rigxl": rigxl.__version__,
        "cautions": list(CAUTIONS),
        "workbooks": list(workbooks),
    }


COLUMNS = (
    "file", "sheet", "row", "lift", "item", "kind", "verdict", "force_kN", "derate", "required_kN",
    "rated_kN", "utilisation", "weakest", "hidden", "rules", "reasons", "what would pass", "waived",
)  # fmt: skip


def flat(checked: Checked) -> Iterator[tuple[Any, ...]]:
    """The rows as tuples under ``COLUMNS``."""
    for one in checked.rows:
        judged = one.judged
        yield (
            str(checked.book.path), one.sheet, one.row, judged.item.lift, one.name, judged.item.kind,
            judged.verdict, _thousandth(judged.force), judged.derate, _thousandth(judged.required),
            _thousandth(judged.rated),
            judged.utilisation, one.weakest, one.line.hidden, " ".join(one.rules),
            told(judged), remedies(judged), " ".join(one.waived),
        )  # fmt: skip


def _thousandth(newtons: float | None) -> float | None:
    return None if newtons is None else newtons / 1000


def frame(checked: Checked) -> pd.DataFrame:
    """The rows as a DataFrame under ``COLUMNS``."""
    import pandas as pd

    return pd.DataFrame(list(flat(checked)), columns=list(COLUMNS))


WHOSE_RATING = frozenset({"rating-from-table", "rating-by-makers-table"})
"""Notes that say which table a rating is from, or was held against."""


def told(judged: Judged) -> str:
    """The reasons of a row as people read them: what fails or holds it and advice; else how it stands."""
    lines, whose = [], []
    for one in reasons(judged):
        if one.outcome != "note":
            lines.append(f"{one.outcome}, {one.rule.name}: {one.sentence} [{one.rule.source.cited}]")
            if one.waiver is not None:
                lines.append(one.waiver.signed)
        elif one.rule.name in WHOSE_RATING:
            whose.append(one.sentence)
    lines += whose
    if judged.verdict == PASS:
        lines.append(f"{judged.utilisation:.0%} used, the design margin of {judged.margin:.0%} in hand")
    return "\n".join(lines)


def remedies(judged: Judged) -> str:
    """What would make a row pass, each remedy once."""
    return "\n".join(dict.fromkeys(finding.remedy for finding in reasons(judged) if finding.remedy))
