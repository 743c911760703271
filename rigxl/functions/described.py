"""What the annotations and the docstring of a marked function say of it: the entry of the registry."""

from __future__ import annotations

import inspect
import re
import typing
from collections.abc import Callable, Iterator
from typing import Literal, NamedTuple

from rigxl.worksheet import Mark

Value = float | str | bool
Kind = Literal["number", "count", "text", "flag", "any"]


class Argument(NamedTuple):
    """One argument of a worksheet function."""

    name: str
    kind: Kind
    unit: str
    help: str
    required: bool
    default: Value | None
    choices: tuple[str, ...]

    @property
    def described(self) -> str:
        """The help, with the unit of an angle, and the choices where the help does not say them."""
        told = self.help
        if self.unit == "deg":
            told += " In degrees."
        if any(choice not in self.help for choice in self.choices):
            told += f" One of: {', '.join(self.choices)}."
        return told


class FunctionSpec(NamedTuple):
    """All that a host, a help page or a test needs to know of a worksheet function."""

    name: str
    function: Callable[..., Value]
    help: str
    arguments: tuple[Argument, ...]
    kind: Kind
    unit: str
    source: str
    refuses: str
    example: tuple[float | str, ...]
    answer: Value | None
    why: Callable[..., str] | None

    @property
    def signature(self) -> str:
        """The call as help shows it, as in ``UTILISATION(force, rating, [derate])``."""
        shown = (each.name if each.required else f"[{each.name}]" for each in self.arguments)
        return f"{self.name}({', '.join(shown)})"

    @property
    def example_text(self) -> str:
        """The example as it would be typed, without the equals sign: ``LEGTENSION(10, 2, 30)``."""
        return typed(self.name, self.example)


def typed(name: str, values: typing.Iterable[object]) -> str:
    """A call as a person would type it.

    >>> typed("CHAINRATING", ("3/8 in", 80.0, True))
    'CHAINRATING("3/8 in", 80, TRUE)'
    """
    return f"{name}({', '.join(map(_typed, values))})"


def _typed(value: object) -> str:
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, float | int):
        return f"{value:.12g}"
    return "" if value is None else f'"{value}"'


def describe(function: Callable[..., Value], mark: Mark) -> FunctionSpec:
    """The entry of a marked function."""
    hints = typing.get_type_hints(function, include_extras=True)
    sections = _sections(inspect.getdoc(function) or "")
    helps = _argument_helps(sections.get("Args", ""))
    arguments = tuple(
        Argument(
            name=name,
            kind=_kind(hints[name]),
            unit=_unit(hints[name]),
            help=helps.get(name, ""),
            required=parameter.default is parameter.empty,
            default=None if parameter.default is parameter.empty else parameter.default,
            choices=_choices(hints[name]),
        )
        for name, parameter in inspect.signature(function).parameters.items()
    )
    return FunctionSpec(
        name=mark.name,
        function=function,
        help=sections["first"],
        arguments=arguments,
        kind=_kind(hints["return"]),
        unit=_unit(hints["return"]),
        source=mark.source or _one_line(sections.get("Source", "")),
        refuses=_one_line(sections.get("Refuses", "")),
        example=mark.example,
        answer=mark.answer,
        why=mark.why,
    )


def _sections(doc: str) -> dict[str, str]:
    """A docstring by section: ``first`` for the first line, then each ``Name:`` and what is under it."""
    found = re.findall(r"^(Args|Source|Refuses):(.*(?:\n[ ].*)*)", doc, flags=re.MULTILINE)
    return {"first": doc.partition("\n")[0].strip(), **dict(found)}


def _argument_helps(body: str) -> dict[str, str]:
    """The lines under ``Args`` by argument, lines that run on joined."""
    parts = re.split(r"^ {4}(\w+):", body, flags=re.MULTILINE)
    return {name: _one_line(text) for name, text in zip(parts[1::2], parts[2::2], strict=True)}


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _parts(hint: object) -> Iterator[object]:
    """A type hint and everything inside it: unions, annotations, literals."""
    yield hint
    for inner in typing.get_args(hint):
        yield from _parts(inner)


def _kind(hint: object) -> Kind:
    inside = list(_parts(hint))
    if object in inside:
        return "any"
    if bool in inside:
        return "flag"
    if str in inside or _choices(hint):
        return "text"
    return "count" if _unit(hint) == "count" else "number"


def _unit(hint: object) -> str:
    """The text that an annotation such as ``Annotated[float, "N"]`` carries."""
    units = (
        part for inner in _parts(hint) for part in getattr(inner, "__metadata__", ()) if isinstance(part, str)
    )
    return next(units, "")


def _choices(hint: object) -> tuple[str, ...]:
    return next((typing.get_args(inner) for inner in _parts(hint) if typing.get_origin(inner) is Literal), ())
