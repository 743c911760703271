"""REASON says why: of a verdict, of a number, of an error."""

from __future__ import annotations

import pytest

from rigxl.errors import CellError, InputError
from rigxl.functions import FUNCTIONS, FunctionSpec, call
from rigxl.functions.columns import answer

VERDICTS = [one for one in FUNCTIONS.values() if one.why is not None]


def test_every_verdict_has_its_sentence() -> None:
    """By name, and by kind: a flag is a verdict too."""
    assert {one.name for one in VERDICTS} == {
        one.name for one in FUNCTIONS.values() if one.name.endswith("VERDICT") or one.kind == "flag"
    }


@pytest.mark.parametrize("entry", VERDICTS, ids=[one.name for one in VERDICTS])
def test_the_sentence_begins_with_the_verdict(entry: FunctionSpec) -> None:
    verdict = call(entry.name, *entry.example)
    shown = str(verdict).upper() if isinstance(verdict, bool) else verdict
    assert str(call("REASON", entry.name, *entry.example)).startswith(f"{shown}: ")


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            ("CAPACITYVERDICT", 8, 10, 0.25, 0.5),
            "FAIL: rated 10, less than the 20 required: force 8 / derate 0.5 × (1 + design margin 0.25)",
        ),
        (
            ("WEARVERDICT", 20, 17),
            "FAIL: worn by 15.000% of the original 20, over the 10% allowed",
        ),
        (
            ("DEVICENEEDED", 6, 1.8, 30),
            "FALSE: a headroom of 1.8 is enough: the 1.73205 that legs at 30 degrees need over picks 6 apart",
        ),
        (("LEGTENSION", 10, 2, ""), "LEGTENSION: missing: angle is blank"),
        (
            ("LEGTENSION", CellError("#N/A"), 2, 60),
            "LEGTENSION: load is #N/A: the cell it comes from is in error",
        ),
    ],
)
def test_sentences(arguments: tuple[object, ...], sentence: str) -> None:
    assert answer("REASON", arguments) == sentence


def test_a_number_comes_with_its_help_and_source() -> None:
    assert answer("REASON", ["LOADANGLEFACTOR", 30]) == (
        "LOADANGLEFACTOR(30) = 2: Load angle factor of a sling angle: 1 / sin(angle). "
        f"Source: {FUNCTIONS['LOADANGLEFACTOR'].source}"
    )


def test_down_a_column() -> None:
    found = answer("REASON", ["HOOKANGLEVERDICT", [[60], [40], [""]]])
    assert isinstance(found, list)
    assert [str(line[0]).split(":")[0] for line in found] == ["PASS", "FAIL", "HOOKANGLEVERDICT"]


def test_no_function_no_reason() -> None:
    with pytest.raises(InputError, match="there is no function 'LEGTENSON'; there is LEGTENSION"):
        call("REASON", "LEGTENSON", 1)


def test_of_itself() -> None:
    assert call("REASON", "reason", "REASON") == FUNCTIONS["REASON"].help


def test_every_argument_of_every_function_finds_a_place() -> None:
    room = len(FUNCTIONS["REASON"].arguments) - 1
    assert max(len(one.arguments) for one in FUNCTIONS.values() if one.name != "REASON") <= room
