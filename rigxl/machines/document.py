"""The whole of ``rigxl check --json``, whose schema lies beside this file as ``check.schema.json``."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files
from typing import Any

from rigxl.machines.baseline import Comparison, Found, Known
from rigxl.machines.outcome import Done, Refusal, Run
from rigxl.schedule import report


def document(run: Run) -> dict[str, Any]:
    """A run as data: exit code, workbooks that were refused, and each that was checked."""
    refused = [_refused(one) for one in run.refused]
    checked = report.document(_workbook(done) for done in run.done)
    return {**checked, "exit code": run.exit_code, "refused": refused}


def schema() -> str:
    """The JSON Schema (draft 2020-12) of the document, as text."""
    return files("rigxl.machines").joinpath("check.schema.json").read_text(encoding="utf-8")


def _workbook(done: Done) -> dict[str, Any]:
    against = None if done.against is None else _comparison(done.against)
    return {**report.workbook(done.checked, done.marked), "baseline": against}


def _refused(one: Refusal) -> dict[str, str]:
    return {"file": str(one.file), "code": one.code, "sentence": one.sentence}


def _comparison(one: Comparison) -> dict[str, Any]:
    return {"new": _found(one.new), "known": _found(one.known), "gone": [_known(known) for known in one.gone]}


def _found(findings: Sequence[Found]) -> list[dict[str, Any]]:
    return [
        {
            "sheet": one.row.sheet,
            "row": one.row.row,
            "item": one.row.name,
            "rule": one.rule,
            "outcome": one.outcome.lower(),
        }
        for one in findings
    ]


def _known(one: Known) -> dict[str, Any]:
    return {"lift": one.lift or None, "item": one.item, "rule": one.rule, "outcome": one.outcome.lower()}
