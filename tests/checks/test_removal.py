"""What inspections measured: each limit on both sides, and what is missing held."""

from __future__ import annotations

import datetime as dt

import pytest

from rigxl.checks.removal import check, named
from rigxl.criteria import Criteria
from rigxl.items import FAIL, HOLD, Item, Measurement
from rigxl.rules import gathered
from rigxl.units import read_length

STRICT = Criteria.ready("us").on(dt.date(2026, 11, 25))
OLDER = STRICT.override({"removal rules": "older"}, "the test")


def of(said: str, original: str | float | None, measured: str | float | None) -> Measurement:
    """A finding with dimensions as typed: text with its unit, or a plain number."""
    values: list[float | None] = []
    units: list[str] = []
    for one in (original, measured):
        if isinstance(one, str):
            reading = read_length(one)
            values.append(reading.value)
            units.append(reading.unit)
        else:
            values.append(one)
            units.append("1" if one is not None else "")
    return Measurement("sheet 'Inspections', row 4", said, values[0], values[1], units[0], units[1])


def verdicts(*found: Measurement, criteria: Criteria = STRICT, **item: object) -> list[tuple[str, str]]:
    row = Item(measurements=found, **{"kind": "sling", **item})  # type: ignore[arg-type]
    return [(one.rule.name, one.outcome) for one in check(row, criteria)]


@pytest.mark.parametrize(
    ("said", "original", "measured", "strict", "older"),
    [
        # Queensland, Guide for doggers, 2010: 5 %; Alberta OHS Code s. 309(a): more than 15 %
        ("throat opening", "100 mm", "105 mm", [], []),
        ("throat opening", "100 mm", "105.1 mm", [("hook-throat", FAIL)], []),
        ("throat", "100 mm", "115 mm", [("hook-throat", FAIL)], []),
        ("throat", "100 mm", "115.1 mm", [("hook-throat", FAIL)], [("hook-throat-older", FAIL)]),
        # 6 mm (from memory) decides where 5 % is more
        ("throat", "200 mm", "206 mm", [], []),
        ("throat", "200 mm", "206.1 mm", [("hook-throat", FAIL)], []),
        ("throat", "4 in", "4 1/4 in", [("hook-throat", FAIL)], []),
        # Alberta OHS Code s. 309(b): more than 10 degrees
        ("twist", None, 0.0, [], []),
        ("twist", None, 1.0, [("hook-twist", FAIL)], []),
        ("twist", None, 10.5, [("hook-twist", FAIL)], [("hook-twist-older", FAIL)]),
        # WAC 296-155-33900, Table 19: 10 % at any point
        ("wear in the bowl", "25 mm", "22.5 mm", [], []),
        ("pin wear", "25 mm", "22.4 mm", [("wear", FAIL)], [("wear", FAIL)]),
        ("section", "1 in", "7/8 in", [("wear", FAIL)], [("wear", FAIL)]),
        # Emergency Management Australia, Manual 8, s. 4.25: 3 %; 29 CFR 1919.25: more than 5 %
        ("chain elongation", "1000 mm", "1030 mm", [], []),
        ("chain elongation", "1000 mm", "1031 mm", [("chain-stretch", FAIL)], []),
        (
            "chain elongation",
            "1000 mm",
            "1051 mm",
            [("chain-stretch", FAIL)],
            [("chain-stretch-older", FAIL)],
        ),
        # WAC 296-24-29425(5)(a): 10 in one lay or 5 in one strand in one lay
        ("broken wires in a lay", None, 4.0, [], []),
        ("broken wires in a lay", None, 10.0, [("broken-wires", FAIL)], None),
        ("broken wires in one strand", None, 4.0, [], []),
        ("broken wires in one strand", None, 5.0, [("broken-wires", FAIL)], None),
        # WAC 296-24-29425(5)(b): a third of the original diameter of the outside wires
        ("outer wire wear", "3 mm", "2.1 mm", [], []),
        ("outer wire wear", "3 mm", "2 mm", [("outer-wire-wear", FAIL)], None),
    ],
)
def test_limits(
    said: str,
    original: str | float | None,
    measured: str | float | None,
    strict: list[tuple[str, str]],
    older: list[tuple[str, str]] | None,
) -> None:
    """The limit itself is still within, what is past it is not; older rules where they differ."""
    found, kind = of(said, original, measured), "chain sling"
    piece = "hook" if said == "twist" else "sling"
    assert verdicts(found, kind=piece, description=kind) == strict
    assert verdicts(found, kind=piece, description=kind, criteria=OLDER) == (
        strict if older is None else older
    )


