"""How much the server takes on; every limit can be set, and the sentence that refuses names it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from rigxl.errors import InputError
from rigxl.workbook.guard import Limits, replaced


@dataclass(frozen=True)
class ServerLimits:
    """What one process of the server takes; how large a workbook may be is in ``rigxl.workbook.guard``."""

    batch_bytes: int = 4_000_000
    """Bytes of one POST /calculate."""
    batch_calls: int = 10_000
    """Calls in it."""
    batch_cells: int = 200_000
    """Cells in it: of each call those of its ranges, or of its answer if that has more."""
    batch_seconds: float = 30.0
    """For working it out."""
    upload_seconds: float = 30.0
    """For a body to arrive."""
    requests: int = 64
    """Requests at once."""
    requests_each: int = 32
    """Requests at once from one address."""
    workbooks: int = 2
    """Workbooks checked at once, each in a child process of its own."""


def limits_from(given: Mapping[str, str]) -> tuple[ServerLimits, Limits]:
    """The limits of the server and of reading workbooks, with some replaced, as typed.

    Raises:
        InputError: A limit that does not exist, or a value that is no number above 0.
    """
    own, reading = ({one.name for one in fields(kind)} for kind in (ServerLimits, Limits))
    for name in given:
        if name not in own | reading:
            raise InputError(f"there is no limit '{name}'; the limits are {', '.join(sorted(own | reading))}")
    return (
        replaced(ServerLimits(), {name: text for name, text in given.items() if name in own}),
        replaced(Limits(), {name: text for name, text in given.items() if name in reading}),
    )
