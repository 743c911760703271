"""The log: a line of JSON on stderr for each request and each event, without anything of what was sent.

A line says when, which way in, how it ended, how long it took and how many; never an address, a name, a
query, a value or the message of an exception, which may repeat one.
"""

from __future__ import annotations

import datetime as dt
import logging
import sys
import traceback
from pathlib import Path
from typing import Any, BinaryIO

import msgspec

PACKAGE = Path(__file__).parents[2]


class Log:
    """Writes the lines.

    Args:
        stream: Where to; stderr unless stated.
    """

    def __init__(self, stream: BinaryIO | None = None) -> None:
        self.stream = stream or sys.stderr.buffer

    def line(self, **said: Any) -> None:
        """One line, with the time before all else."""
        self.stream.write(msgspec.json.encode({"time": now(), **said}) + b"\n")
        self.stream.flush()


def now() -> str:
    """The time as the log writes it: UTC, to the millisecond."""
    return dt.datetime.now(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def place(error: BaseException) -> dict[str, str]:
    """The kind of an exception and the lines of rigxl it went through, innermost last."""
    steps = [
        f"{Path(step.filename).relative_to(PACKAGE)}:{step.lineno}"
        for step in traceback.extract_tb(error.__traceback__)
        if Path(step.filename).is_relative_to(PACKAGE)
    ]
    return {"exception": type(error).__name__, "through": " ".join(steps)}


def fault(error: BaseException) -> None:
    """Log a fault of ours: what kind of exception, and where in our code, without its message."""
    logging.getLogger(__name__).error("fault", exc_info=error)


class Line(logging.Formatter):
    """What the web server itself logs, as lines like ours."""

    def format(self, record: logging.LogRecord) -> str:
        """Its own words only: those of other libraries may repeat what was sent."""
        said: dict[str, str] = {"time": now(), "event": record.levelname.lower(), "by": record.name}
        if record.name == "uvicorn.error":
            said["said"] = record.getMessage().strip()
        if record.exc_info and record.exc_info[1]:
            said |= place(record.exc_info[1])
        return msgspec.json.encode(said).decode()


LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"()": Line}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {"uvicorn.error": {"level": "INFO"}, "uvicorn.access": {"level": "CRITICAL"}},
}
