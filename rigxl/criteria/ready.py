"""The three ready sets of criteria. Each lists only where it departs from the defaults, with its source."""

from __future__ import annotations

from typing import Any, NamedTuple

from rigxl.tables import COMMON_PRACTICE, FROM_MEMORY, Source

EN_SLINGS = Source("EN 818-4, EN 13414-1, EN 1492-1: uniform load method", note=FROM_MEMORY)
EN_PAPERS = Source("EN 818-4, EN 13414-1, EN 1492-1: manufacturer's certificate", note=FROM_MEMORY)
ARRETE = Source("France, arrêté du 1er mars 2004: yearly check of lifting accessories", note=FROM_MEMORY)
ASME_ANGLE = Source("ASME B30.9: no sling under 30° from the horizontal", note=FROM_MEMORY)
NORTH_AMERICAN_COMMA = Source("common practice in North America, no source")


class ReadySet(NamedTuple):
    """A ready set: its name, what practice it stands for, and the settings it brings with their sources."""

    name: str
    title: str
    values: dict[str, tuple[Any, Source]]


US = ReadySet(
    "us",
    "US practice (ASME B30, 29 CFR 1926)",
    {
        "least angle": (30.0, ASME_ANGLE),
        "decimal": ("point", NORTH_AMERICAN_COMMA),
    },
)

ONTARIO = ReadySet(
    "ontario",
    "Ontario construction practice (O. Reg. 213/91)",
    {
        "least angle": (45.0, COMMON_PRACTICE),
        "decimal": ("point", NORTH_AMERICAN_COMMA),
    },
)

EUROPE = ReadySet(
    "europe",
    "European practice (EN standards)",
    {
        "least angle": (30.0, EN_SLINGS),
        "leg sharing": ("mode factors", EN_SLINGS),
        "required marks": (("rated load", "maker", "certificate"), EN_PAPERS),
        "inspection interval": (12.0, ARRETE),
    },
)

READY = {ready.name: ready for ready in (US, ONTARIO, EUROPE)}
DEFAULT = US
