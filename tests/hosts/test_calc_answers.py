"""What Calc hands over and what it is handed back, without Calc."""

from __future__ import annotations

import json
import math
import struct
from collections.abc import Sequence
from typing import Any

import pytest

from rigxl.errors import RigxlError
from rigxl.functions import FUNCTIONS
from rigxl.functions.columns import answer
from rigxl.hosts.calc.inside.answers import Answers, Refused
from rigxl.hosts.calc.inside.in_process import InProcess
from rigxl.hosts.calc.package import settings

SETTINGS = json.loads(settings(None))
VALUE, NA = 519, 32767
"""Numbers of Calc's errors, as its cells report them: com.sun.star.table.XCell, getError."""


class Says:
    """A source that says one thing, and notes what it was asked."""

    def __init__(self, said: Any) -> None:
        self.said = said
        self.asked: list[Any] = []

    def answer(self, name: str, given: Sequence[Any]) -> Any:
        self.asked.append((name, *given))
        if isinstance(self.said, Exception):
            raise self.said
        return self.said


class Registry:
    """The registry as a source."""

    def answer(self, name: str, given: Sequence[Any]) -> Any:
        return answer(name, given)


def error_in(cell: Any) -> int:
    """The number of the error that Calc reads out of a cell."""
    assert isinstance(cell, float)
    assert math.isnan(cell)
    bits: int = struct.unpack("<Q", struct.pack("<d", cell))[0]
    return bits & 0xFFFF_FFFF


def one(found: Any) -> Any:
    """The cell of an answer that is one cell."""
    ((cell,),) = found
    return cell


@pytest.mark.parametrize(
    ("name", "said", "shown"),
    [
        ("LEGTENSION", 5.5, 5.5),
        ("CLIPCOUNT", 4, 4.0),
        ("DEVICENEEDED", True, 1.0),
        ("DEVICENEEDED", False, 0.0),
        ("HOOKANGLEVERDICT", "PASS", "PASS"),
    ],
)
def test_answers(name: str, said: Any, shown: Any) -> None:
    """Numbers as floats, for Calc shows a True as 0."""
    cell = one(Answers(SETTINGS, [Says(said)]).rows(name, (1.0,)))
    assert type(cell) is type(shown)
    assert cell == shown


@pytest.mark.parametrize(
    ("said", "error"),
    [
        (Refused("VALUE", "why"), VALUE),
        (Refused("NA", "why"), NA),
        (Refused("something new", "why"), VALUE),
        ("PASS", VALUE),
        ("", VALUE),
        (None, VALUE),
        (math.nan, VALUE),
        (math.inf, VALUE),
        ({"value": 1}, VALUE),
    ],
)
def test_whatever_is_no_number_is_an_error(said: Any, error: int) -> None:
    """In a cell that promises a number; in a range as well."""
    for found in (said, [[said, 1.0]]):
        rows = Answers(SETTINGS, [Says(found)]).rows("LEGTENSION", (1.0,))
        assert error_in(rows[0][0]) == error


@pytest.mark.parametrize("said", ["", None, 0.0, 1, True, math.nan])
def test_whatever_is_no_text_is_an_error(said: Any) -> None:
    """In a cell that promises a verdict."""
    assert error_in(one(Answers(SETTINGS, [Says(said)]).rows("HOOKANGLEVERDICT", (60.0,)))) == VALUE


def test_a_single_zero_may_be_a_blank_cell() -> None:
    """So it is refused wherever it would have been answered, and in a range it is what it is."""
    answers = Answers(SETTINGS, [Registry()])
    assert answer("SHACKLEDERATE", (0.0, "screw")) == 1
    assert error_in(one(answers.rows("SHACKLEDERATE", (0.0, "screw")))) == VALUE
    assert one(answers.rows("SHACKLEDERATE", (((0.0,),), "screw"))) == 1
    zero, blank = (row[0] for row in answers.rows("SHACKLEDERATE", (((0.0,), ("",)), "screw")))
    assert zero == 1
    assert error_in(blank) == VALUE