@pytest.mark.parametrize(
    ("said", "original", "measured", "word"),
    [
        ("throat", None, "105 mm", "original dimension is not given"),
        ("throat", "100 mm", None, "nothing measured"),
        ("throat", "105 mm", "100 mm", "smaller than the original"),
        ("wear", "22 mm", "25 mm", "greater than the original"),
        ("throat", 100.0, 104.0, "not both have a unit"),
        ("wear", "25 mm", 24.0, "not both have a unit"),
        ("wear", "0 mm", "1 mm", "is 0"),
        ("jib", "25 mm", "24 mm", "does not say what was measured"),
        ("twist", 0.0, None, "without its number"),
    ],
)
def test_what_cannot_be_compared_is_held(
    said: str, original: str | float | None, measured: str | float | None, word: str
) -> None:
    """With the sentence that says what to fill in."""
    row = Item(kind="hook", measurements=(of(said, original, measured),))
    (found,) = check(row, STRICT)
    assert (found.outcome, found.rule.name) == (HOLD, "measured-against-original")
    assert word in found.sentence
    assert found.sentence.startswith("sheet 'Inspections', row 4: ")
    assert found.remedy


def test_broken_wires_of_which_the_strand_is_not_said() -> None:
    """6 in a lay may be 5 in one strand of it; 6 of which 4 are in one strand are within both."""
    assert verdicts(broken_in_lay=6) == [("broken-wires", HOLD)]
    assert verdicts(broken_in_lay=6, broken_in_strand=4) == []
    assert verdicts(broken_in_lay=6, broken_in_strand=5) == [("broken-wires", FAIL)]
    assert verdicts(of("broken wires", None, 4.0)) == []
    assert verdicts(of("broken wires", None, 6.0)) == [("broken-wires", HOLD)]
    assert verdicts(condition="4 broken wires in one lay") == []
    assert verdicts(condition="12 broken wires in one lay; 2 broken wires in one strand") == [
        ("broken-wires", FAIL)
    ]


def test_wires_counted_under_a_heading_in_millimetres() -> None:
    """The unit of the column is not that of the count."""
    assert verdicts(Measurement("here", "broken wires in a strand", None, 5.0, "", "mm")) == [
        ("broken-wires", FAIL)
    ]
    assert verdicts(Measurement("here", "broken wires in a strand", None, 4 * 25.4, "", "in")) == []


def test_what_is_no_chain_may_not_stretch() -> None:
    """ASME B30.26 (from memory): a stretched body, any."""
    assert verdicts(of("stretch", "100 mm", "100.5 mm"), kind="shackle") == [("condition", FAIL)]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("cracked", [("condition", FAIL)]),
        ("weld spatter", [("condition", FAIL)]),
        ("no tag", [("no-tag", FAIL)]),
        ("broken stitches", [("condition", FAIL)]),
        ("illegible rating", [("condition", FAIL)]),
        ("fit for use", []),
        ("to be looked at", [("condition-unclear", HOLD)]),
    ],
)
def test_findings_in_words(said: str, expected: list[tuple[str, str]]) -> None:
    """What is not measured is judged by its words."""
    assert verdicts(Measurement("here", said)) == expected


def test_what_is_no_hook_may_not_be_twisted() -> None:
    """ASME B30.26 (from memory): bent or twisted, any; the 10 degrees are for hooks."""
    assert verdicts(of("twist", None, 2.0), kind="shackle", criteria=OLDER) == [("condition", FAIL)]
    assert verdicts(kind="shackle", twist_deg=2.0) == [("condition", FAIL)]


def test_a_bend_that_is_measured_is_still_a_bend() -> None:
    """Any bend takes a pin out, whatever its diameter."""
    assert ("condition", FAIL) in verdicts(of("bent pin, diameter", "25 mm", "25 mm"))


def test_names_of_findings() -> None:
    """As people call them."""
    assert [named(said) for said in ("Opening of the throat", "PIN DIA. wear", "Link stretch")] == [
        "throat",
        "wear",
        "stretch",
    ]
    assert named("broken wires") == "wires"


def test_every_rule_is_gathered() -> None:
    """So that rigxl rules can explain it."""
    assert {"chain-stretch", "broken-wires", "no-tag", "measured-against-original"} <= gathered().keys()
