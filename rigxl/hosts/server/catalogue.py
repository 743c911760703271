"""GET /functions: the registry as data; and what the other fixed answers look like."""

from __future__ import annotations

import msgspec

from rigxl import __version__
from rigxl.functions import FUNCTIONS

NAMESPACE = "RIGXL"


class ShownArgument(msgspec.Struct, frozen=True):
    """One argument of a worksheet function; ``choices`` are all it takes, where there are any."""

    name: str
    kind: str
    unit: str
    help: str
    required: bool
    default: float | str | bool | None
    choices: tuple[str, ...]


class ShownFunction(msgspec.Struct, frozen=True):
    """A worksheet function: what it takes, what it gives, what it refuses and who says so."""

    name: str
    signature: str
    help: str
    arguments: tuple[ShownArgument, ...]
    kind: str
    unit: str
    source: str
    refuses: str
    example: tuple[float | str | bool, ...]
    answer: float | str | bool | None


class Catalogue(msgspec.Struct, frozen=True):
    """All worksheet functions, in alphabetical order."""

    rigxl: str
    namespace: str
    functions: tuple[ShownFunction, ...]


class Health(msgspec.Struct, frozen=True):
    """The server is up; which version of rigxl it runs."""

    status: str
    rigxl: str


def catalogue() -> Catalogue:
    """The registry as it is sent."""
    functions = (
        ShownFunction(
            name=one.name,
            signature=one.signature,
            help=one.help,
            arguments=tuple(ShownArgument(*argument) for argument in one.arguments),
            kind=one.kind,
            unit=one.unit,
            source=one.source,
            refuses=one.refuses,
            example=one.example,
            answer=one.answer,
        )
        for one in FUNCTIONS.values()
    )
    return Catalogue(__version__, NAMESPACE, tuple(functions))
