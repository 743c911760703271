"""Mark a workbook in place again and again, each time in a fork that is killed at another moment. POSIX only.

The moments are of two kinds: at the Nth call that touches a file (open, rename, remove, change mode; a hook
of the interpreter sees them all), and after so many thousandths of the time that marking takes.
"""

from __future__ import annotations

import hashlib
import os
import signal
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple

from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.guard import Limits
from tests.workbook.trial import SUMMARY, marks_for

FILE_EVENTS = frozenset(
    {"open", "os.rename", "os.remove", "os.chmod", "os.truncate", "shutil.copyfile", "os.link"}
)


class Remains(NamedTuple):
    """What was left after one kill."""

    moment: str
    finished: bool
    file: str
    backups: tuple[str, ...]


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def kill_at_many_moments(source: Path, folder: Path, times: int) -> tuple[str, str, list[Remains]]:
    """The digests of the file before and after marking, and what each kill left behind."""
    path = folder / f"lift{source.suffix}"
    path.write_bytes(source.read_bytes())
    before = digest(path)
    marks = marks_for(read_book(path))

    def work() -> None:
        mark_book(path, path, marks, [SUMMARY], limits=Limits(), in_place=True)

    started = time.monotonic()
    _fork(work)
    taken = time.monotonic() - started
    after = digest(path)
    remains = []
    number = 0
    while not remains or not remains[-1].finished:
        number += 1
        _renew(folder, path, source)
        finished = _fork(partial(_until_event, work, number))
        remains.append(_remains(f"event {number}", finished, folder, path))
    for part in range(times):
        _renew(folder, path, source)
        wait = taken * (part + 1) / times
        finished = _fork(work, wait)
        remains.append(_remains(f"after {wait:.4f} s", finished, folder, path))
    return before, after, remains


def _fork(work: Callable[[], None], patience: float | None = None) -> bool:
    """Do the work in a fork, which is killed after so many seconds; True when it came to its end."""
    child = os.fork()
    if child == 0:
        try:
            work()
            os._exit(0)
        finally:
            os._exit(1)
    if patience is not None:
        time.sleep(patience)
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status) != 0:
        raise RuntimeError("marking failed without being killed")
    return os.WIFEXITED(status)


def _until_event(work: Callable[[], None], number: int) -> None:
    """Work, and kill this very process at the given call that touches a file."""
    left = number

    def hook(event: str, _: tuple[object, ...]) -> None:
        nonlocal left
        if event in FILE_EVENTS:
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(hook)
    work()


def _renew(folder: Path, path: Path, source: Path) -> None:
    for other in folder.iterdir():
        other.unlink()
    path.write_bytes(source.read_bytes())


def _remains(moment: str, finished: bool, folder: Path, path: Path) -> Remains:
    backups = tuple(
        digest(other) for other in folder.iterdir() if ".backup" in other.name and other.suffix != ".part"
    )
    return Remains(moment, finished, digest(path), backups)
