"""The door of every worksheet function: each argument read as the kind it wants, each answer looked at."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from rigxl.errors import CellError, InputError, MissingInputError, OutOfRangeError, UnreadableError
from rigxl.functions.described import Argument, FunctionSpec, Value
from rigxl.mechanics.limits import count, number


def is_blank(value: object) -> bool:
    """Whether nothing is there: None, or text of nothing but space."""
    return value is None or (isinstance(value, str) and not value.strip())


def shown(value: object) -> str:
    """A value as a sentence names it, alike whether a whole number came as 5 or as 5.0."""
    if isinstance(value, bool):
        return "a yes or no"
    return f"{value:.12g}" if isinstance(value, float | int) else repr(value)[:80]


def read(argument: Argument, value: object) -> object:
    """A value as its argument wants it.

    Raises:
        RigxlError: A blank, an error from a cell, another kind of value, or none of the choices.
    """
    if argument.kind == "any":
        return value
    if isinstance(value, CellError):
        raise UnreadableError(f"{argument.name} is {value}: the cell it comes from is in error")
    if is_blank(value):
        raise MissingInputError(f"missing: {argument.name} is blank")
    return _READ[argument.kind](argument, value)


def _read_number(argument: Argument, value: object) -> float:
    return number(argument.name, value)


def _read_count(argument: Argument, value: object) -> int:
    return count(argument.name, value)


def _read_text(argument: Argument, value: object) -> str:
    if not isinstance(value, str):
        raise UnreadableError(f"{argument.name} must be text, not {shown(value)}")
    text = " ".join(value.split())
    if not argument.choices:
        return text
    for choice in argument.choices:
        if text.casefold() == choice.casefold():
            return choice
    raise InputError(f"{argument.name} is '{text}'; it must be one of {', '.join(argument.choices)}")


def _read_flag(argument: Argument, value: object) -> bool:
    if not isinstance(value, bool):
        raise UnreadableError(f"{argument.name} must be true or false, not {shown(value)}")
    return value


_READ: Mapping[str, Callable[[Argument, object], Value]] = {
    "number": _read_number,
    "count": _read_count,
    "text": _read_text,
    "flag": _read_flag,
}


def answered(entry: FunctionSpec, value: object) -> Value:
    """A result of the promised kind, or a refusal; text is an answer only where text was promised."""
    if type(value) is float and entry.kind == "number" and value - value == 0:
        return value
    if entry.kind == "text" and isinstance(value, str) and value:
        return value
    if entry.kind == "flag" and isinstance(value, bool):
        return value
    if entry.kind in ("number", "count") and isinstance(value, (int, float)) and not isinstance(value, bool):
        if value - value != 0:
            raise OutOfRangeError("the answer is not a finite number; check the sizes of what was given")
        return value
    raise TypeError(f"{entry.name} promises a {entry.kind} and gave {value!r}")
