"""Functions that end badly, for a child process to run."""

from __future__ import annotations

import os
import signal
import sys

from rigxl.errors import WorkbookError


class PanicError(BaseException):
    """Stands for the panic of a compiled reader, which is no Exception."""


def refuse(code: str, sentence: str) -> None:
    """Say no, the way rigxl does."""
    raise WorkbookError(code, sentence)


def break_down(end: str) -> None:
    """End in a way that nobody wants."""
    if end == "abort":
        os.abort()
    if end == "kill":
        os.kill(os.getpid(), signal.SIGTERM)
    if end == "exit":
        os._exit(3)
    if end == "panic":
        raise PanicError
    raise ZeroDivisionError


def chatter() -> str:
    """Print to every stream there is, then answer."""
    print("noise")
    sys.stdout.flush()
    os.write(1, b"more noise")
    os.write(2, b"and more")
    return "quiet"
