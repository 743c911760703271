"""Run something in a child process that may die, hang or eat memory without harm to us.

Files come from anywhere, and some readers end the whole process on a hostile one. The child is a fresh
Python that runs one function under a limit of time and, where the system offers it, of memory. Windows
has no such memory limit: there only the time is limited.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, ParamSpec, TypeVar

from rigxl.errors import RigxlError, WorkbookError

if TYPE_CHECKING:
    from rigxl.workbook.book import Book
    from rigxl.workbook.guard import Limits

Given = ParamSpec("Given")
Answer = TypeVar("Answer")

CHILD = "from rigxl.workbook.sandbox import _serve; _serve()"
HOME = Path(__file__).parents[2]
MEBIBYTE = 1024 * 1024


def apart(
    function: Callable[Given, Answer],
    seconds: float,
    memory_bytes: int,
    *args: Given.args,
    **words: Given.kwargs,
) -> Answer:
    """What a function answers when run in a child process.

    Args:
        function: Any function that can be imported by name.
        seconds: After so long the child is killed.
        memory_bytes: Memory the child may take; not enforced on Windows.
        args: Passed on, as are the named ones.

    Raises:
        WorkbookError: The child was too slow (``too-slow``), wanted too much memory (``too-much-memory``) or
            broke down (``reader-broke``). What rigxl itself refuses in the child is raised here as it was.
    """
    places = os.pathsep.join([*filter(None, sys.path), str(HOME)])
    with subprocess.Popen(
        [sys.executable, "-P", "-c", CHILD, str(memory_bytes)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": places},
        creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
    ) as child:
        try:
            said, _ = child.communicate(pickle.dumps((function, args, words)), timeout=seconds)
        except BaseException as stop:
            child.kill()
            if isinstance(stop, subprocess.TimeoutExpired):
                raise _refusal("too-slow", f"could not be read within {seconds:g} s") from None
            raise
    if child.returncode != 0:
        raise _refusal("reader-broke", f"made the reader break down (it ended with {child.returncode})")
    outcome: Callable[[], Answer] = pickle.loads(said)
    return outcome()


def read_apart(path: Path, limits: Limits) -> Book:
    """A workbook of any kind, read in a child process within the limits of time and memory."""
    from rigxl.workbook.foreign import read_here

    return apart(read_here, limits.seconds, limits.memory_bytes, path, limits)


class _Answered(NamedTuple):
    """The child's function came to its end."""

    answer: Any

    def __call__(self) -> Any:
        return self.answer


class _Refused(NamedTuple):
    """The child's function ended with an error that is for the caller."""

    error: RigxlError

    def __call__(self) -> Any:
        raise self.error


def _refusal(code: str, what: str) -> WorkbookError:
    return WorkbookError(code, f"the file {what}, so nothing of it was used")


def _serve() -> None:
    """The child's whole life: read what to run, run it under the limit, write what came of it."""
    most = int(sys.argv[1])
    _limit_memory(most)
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a library prints must not get between us and the parent
    outcome: _Answered | _Refused
    try:
        function, args, words = pickle.load(sys.stdin.buffer)
        outcome = _Answered(function(*args, **words))
        packed = pickle.dumps(outcome, protocol=pickle.HIGHEST_PROTOCOL)
    except RigxlError as refusal:
        packed = pickle.dumps(_Refused(refusal))
    except MemoryError:
        what = f"could not be read within {most // MEBIBYTE} MiB of memory"
        packed = pickle.dumps(_Refused(_refusal("too-much-memory", what)))
    except BaseException as failure:  # a panic of a compiled reader is no Exception
        what = f"made the reader break down ({type(failure).__name__})"
        packed = pickle.dumps(_Refused(_refusal("reader-broke", what)))
    answers.write(packed)
    answers.flush()
    os._exit(0)


def _limit_memory(memory_bytes: int) -> None:
    """Let this process take no more memory than that, where the system can be told so."""
    try:
        import resource
    except ImportError:
        return
    for kind, most in ((resource.RLIMIT_AS, memory_bytes), (resource.RLIMIT_CORE, 0)):
        _, hardest = resource.getrlimit(kind)
        if hardest == resource.RLIM_INFINITY or most < hardest:
            resource.setrlimit(kind, (most, most))
