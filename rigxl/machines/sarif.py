"""Findings as SARIF 2.1.0 (OASIS Standard, with errata 01 of 2023).

One result for each finding that fails, holds or advises, or is waived. What fails and what is held are both
errors, for neither may be lifted; what is waived is suppressed, with who accepted it; a workbook that could
not be read is an error of the run. A region's line is the row of the sheet that the logical location names.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

import rigxl
from rigxl.checks.traceability import key
from rigxl.checks.waivers import Standing
from rigxl.items import ADVICE, FAIL, HOLD, WAIVED, Finding, Rule
from rigxl.machines.outcome import STORED, Done, Run
from rigxl.rules import gathered
from rigxl.schedule.check import CheckedRow
from rigxl.schedule.report import left_out

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
LEVELS = {FAIL: "error", HOLD: "error", WAIVED: "error", ADVICE: "note"}
FINGERPRINT = "workbookLiftTagRule/v1"


def log(run: Run) -> dict[str, Any]:
    """A whole run as a SARIF log."""
    rules: dict[str, Rule] = {}
    results = [one for done in run.done for one in _results(done, rules)]
    places = {name: place for place, name in enumerate(rules)}
    for result in results:
        result["ruleIndex"] = places[result["ruleId"]]
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "rigxl",
                        "version": rigxl.__version__,
                        "rules": [_rule(one) for one in rules.values()],
                    }
                },
                "invocations": [
                    {
                        "executionSuccessful": run.exit_code != 2,
                        "exitCode": run.exit_code,
                        "toolExecutionNotifications": list(_notifications(run)),
                    }
                ],
                "artifacts": [
                    {
                        "location": {"uri": uri(done.checked.book.path)},
                        "hashes": {"sha-256": done.checked.book.sha256},
                    }
                    for done in run.done
                ],
                "results": results,
            }
        ],
    }


def uri(path: Path) -> str:
    """A path as a URI reference: as given where it is relative.

    >>> uri(Path("lifts/north end.xlsx"))
    'lifts/north%20end.xlsx'
    """
    return path.as_uri() if path.is_absolute() else quote(path.as_posix())


def _rule(rule: Rule) -> dict[str, Any]:
    return {
        "id": rule.name,
        "shortDescription": {"text": rule.meaning},
        "help": {"text": f"{rule.meaning} Source: {rule.source.cited}. Waiver: {rule.waiver}."},
    }


def _results(done: Done, rules: dict[str, Rule]) -> Iterator[dict[str, Any]]:
    for row in done.checked.rows:
        for finding in row.judged.findings:
            if finding.outcome in LEVELS:
                rules.setdefault(finding.rule.name, finding.rule)
                yield _result(done, row, finding)
    for standing in done.checked.waivers:
        if standing.finding is not None:
            rules.setdefault(standing.finding.rule.name, standing.finding.rule)
            yield _of_waiver(done, standing, standing.finding)
    for cell in done.stale:
        rules.setdefault(STORED.name, STORED)
        yield {
            "ruleId": STORED.name,
            "level": "error",
            "message": {"text": f"{cell.sentence}."},
            "locations": [_location(done, cell.where.sheet, cell.where.row, cell.where.address)],
        }
    if done.against is not None:
        for gone in done.against.gone:
            rule, _ = gathered().get(gone.rule, (None, ()))
            if rule is not None:
                rules.setdefault(rule.name, rule)
                yield {
                    "ruleId": gone.rule,
                    "level": "note",
                    "baselineState": "absent",
                    "message": {"text": f"{gone.item} of {gone.lift or 'no lift'}: no longer found"},
                    "locations": [_location(done, "", 0, gone.item)],
                }


def _result(done: Done, row: CheckedRow, finding: Finding) -> dict[str, Any]:
    remedy = f" What would pass: {finding.remedy}." if finding.remedy else ""
    said: dict[str, Any] = {
        "ruleId": finding.rule.name,
        "level": LEVELS[finding.outcome],
        "message": {"text": f"{row.name}: {finding.sentence}.{remedy}"},
        "locations": [_location(done, row.sheet, row.row, row.name)],
        "partialFingerprints": {FINGERPRINT: _fingerprint(done, row, finding)},
        "properties": {"outcome": finding.outcome.lower(), "verdict": row.verdict},
    }
    if done.against is not None and finding.outcome in (FAIL, HOLD):
        is_new = done.against.is_new(row, finding.rule.name, finding.outcome)
        said["baselineState"] = "new" if is_new else "unchanged"
    if finding.waiver is not None:
        said["suppressions"] = [
            {"kind": "external", "status": "accepted", "justification": finding.waiver.signed}
        ]
    return said


def _of_waiver(done: Done, standing: Standing, finding: Finding) -> dict[str, Any]:
    waiver = standing.waiver
    return {
        "ruleId": finding.rule.name,
        "level": "warning",
        "message": {"text": f"{finding.sentence}."},
        "locations": [_location(done, waiver.sheet, waiver.row, waiver.item or waiver.lift)],
    }


def _location(done: Done, sheet: str, row: int, name: str) -> dict[str, Any]:
    place: dict[str, Any] = {"artifactLocation": {"uri": uri(done.checked.book.path)}}
    logical: dict[str, Any] = {"name": name or sheet, "kind": "row"}
    if row:
        place["region"] = {"startLine": row}
        logical["fullyQualifiedName"] = f"{sheet}!{row}"
    return {"physicalLocation": place, "logicalLocations": [logical]}


def _file(path: Path) -> dict[str, Any]:
    return {"physicalLocation": {"artifactLocation": {"uri": uri(path)}}}


def _fingerprint(done: Done, row: CheckedRow, finding: Finding) -> str:
    """The same for a rule on a tag of a lift, wherever its row stands; by the row where it has no tag."""
    item = row.judged.item
    name = key(item.tag or item.serial) or f"{row.sheet}!{row.row}"
    said = "\n".join((done.checked.book.path.name, key(item.lift), name, finding.rule.name))
    return hashlib.sha256(said.encode()).hexdigest()


def _notifications(run: Run) -> Iterator[dict[str, Any]]:
    """Workbooks that were refused, and what is to be said of those that were checked."""
    for refused in run.refused:
        yield {
            "level": "error",
            "message": {"text": f"{refused.file}: {refused.sentence}"},
            "descriptor": {"id": refused.code},
            "locations": [_file(refused.file)],
        }
    for done in run.done:
        for said in (*left_out(done.checked), *done.checked.said):
            yield {
                "level": "note",
                "message": {"text": said},
                "locations": [_file(done.checked.book.path)],
            }
