"""The worksheet functions of every kind, gathered by name, and the one way to call them.

Marked functions are found by walking ``rigxl.mechanics`` and ``rigxl.hardware`` on first use. Every host
goes through :func:`call` or, for cells and ranges, :func:`rigxl.functions.columns.answer`, so what is refused
and in which words is the same in every program.

>>> call("LEGTENSION", 10, 2, 30)
10.0
>>> call("LEGTENSION", 10, 2, 0)
Traceback (most recent call last):
    ...
rigxl.errors.OutOfRangeError: LEGTENSION: angle is 0 degrees; it must be above 0 ...
"""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Iterator, Mapping
from functools import cache

from rigxl.errors import InputError, MissingInputError, RigxlError, UnreadableError
from rigxl.functions.described import Argument, FunctionSpec, Value, describe
from rigxl.functions.reading import answered, is_blank, read
from rigxl.worksheet import mark_of

__all__ = ["FUNCTIONS", "Argument", "FunctionSpec", "call", "call_text", "spec"]

PACKAGES = ("rigxl.mechanics", "rigxl.hardware")
REASON = "rigxl.functions.reason"

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?", re.IGNORECASE | re.ASCII)
_FLAGS = {"true": True, "yes": True, "false": False, "no": False}


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
        ready = {each.name: read(each, given[each.name]) for each in entry.arguments if each.name in given}
        return answered(entry, entry.function(**ready))
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
        if each.name in given and each.kind != "any" and is_blank(given[each.name]):
            raise MissingInputError(f"missing: {each.name} is blank; {entry.signature}")
    return given


def _from_text(argument: Argument, value: object) -> object:
    """A text as the kind of value its argument wants; numbers in plain notation with a decimal point."""
    text = str(value).strip()
    if argument.kind == "text":
        return text
    if argument.kind == "flag":
        if text.lower() not in _FLAGS:
            raise UnreadableError(f"{argument.name} is '{text}'; it must be true or false")
        return _FLAGS[text.lower()]
    if not _NUMBER.fullmatch(text):
        if argument.kind == "any":
            return text
        raise UnreadableError(f"{argument.name} is '{text}'; it must be one plain number such as 12.5")
    return float(text)


@cache
def _gathered() -> Mapping[str, FunctionSpec]:
    """Every marked function by its name, in alphabetical order."""
    found: dict[str, FunctionSpec] = {}
    for module_name in (*_modules(), REASON):
        for function in vars(importlib.import_module(module_name)).values():
            mark = mark_of(function)
            if mark is None or function.__module__ != module_name:
                continue
            if mark.name in found:
                raise ValueError(f"two functions are marked {mark.name}")
            found[mark.name] = describe(function, mark)
    return dict(sorted(found.items()))


def _modules() -> Iterator[str]:
    for package in PACKAGES:
        home = importlib.import_module(package)
        yield from (module.name for module in pkgutil.walk_packages(home.__path__, f"{package}."))