def test_a_single_zero_beside_a_range_is_refused_in_every_row() -> None:
    """What was refused anyway keeps its own error."""
    rows = Answers(SETTINGS, [Registry()]).rows("REQUIREDCAPACITY", (((8.0,), (-1.0,)), 0.0))
    own = answer("REQUIREDCAPACITY", (-1.0, 0.25))
    assert own == Refused("NA", own.sentence)  # type: ignore[union-attr]
    assert [error_in(row[0]) for row in rows] == [VALUE, NA]


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_zero_never_answers(name: str) -> None:
    """In any argument of any function; what is refused anyway keeps its own error."""
    entry, answers = FUNCTIONS[name], Answers(SETTINGS, [Registry()])
    for at, argument in enumerate(entry.arguments[: len(entry.example)]):
        given = (*entry.example[:at], 0.0, *entry.example[at + 1 :])
        own = answer(name, given)
        if argument.kind == "any":
            continue
        error = NA if getattr(own, "code", "") == "NA" else VALUE
        assert error_in(one(answers.rows(name, given))) == error


def test_reason_says_why_a_zero_is_refused() -> None:
    """As its function would be; one that is refused for itself has its own sentence."""
    answers = Answers(SETTINGS, [Registry()])
    left_out = (None,) * 6
    assert "0 or a blank cell" in one(answers.rows("REASON", ("shacklederate", 0.0, "screw", *left_out)))
    own = one(answers.rows("REASON", ("LEGTENSION", 10.0, 2.0, 0.0, *left_out[1:])))
    assert "angle is 0 degrees" in own
    assert own.endswith("(Calc hands over a blank cell as 0)")
    given = (("SHACKLEDERATE",),), 0.0, "screw", *left_out
    assert error_in(one(answers.rows("REASON", given))) == VALUE
    assert one(answers.rows("REASON", ("CAPACITYVERDICT", 8.0, 10.0, 0.25, *left_out[1:]))).startswith("PASS")


def test_flags() -> None:
    """TRUE comes as 1.0, and a function that takes a flag wants true or false."""
    known = {
        "functions": {"SEATED": {"gives": "number", "arguments": [["seated", "flag"], ["load", "number"]]}}
    }
    source = Says(2.0)
    assert one(Answers(known, [source]).rows("SEATED", (1.0, 1.0))) == 2
    Answers(known, [source]).rows("SEATED", (((1.0, 0.0), ("", 7.0)), 1.0))
    assert [type(value) for value in source.asked[0][1:]] == [bool, float]
    assert source.asked[1] == ("SEATED", ((True, False), ("", 7.0)), 1.0)
    assert error_in(one(Answers(known, [source]).rows("SEATED", (0.0, 1.0)))) == VALUE


def test_the_first_source_that_is_there_answers() -> None:
    """The next is asked only where it is not there at all."""
    gone, there, spare = Says(ImportError("no rigxl here")), Says(1.5), Says(2.5)
    assert one(Answers(SETTINGS, [gone, there, spare]).rows("LEGTENSION", (1.0,))) == 1.5
    assert spare.asked == []


def test_nobody_there() -> None:
    """An error in every cell, and REASON says who was looked for."""
    answers = Answers(SETTINGS, [Says(ImportError("not installed")), Says(OSError("refused"))])
    assert error_in(one(answers.rows("HOOKANGLEVERDICT", (60.0,)))) == VALUE
    said = one(answers.rows("REASON", ("LEGTENSION", 10.0, 2.0, 60.0, *(None,) * 5)))
    assert said == "rigxl was not found: not installed; refused"


def test_a_fault_of_ours_is_no_answer() -> None:
    """It is raised, which Calc shows as #VALUE!, and no other source is asked."""
    spare = Says(1.0)
    with pytest.raises(RigxlError):
        Answers(SETTINGS, [Says(RigxlError("a slip")), spare]).rows("LEGTENSION", (1.0,))
    assert spare.asked == []


def test_rigxl_in_process() -> None:
    """The functions that the add-in was built for."""
    assert InProcess(SETTINGS).answer("LEGTENSION", (10.0, 2.0, 30.0, None)) == 10


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"python": [4, 0]}, "it needs 4.0 or later"),
        ({"functions": {}}, "build it again with 'rigxl addin calc'"),
    ],
)
def test_another_rigxl_does_not_answer(changed: dict[str, Any], said: str) -> None:
    """An argument more or less would put every value in the wrong place."""
    source = InProcess({**SETTINGS, **changed})
    for _ in range(2):
        with pytest.raises(ImportError, match=said):
            source.answer("LEGTENSION", (10.0, 2.0, 30.0))
