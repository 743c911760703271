"""Mark every workbook of a folder and tell what came of it: ``python -m tests.corpus FOLDER``.

Each workbook is marked, and then compared with its original, in child processes of their own with limits
of time and memory, so that one bad file cannot end the run. Lock files (``~$``) are passed over. The exit
code is 0 when nothing crashed, hung or was harmed, otherwise 1.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import Limits
from rigxl.workbook.sandbox import apart
from tests.workbook.inspection import faults
from tests.workbook.trial import Trial, attempt

KINDS = frozenset({".xlsx", ".xlsm", ".xltx", ".xltm"})
OUTCOMES = ("entries", "lost", "structure", "read")
PLAIN = {
    "entries": "entries changed that should not be",
    "lost": "features lost",
    "structure": "element order and count faults",
    "read": "read differently by openpyxl or calamine",
}
BROKEN = frozenset({"crash", "reader-broke", "too-slow", "too-much-memory"})


def workbooks(folder: Path) -> list[Path]:
    """The workbooks of a folder and those below it, in order."""
    return sorted(
        path
        for path in folder.rglob("*")
        if path.suffix.lower() in KINDS and not path.name.startswith("~$") and path.is_file()
    )


def examine_one(source: Path, seconds: float) -> dict[str, Any]:
    """What came of one workbook, as a record for one line of JSON."""
    limits = Limits(seconds=seconds)
    record: dict[str, Any] = {"path": str(source), "bytes": source.stat().st_size}
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / f"marked{source.suffix.lower()}"
        try:
            trial = apart(attempt, seconds, limits.memory_bytes, source, target, limits)
        except WorkbookError as refusal:
            trial = Trial(source.name, refusal.code, refusal.sentence)
        record |= {"marked": trial.marked, "code": trial.code, "sentence": trial.sentence}
        record["warnings"] = list(trial.warnings)
        record["untouched"] = trial.untouched
        if trial.marked:
            try:
                found = apart(faults, 4 * seconds, 2 * limits.memory_bytes, source, target)
                record |= found._asdict()
            except WorkbookError as refusal:
                record["unproven"] = refusal.sentence
    return record


def run(folder: Path, seconds: float) -> Iterator[dict[str, Any]]:
    """The records of all workbooks of a folder, two at a time."""
    with ThreadPoolExecutor(2) as pool:
        yield from pool.map(lambda source: examine_one(source, seconds), workbooks(folder))


def summary(records: Sequence[dict[str, Any]]) -> list[str]:
    """The lines for people."""
    marked = sum(record["marked"] for record in records)
    share = f" ({marked / len(records):.1%})" if records else ""
    lines = [f"workbooks: {len(records)}", f"marked: {marked}{share}"]
    refused = Counter(record["code"] for record in records if record["code"])
    lines += [f"refused, {code}: {count}" for code, count in refused.most_common()]
    for kind in OUTCOMES:
        harmed = [record for record in records if record.get(kind)]
        lines.append(f"{PLAIN[kind]}: {len(harmed)}")
        lines += [f"  {record['path']}: {record[kind][0]}" for record in harmed]
    lines.append(f"originals touched: {sum(not record['untouched'] for record in records)}")
    unproven = [record for record in records if record.get("unproven")]
    lines.append(f"marked but not compared: {len(unproven)}")
    lines += [f"  {record['path']}: {record['unproven']}" for record in unproven]
    broken = [record for record in records if record["code"] in BROKEN]
    lines.append(f"crashed, hung or out of memory: {len(broken)}")
    lines += [f"  {record['path']}: {record['sentence']}" for record in broken]
    return lines


def harmed(records: Sequence[dict[str, Any]]) -> bool:
    """Did anything happen that must not?"""
    return any(
        record["code"] in BROKEN or not record["untouched"] or any(record.get(kind) for kind in OUTCOMES)
        for record in records
    )


def main(arguments: Sequence[str] | None = None) -> int:
    """The command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.corpus", description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=30.0, help="time limit for each workbook")
    parser.add_argument("--json", type=Path, help="write one line of JSON for each workbook to this file")
    given = parser.parse_args(arguments)
    records = []
    with open(given.json, "w", encoding="utf-8") if given.json else tempfile.TemporaryFile("w") as lines:
        for record in run(given.folder, given.seconds):
            records.append(record)
            print(json.dumps(record, default=str), file=lines, flush=True)
    print("\n".join(summary(records)))
    return int(harmed(records))


if __name__ == "__main__":
    sys.exit(main())
