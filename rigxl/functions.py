"""The worksheet functions of every kind, gathered by name, and the one way to call them.

Marked functions are found by walking ``rigxl.mechanics`` and ``rigxl.hardware`` on first use. Every host goes
through :func:`call`, so what is refused and in which words is the same in every program.

>>> call("LEGTENSION", 10, 2, 30)
10.0
>>> call("LEGTENSION", 10, 2, 0)
Traceback (most recent call last):
    ...
rigxl.errors.OutOfRangeError: LEGTENSION: angle is 0 degrees; it must be above 0 ...
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import typing
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Literal, NamedTuple

from rigxl.errors import InputError, MissingInputError, OutOfRangeError, RigxlError, UnreadableError
from rigxl.mechanics.limits import count, number
from rigxl.worksheet import Mark, mark_of

PACKAGES = ("rigxl.mechanics", "rigxl.hardware")

Value = float | str | bool
Kind = Literal["number", "count", "text", "flag"]

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?", re.IGNORECASE | re.ASCII)
_FLAGS = {"true": True, "yes": True, "false": False, "no": False}


class Argument(NamedTuple):
    """One argument of a worksheet function."""

    name: str
    kind: Kind
    unit: str
    help: str
    required: bool
    default: Value | None
    choices: tuple[str, ...]


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

    @property
    def signature(self) -> str:
        """The call as help shows it, as in ``UTILISATION(force, rating, [derate])``."""
        shown = (each.name if each.required else f"[{each.name}]" for each in self.arguments)
        return f"{self.name}({', '.join(shown)})"

    @property
    def example_text(self) -> str:
        """The example as it would be typed, without the equals sign: ``LEGTENSION(10, 2, 30)``."""
        typed = (f'"{value}"' if isinstance(value, str) else f"{value:g}" for value in self.example)
        return f"{self.name}({', '.join(typed)})"


class _Functions(Mapping[str, FunctionSpec]):
    """The registry; nothing is imported before somebody looks into it."""

    def __getitem__(self, name: str) -> FunctionSpec:
        return _gathered()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(_gathered())

    def __len__(self) -> int:
        return len(_gathered())


FUNCTIONS: Mapping[str, FunctionSpec] = _Functions()


def spec(name: str) -> FunctionSpec:
    """The function of that name, whatever its case.

    Raises:
        InputError: There is none; the sentence lists the nearest names.
    """
    entry = FUNCTIONS.get(name.strip().upper())
    if entry is None:
        from difflib import get_close_matches

        near = get_close_matches(name.strip().upper(), FUNCTIONS, n=3) or sorted(FUNCTIONS)
        raise InputError(f"there is no function '{name}'; there is {', '.join(near)}")
    return entry


def call(name: str, /, *values: object, **named: object) -> Value:
    """The answer of a worksheet function, never text or NaN in place of a number.

    An optional argument is left out by not giving it; to skip one, give those after it by name. A blank that
    is given, None or empty text, is refused: nobody knows whether it was meant.

    Raises:
        RigxlError: Whatever is refused; the sentence begins with the function's name.

    >>> call("SLINGCAPACITY", 10, "choker", 1, 90, material="chain")
    8.0
    """
    entry = spec(name)
    try:
        given = _bound(entry, values, named)
        ready = {
            each.name: _READ[each.kind](each, given[each.name])
            for each in entry.arguments
            if each.name in given
        }
        return _answer(entry, entry.function(**ready))
    except RigxlError as refusal:
        raise type(refusal)(f"{entry.name}: {refusal}") from None


def call_text(name: str, /, *texts: str) -> Value:
    """The answer of a worksheet function whose arguments come as text, as from a command line.

    Each text is read as the kind its argument wants; ``material=chain`` gives an argument by name.

    >>> call_text("SLINGCAPACITY", "10", "choker", "1", "90", "material=chain")
    8.0
    """
    entry = spec(name)
    names = {each.name for each in entry.arguments}
    values: list[str] = []
    named: dict[str, object] = {}
    for text in texts:
        key, equals, value = text.partition("=")
        if equals and key.strip().lower() in names:
            named[key.strip().lower()] = value
        elif named:
            raise InputError(
                f"{entry.name}: '{text}' has no name but comes after a named argument; {entry.signature}"
            )
        else:
            values.append(text)
    try:
        given = _bound(entry, values, named)
        plain = {
            each.name: _from_text(each, given[each.name]) for each in entry.arguments if each.name in given
        }
    except RigxlError as refusal:
        raise type(refusal)(f"{entry.name}: {refusal}") from None
    return call(name, **plain)


def _bound(
    entry: FunctionSpec, values: tuple[object, ...] | list[str], named: Mapping[str, object]
) -> dict[str, object]:
    """The arguments by name: none too many, none too few, none twice, none blank."""
    if len(values) > len(entry.arguments):
        raise InputError(
            f"{len(values)} arguments are too many; {entry.signature} takes {len(entry.arguments)}"
        )
    given = {each.name: value for each, value in zip(entry.arguments, values, strict=False)}
    for name, value in named.items():
        if name in given:
            raise InputError(f"{name} is given twice; {entry.signature}")
        if all(name != each.name for each in entry.arguments):
            raise InputError(f"there is no argument '{name}'; {entry.signature}")
        given[name] = value
    for each in entry.arguments:
        if each.required and each.name not in given:
            raise MissingInputError(f"missing: {each.name}; {entry.signature}")
        value = given.get(each.name, 0)
        if value is None or (isinstance(value, str) and not value.strip()):
            raise MissingInputError(f"missing: {each.name} is blank; {entry.signature}")
    return given


def _read_number(argument: Argument, value: object) -> float:
    return number(argument.name, value)


def _read_count(argument: Argument, value: object) -> int:
    return count(argument.name, value)


def _read_text(argument: Argument, value: object) -> str:
    if not isinstance(value, str):
        raise UnreadableError(f"{argument.name} must be text, not {value!r}"[:120])
    text = " ".join(value.split())
    if not argument.choices:
        return text
    for choice in argument.choices:
        if text.casefold() == choice.casefold():
            return choice
    raise InputError(f"{argument.name} is '{text}'; it must be one of {', '.join(argument.choices)}")


def _read_flag(argument: Argument, value: object) -> bool:
    if not isinstance(value, bool):
        raise UnreadableError(f"{argument.name} must be true or false, not {value!r}"[:120])
    return value


_READ: Mapping[str, Callable[[Argument, object], Value]] = {
    "number": _read_number,
    "count": _read_count,
    "text": _read_text,
    "flag": _read_flag,
}


def _from_text(argument: Argument, value: object) -> Value:
    """A text as the kind of value its argument wants; numbers in plain notation with a decimal point."""
    text = str(value).strip()
    if argument.kind == "text":
        return text
    if argument.kind == "flag":
        if text.lower() not in _FLAGS:
            raise UnreadableError(f"{argument.name} is '{text}'; it must be true or false")
        return _FLAGS[text.lower()]
    if not _NUMBER.fullmatch(text):
        raise UnreadableError(f"{argument.name} is '{text}'; it must be one plain number such as 12.5")
    return float(text)


def _answer(entry: FunctionSpec, value: object) -> Value:
    """A result of the promised kind, or a refusal; text is an answer only where text was promised."""
    if entry.kind == "text" and isinstance(value, str) and value:
        return value
    if entry.kind == "flag" and isinstance(value, bool):
        return value
    if entry.kind in ("number", "count") and isinstance(value, (int, float)) and not isinstance(value, bool):
        if value - value != 0:
            raise OutOfRangeError("the answer is not a finite number; check the sizes of what was given")
        return value
    raise TypeError(f"{entry.name} promises a {entry.kind} and gave {value!r}")


@cache
def _gathered() -> Mapping[str, FunctionSpec]:
    """Every marked function by its name, in alphabetical order."""
    found: dict[str, FunctionSpec] = {}
    for package in PACKAGES:
        home = importlib.import_module(package)
        for module in pkgutil.walk_packages(home.__path__, f"{package}."):
            for function in vars(importlib.import_module(module.name)).values():
                mark = mark_of(function)
                if mark is None or function.__module__ != module.name:
                    continue
                if mark.name in found:
                    raise ValueError(f"two functions are marked {mark.name}")
                found[mark.name] = describe(function, mark)
    return dict(sorted(found.items()))


def describe(function: Callable[..., Value], mark: Mark) -> FunctionSpec:
    """What the annotations and the docstring of a marked function say of it."""
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
