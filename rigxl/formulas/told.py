"""What came of the formulas of ours in a workbook, in sentences and as data."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Any

from rigxl.errors import CellError
from rigxl.formulas.compare import Compared, Doubtful
from rigxl.workbook.values import Formula, Value, cell_name


def headline(compared: Compared) -> str:
    """How many cells there are and how many store what they should; empty where there are none."""
    if not compared.looked_at:
        return ""
    cells = "1 cell" if compared.looked_at == 1 else f"{compared.looked_at} cells"
    said = f"rigxl's functions: {cells} worked out again, {compared.agree} as stored"
    if compared.relying:
        said += f", of which {compared.relying} rely on stored results that were not worked out"
    return said


def sentences(compared: Compared) -> Iterator[str]:
    """The headline, and each cell that does not store what it should."""
    said = headline(compared)
    if said:
        yield said
    for one in compared.doubtful:
        yield one.sentence


def data(compared: Compared) -> dict[str, Any]:
    """All of it as plain data."""
    return {
        "cells": compared.looked_at,
        "as stored": compared.agree,
        "relying on stored results": compared.relying,
        "findings": [_finding(one) for one in compared.doubtful],
    }


def _finding(one: Doubtful) -> dict[str, Any]:
    value = one.stored
    stored = _plain(value.result if isinstance(value, Formula) else value)
    return {
        "sheet": one.where.sheet,
        "cell": cell_name(one.where.row, one.where.column),
        "finding": one.kind,
        "sentence": one.sentence,
        "formula": value.text if isinstance(value, Formula) else "",
        "stored": stored,
        "worked out": _plain(one.worked),
    }


def _plain(value: Value) -> Any:
    """A value for JSON: an error as an object, so that none passes for a text."""
    if isinstance(value, CellError):
        return {"error": str(value)}
    return value.isoformat() if isinstance(value, dt.datetime | dt.time) else value
