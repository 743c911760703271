"""The one list of calls that every host must answer as Python does: the contract between them.

For every function: its example, its example as ranges, and its example with each argument in turn blank,
text, an error, true, zero, negative or out of any range.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigxl.errors import CellError
from rigxl.functions import FUNCTIONS
from rigxl.functions.columns import Cell, answer

TOLERANCE = 1e-12
"""Relative, between any two hosts."""

WRONG: dict[str, object] = {
    "blank": "",
    "text": "abc",
    "number as text": "5",
    "error": CellError("#DIV/0!"),
    "true": True,
    "zero": 0.0,
    "negative": -1.0,
    "huge": 1e300,
    "tiny": 1e-300,
}


class Case(NamedTuple):
    """One call; ``arguments`` as ``rigxl.functions.columns.answer`` takes them."""

    what: str
    function: str
    arguments: tuple[object, ...]

    def __str__(self) -> str:
        return f"{self.function}: {self.what}"

    @property
    def expected(self) -> Cell | list[list[Cell]]:
        """What Python answers."""
        return answer(self.function, self.arguments)


def _cases() -> Iterator[Case]:
    for name, entry in FUNCTIONS.items():
        example: tuple[object, ...] = entry.example
        yield Case("example", name, example)
        yield Case("nothing given", name, ())
        yield Case("required alone", name, example[: sum(one.required for one in entry.arguments)])
        yield Case("ranges", name, tuple([[value]] * 3 for value in example))
        for at, argument in enumerate(entry.arguments[: len(example)]):
            for what, wrong in WRONG.items():
                yield Case(f"{argument.name} {what}", name, (*example[:at], wrong, *example[at + 1 :]))
            column = [[example[at]], *([wrong] for wrong in WRONG.values()), [example[at]]]
            yield Case(f"{argument.name} as a range", name, (*example[:at], column, *example[at + 1 :]))
            if not argument.required:
                yield Case(f"{argument.name} left out", name, (*example[:at], None, *example[at + 1 :]))


CASES = tuple(_cases())
