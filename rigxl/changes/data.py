"""What changed, as plain data: the whole of ``rigxl changes --json``."""

from __future__ import annotations

from typing import Any

import rigxl
from rigxl.changes.basis import Setting
from rigxl.changes.compare import Changed, Compared
from rigxl.changes.rows import Entry
from rigxl.schedule.check import Checked
from rigxl.schedule.report import CAUTIONS

VERSION = 1


def document(compared: Compared) -> dict[str, Any]:
    """Both versions, what changed between them, and what a person should be told."""
    return {
        "report": "rigxl changes",
        "version": VERSION,
        "rigxl": rigxl.__version__,
        "cautions": list(CAUTIONS),
        "old": _version(compared.old),
        "new": _version(compared.new),
        "nothing changed": compared.nothing,
        "said": compared.said,
        "changed": [_changed(one) for one in compared.changed],
        "added": [_alone(entry, compared) for entry in compared.added],
        "removed": [_alone(entry, compared) for entry in compared.removed],
        "criteria": list(map(_setting, compared.settings)),
        "waivers": list(map(_setting, compared.waivers)),
        "goods in": list(map(_setting, compared.goods)),
    }


def _setting(one: Setting) -> dict[str, str]:
    return {
        "setting": one.name,
        "old": one.old,
        "new": one.new,
        "old chosen by": one.old_by,
        "new chosen by": one.new_by,
    }


def _version(checked: Checked) -> dict[str, Any]:
    return {
        "file": str(checked.book.path),
        "sha256": checked.book.sha256,
        "rows": len(checked.rows),
        "counts": checked.counts,
        "judged by": checked.criteria.title,
        "judged on": checked.criteria.judged_on.isoformat(),
    }


def _changed(one: Changed) -> dict[str, Any]:
    return {
        "table": one.new.table,
        "item": one.new.name,
        "lift": lift_of(one.new),
        "kind": one.new.line.item.kind,
        "old": {"sheet": one.old.line.sheet, "row": one.old.line.row},
        "new": {"sheet": one.new.line.sheet, "row": one.new.line.row},
        "found by": one.pair.by,
        "doubt": one.pair.doubt,
        "inputs": [
            {
                "field": each.field,
                "old": each.old,
                "new": each.new,
                "old cell": each.old_cell,
                "new cell": each.new_cell,
            }
            for each in one.inputs
        ],
        "verdict": {
            "old": one.before,
            "new": one.after,
            "changed": one.verdict_changed,
            "old rules": list(one.old.checked.rules) if one.old.checked else [],
            "new rules": list(one.new.checked.rules) if one.new.checked else [],
            "because": [{"code": cause.code, "sentence": cause.sentence} for cause in one.causes],
        },
    }


def _alone(entry: Entry, compared: Compared) -> dict[str, Any]:
    like = compared.like(entry)
    return {
        "table": entry.table,
        "item": entry.name,
        "lift": lift_of(entry),
        "kind": entry.line.item.kind,
        "sheet": entry.line.sheet,
        "row": entry.line.row,
        "verdict": entry.verdict,
        "like": {"item": like.name, "sheet": like.line.sheet, "row": like.line.row} if like else None,
    }


def lift_of(entry: Entry) -> str | None:
    """The lift a row belongs to, as it is written."""
    return entry.line.item.lift
