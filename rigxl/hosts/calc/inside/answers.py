"""From what Calc hands over to what a cell shows.

Calc hands over a number as a float, text as text, an argument that is left out as None, and a range as rows
in which a blank cell is empty text. A cell in error does not reach us: Calc shows its error. TRUE comes as
1.0, and **a single blank cell comes as 0.0**. So a single 0 that would be taken is refused: it may be a
blank. In a range the two are told apart, so C2:C2 and {0} say a true zero.

Calc reads an error out of a number that is none: its low bits are the number of the error. So a refusal is
the error it is in every other program, in a single cell as in a range, and never text, a blank or 0.
"""

from __future__ import annotations

import struct
from typing import Any, NamedTuple, Sequence

ERRORS = {"VALUE": 519, "NA": 32767}
"""Calc's own numbers for #VALUE! and #N/A."""

DOUBT = (
    "{function}: {argument} is 0 or a blank cell, which Calc hands over alike; "
    "for a true 0 write a range of one cell, such as C2:C2, or {{0}}"
)
AS_ZERO = " (Calc hands over a blank cell as 0)"


def no_number(error: int) -> float:
    """The float that Calc shows as an error."""
    (found,) = struct.unpack("<d", struct.pack("<Q", 0x7FF8_0000_0000_0000 | error))
    return float(found)


SHOWN = {code: no_number(error) for code, error in ERRORS.items()}


class Refused(NamedTuple):
    """What is not answered: the code of the error and the sentence that says why."""

    code: str
    sentence: str


class Nobody(Refused):
    """Nobody is there to answer."""


class Answers:
    """The answers to a worksheet, from the first source that is there.

    Args:
        settings: What the add-in was built with.
        sources: Each with a method ``answer(function, arguments)``, which gives a value, something with a
            ``code`` and a ``sentence`` where it refuses, or rows of such in a list, and raises ImportError or
            OSError where the source itself is not there.
    """

    def __init__(self, settings: Any, sources: Sequence[Any]) -> None:
        self.functions = settings["functions"]
        self.sources = sources
        self.flags = {
            name: {place for place, (_, kind) in enumerate(entry["arguments"]) if kind == "flag"}
            for name, entry in self.functions.items()
        }
        # REASON, which asks on behalf of another function
        self.asks_on = {
            name
            for name, entry in self.functions.items()
            if any(kind == "any" for _, kind in entry["arguments"])
        }

    def rows(self, name: str, given: Sequence[Any]) -> Any:
        """What the cells show, as rows: one row of one cell, unless a range was given."""
        kind = self.functions[name]["gives"]
        found = self.found(name, given)
        if isinstance(found, Nobody) and name in self.asks_on:
            found = found.sentence
        if isinstance(found, list):
            return tuple([tuple([shown(cell, kind) for cell in row]) for row in found])
        return ((shown(found, kind),),)

    def found(self, name: str, given: Sequence[Any]) -> Any:
        """The answer, with a 0 that may be a blank refused."""
        flags = self.flags[name]
        if flags:
            given = [_flag(value) if place in flags else value for place, value in enumerate(given)]
        answer = self._ask(name, given)
        if 0.0 not in given:
            return answer
        if name in self.asks_on:
            return self._on_behalf(answer, given)
        return _doubted(answer, self._doubt(name, given))

    def _on_behalf(self, answer: Any, given: Sequence[Any]) -> Any:
        """REASON's answer, or why the function that is asked about is refused here."""
        if isinstance(given[0], tuple):
            return Refused("VALUE", "one function at a time, where an argument is a single 0 or blank cell")
        of, arguments = str(given[0]).strip().upper(), list(given[1:])
        while arguments and arguments[-1] is None:
            arguments.pop()
        doubt = self._doubt(of, arguments) if of in self.functions else None
        if doubt is None or is_refused(answer):
            return answer
        return answer + AS_ZERO if is_refused(self._ask(of, arguments)) else doubt.sentence

    def _ask(self, name: str, given: Sequence[Any]) -> Any:
        missing = []
        for source in self.sources:
            try:
                return source.answer(name, given)
            except (ImportError, OSError) as error:
                missing.append(str(error))
        return Nobody("VALUE", f"rigxl was not found: {'; '.join(missing)}")

    def _doubt(self, name: str, given: Sequence[Any]) -> Any:
        """The refusal of a single 0 among the arguments, or None."""
        for (argument, kind), value in zip(self.functions[name]["arguments"], given):
            if value == 0.0 and kind != "any":
                return Refused("VALUE", DOUBT.format(function=name, argument=argument))
        return None


def is_refused(answer: Any) -> bool:
    """Whether it is one refusal, and no value and no rows."""
    return hasattr(answer, "sentence")


def _doubted(answer: Any, doubt: Any) -> Any:
    """An answer in which every value is refused; what was refused anyway keeps its own reason."""
    if isinstance(answer, list):
        return [[_doubted(cell, doubt) for cell in row] for row in answer]
    return answer if is_refused(answer) else doubt


def _flag(value: Any) -> Any:
    """1.0 and 0.0 as true and false, in ranges too; the function refuses whatever else there is."""
    if isinstance(value, tuple):
        return tuple([tuple([_flag(cell) for cell in row]) for row in value])
    return bool(value) if value in (0.0, 1.0) else value


def shown(cell: Any, kind: str) -> Any:
    """What Calc is handed for a cell: a finite float, text where text was promised, else an error."""
    if kind == "text":
        if isinstance(cell, str) and cell:
            return cell
    elif isinstance(cell, (float, int)):
        number = float(cell)
        if number - number == 0:
            return number
    return SHOWN.get(getattr(cell, "code", "VALUE"), SHOWN["VALUE"])
