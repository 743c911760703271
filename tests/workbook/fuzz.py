"""Change workbooks at random and see that nothing crashes, hangs or comes out unsound.

``python -m tests.workbook.fuzz --seconds 600`` runs for ten minutes in child processes and prints the seed
of every fault; ``--seed N`` repeats one.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from rigxl.errors import WorkbookError
from rigxl.workbook.book import mark_book
from rigxl.workbook.foreign import read_foreign, read_here
from rigxl.workbook.guard import Limits
from rigxl.workbook.sandbox import apart
from tests.workbook.inspection import proof
from tests.workbook.mutation import MEANING, SPELLING, Change, change_bytes, change_parts
from tests.workbook.trial import SUMMARY, marks_for

HERE = Path(__file__).parent
LIMITS = Limits(cells=200_000)
WAYS = ("spelling", "meaning", "bytes")
SEEDS_A_CHILD = 25


def sources() -> list[Path]:
    """The workbooks that changes start from: those that can be marked."""
    refused = {"signed.xlsx", "duplicate-entry.xlsx", "encrypted-ole2.xlsx"}
    return sorted(path for path in (HERE / "fixtures").glob("*.xls?") if path.name not in refused)


def foreign_sources() -> list[Path]:
    """Files of the kinds that are only read."""
    return sorted((HERE / "foreign").iterdir())


def verdict(source: Path, way: str, changes: Sequence[Change], folder: Path) -> str:
    """What is wrong after the changes; an empty text when all is well. A refusal is well, a crash never.

    Changes of spelling must not be noticed: the same is read, and the workbook is marked.
    """
    mutant, target = folder / f"mutant{source.suffix}", folder / f"marked{source.suffix}"
    data = source.read_bytes()
    if way == "bytes":
        mutant.write_bytes(change_bytes(data, changes))
    else:
        mutant.write_bytes(change_parts(data, changes, SPELLING if way == "spelling" else MEANING))
    target.unlink(missing_ok=True)
    try:
        if way == "spelling" and read_here(mutant, LIMITS).sheets != read_here(source, LIMITS).sheets:
            return "another spelling is read in another way"
        # half of the time with the marks of the sound workbook, so that the mutant is not read before
        marks = marks_for(read_here(mutant if changes[0].free % 2 else source, LIMITS))
        separate = mark_book(mutant, target, marks, [SUMMARY], limits=LIMITS).separate
    except WorkbookError as refusal:
        if target.exists():
            return f"refused ({refusal.code}) and left a file"
        return f"another spelling is refused: {refusal}" if way == "spelling" else ""
    if separate:
        return "another spelling gets a separate report" if way == "spelling" else ""
    return proof(mutant, target)


def foreign_verdict(source: Path, changes: Sequence[Change], folder: Path) -> str:
    """The same for a file that is only read, in a child of its own: its reader may die, we may not."""
    mutant = folder / f"mutant{source.suffix}"
    mutant.write_bytes(change_bytes(source.read_bytes(), changes))
    with suppress(WorkbookError):
        read_foreign(mutant, LIMITS)
    return ""


def drawn(dice: random.Random) -> tuple[Path, str, list[Change]]:
    """A file, a way and a few changes by chance."""
    way = dice.choice(WAYS)
    source = dice.choice(sources() if dice.random() < 0.9 or way != "bytes" else foreign_sources())
    changes = [
        Change(dice.randrange(1000), dice.random(), dice.random(), dice.randrange(1000))
        for _ in range(dice.choice((1, 1, 1, 2, 3, 6)))
    ]
    return source, way, changes


def one(seed: int) -> str:
    """The verdict on one seed, with what it was about."""
    source, way, changes = drawn(random.Random(seed))
    with tempfile.TemporaryDirectory() as folder:
        try:
            if source.parent.name == "foreign":
                wrong = foreign_verdict(source, changes, Path(folder))
            else:
                wrong = verdict(source, way, changes, Path(folder))
        except BaseException as failure:
            wrong = f"crash: {type(failure).__name__}: {failure}"
    return f"seed {seed}, {source.name}, {way}: {wrong}" if wrong else ""


def many(seeds: Sequence[int]) -> list[str]:
    """The faults among many seeds."""
    return [wrong for wrong in map(one, seeds) if wrong]


def main() -> int:
    """The command line."""
    from tests.workbook.fuzz import many as importable_many

    parser = argparse.ArgumentParser(prog="python -m tests.workbook.fuzz", description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, help="only this one, in this process")
    parser.add_argument(
        "--first", type=int, default=random.randrange(10**9), help="the first seed of the run"
    )
    given = parser.parse_args()
    if given.seed is not None:
        print(one(given.seed) or "all is well")
        return 0
    until = time.monotonic() + given.seconds
    seed, faulty = given.first, []
    while time.monotonic() < until:
        seeds = range(seed, seed + SEEDS_A_CHILD)
        try:
            found = apart(importable_many, 120, 2 * LIMITS.memory_bytes, seeds)
        except WorkbookError as refusal:
            found = [f"seeds from {seed}: {refusal}"]
        for wrong in found:
            print(wrong, flush=True)
        faulty += found
        seed += SEEDS_A_CHILD
    kinds = Counter(wrong.split(": ", 1)[1][:40] for wrong in faulty)
    print(f"{seed - given.first} files, {len(faulty)} faults", dict(kinds))
    return int(bool(faulty))


if __name__ == "__main__":
    sys.exit(main())
