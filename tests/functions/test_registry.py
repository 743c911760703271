"""The registry: every function is documented and runs, and every call is checked at the door."""

import doctest
import inspect
import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import (
    InputError,
    MissingInputError,
    NotRatedError,
    OutOfRangeError,
    RigxlError,
    UnreadableError,
)
from rigxl.functions import FUNCTIONS, FunctionSpec, call, call_text, spec
from rigxl.worksheet import lint_arguments, lint_name

EVERY = pytest.mark.parametrize("entry", FUNCTIONS.values(), ids=list(FUNCTIONS))

# Arguments that no function may take at 0: a blank cell arrives as 0 in some programs.
NEVER_ZERO = {
    "load",
    "force",
    "rating",
    "value",
    "legs",
    "carrying",
    "derate",
    "spread",
    "leg_length",
    "distance",
    "height",
    "other_distance",
    "other_height",
}


def test_the_functions_there_are() -> None:
    assert {
        "CONVERTLOAD",
        "HOOKLOAD",
        "LEGTENSION",
        "LOADANGLEFACTOR",
        "REQUIREDCAPACITY",
        "SHACKLEDERATE",
        "SLINGANGLE",
        "SLINGCAPACITY",
        "UNEQUALLEGTENSION",
        "UTILISATION",
    } <= set(FUNCTIONS)
    assert list(FUNCTIONS) == sorted(FUNCTIONS)


@EVERY
def test_documented(entry: FunctionSpec) -> None:
    """A first line, a source, a unit of the answer; each argument described, each quantity with its unit."""
    assert entry.help
    assert len(entry.help) <= 255, "some programs cut the help at 255 characters"
    assert entry.source
    assert entry.unit or entry.kind in ("text", "flag")
    for argument in entry.arguments:
        assert argument.help, argument.name
        assert len(argument.help) <= 255, argument.name
        assert argument.unit or argument.kind in ("text", "flag", "any"), argument.name


@EVERY
def test_names_every_program_can_use(entry: FunctionSpec) -> None:
    assert lint_name(entry.name) == []
    assert lint_arguments(argument.name for argument in entry.arguments) == []


@EVERY
def test_optional_arguments_come_last(entry: FunctionSpec) -> None:
    required = [argument.required for argument in entry.arguments]
    assert required == sorted(required, reverse=True)


@EVERY
def test_examples_run(entry: FunctionSpec) -> None:
    """The marked example gives what it says, and the docstring holds one that runs."""
    answer = call(entry.name, *entry.example)
    if entry.kind == "text":
        assert answer
    else:
        assert not isinstance(answer, str)
        assert math.isfinite(answer)
    if entry.answer is not None:
        assert answer == pytest.approx(entry.answer)
    assert call_text(entry.name, *map(str, entry.example)) == answer
    parsed = doctest.DocTestParser().get_examples(inspect.getdoc(entry.function) or "")
    assert parsed, "no example in the docstring"
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS)
    test = doctest.DocTest(parsed, dict(entry.function.__globals__), entry.name, None, None, None)
    assert runner.run(test).failed == 0


@EVERY
@pytest.mark.parametrize("wrong", [None, "", "  "])
def test_no_blank_passes(entry: FunctionSpec, wrong: object) -> None:
    for place in range(len(entry.example)):
        if entry.arguments[place].kind == "any":
            continue
        values: list[object] = list(entry.example)
        values[place] = wrong
        with pytest.raises(MissingInputError, match=f"missing: {entry.arguments[place].name}"):
            call(entry.name, *values)


@EVERY
@pytest.mark.parametrize("wrong", [math.nan, math.inf, True, False, "5", [5.0]])
def test_nothing_but_a_plain_number_passes_for_one(entry: FunctionSpec, wrong: object) -> None:
    for place in range(len(entry.example)):
        if entry.arguments[place].kind in ("number", "count"):
            values: list[object] = list(entry.example)
            values[place] = wrong
            with pytest.raises(UnreadableError, match=f"{entry.name}: {entry.arguments[place].name}"):
                call(entry.name, *values)


@EVERY
def test_zero_is_no_quantity(entry: FunctionSpec) -> None:
    for place, argument in enumerate(entry.arguments[: len(entry.example)]):
        if argument.name in NEVER_ZERO or (argument.name == "angle" and "from horizontal" in argument.help):
            values: list[object] = list(entry.example)
            values[place] = 0.0
            with pytest.raises(OutOfRangeError, match=argument.name.split("_")[0]):
                call(entry.name, *values)


@EVERY
def test_too_few_and_too_many(entry: FunctionSpec) -> None:
    with pytest.raises(MissingInputError, match=r"missing: .*\("):
        call(entry.name)
    with pytest.raises(InputError, match="too many"):
        call(entry.name, *[1] * (len(entry.arguments) + 1))


ANYTHING = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=5),
    st.sampled_from(["lb", "kN", "basket"]),
)


@given(st.sampled_from(sorted(FUNCTIONS)), st.lists(ANYTHING, max_size=8))
def test_an_answer_is_of_the_promised_kind_or_a_refusal(name: str, values: list[object]) -> None:
    """A finite number; a text only from a function that promises one, such as a size."""
    try:
        answer = call(name, *values)
    except RigxlError:
        return
    if FUNCTIONS[name].kind == "text":
        assert isinstance(answer, str)
        assert answer.strip()
        return
    assert isinstance(answer, (int, float))
    assert math.isfinite(answer)


def test_name_in_any_case() -> None:
    assert spec("legtension") is spec(" LEGTENSION ") is FUNCTIONS["LEGTENSION"]


def test_unknown_name_lists_near_ones() -> None:
    with pytest.raises(InputError, match="LEGTENSION"):
        call("LEGTENSON", 1, 2, 3)
    with pytest.raises(InputError, match=r"LEGTENSION.*UTILISATION"):
        spec("??")


def test_signature_and_example_as_typed() -> None:
    entry = FUNCTIONS["SLINGCAPACITY"]
    assert entry.signature == (
        "SLINGCAPACITY(rating, hitch, legs, angle, [carrying], [choke_angle], [material])"
    )
    assert entry.example_text == 'SLINGCAPACITY(10, "choker", 2, 30, 2, 90)'


def test_choices_and_units_are_told() -> None:
    by_name = {argument.name: argument for argument in FUNCTIONS["SLINGCAPACITY"].arguments}
    assert by_name["hitch"].choices == ("vertical", "choker", "basket")
    assert by_name["material"].default == "wire rope"
    assert by_name["angle"].unit == "deg"
    assert by_name["legs"].kind == "count"
    assert by_name["rating"].unit == "any unit of force or mass"
    assert FUNCTIONS["SLINGCAPACITY"].unit == "as rating"


def test_choices_in_any_case() -> None:
    assert call("SLINGCAPACITY", 10, " Basket ", 1, 90, material="WIRE  rope") == 20
    with pytest.raises(InputError, match="hitch is 'bascket'; it must be one of vertical, choker, basket"):
        call("SLINGCAPACITY", 10, "bascket", 1, 90)
    with pytest.raises(UnreadableError, match="hitch must be text"):
        call("SLINGCAPACITY", 10, 3, 1, 90)


def test_arguments_by_name() -> None:
    assert call("LEGTENSION", 10, 4, angle=30, carrying=4) == 5
    with pytest.raises(InputError, match="load is given twice"):
        call("LEGTENSION", 10, 2, 30, load=10)
    with pytest.raises(InputError, match="there is no argument 'lode'"):
        call("LEGTENSION", 10, 2, 30, lode=10)


def test_leg_tension_of_more_than_four_legs_waits_for_carrying() -> None:
    with pytest.raises(MissingInputError, match="carrying"):
        call("LEGTENSION", 10, 6, 60)
    assert call("LEGTENSION", 10, 6, 30, 4) == 5


def test_below_thirty_degrees_there_is_a_tension_but_no_rating() -> None:
    """US Army FM 5-125, 1995, figure 3-9: 1000 lb on two legs at 15 degrees, 1930 lb, rounded down."""
    assert call("LEGTENSION", 1000, 2, 15) == pytest.approx(1930, rel=0.002)
    with pytest.raises(NotRatedError):
        call("SLINGCAPACITY", 1000, "vertical", 2, 15)


@pytest.mark.parametrize("text", ["nan", "inf", "1,5", "1_000", "0x10", "5 t", "٥", "five", "1e", "--5"])
def test_a_typed_number_is_plain(text: str) -> None:
    with pytest.raises(UnreadableError, match="load is '"):
        call_text("LEGTENSION", text, "2", "60")


def test_typed_arguments() -> None:
    assert call_text("legtension", " 1e1 ", "2", "+30") == 10
    assert call_text("CONVERTLOAD", "1", "short ton", "to_unit=lb") == pytest.approx(2000)
    with pytest.raises(MissingInputError, match="missing: legs is blank"):
        call_text("LEGTENSION", "10", "", "60")
    with pytest.raises(InputError, match="after a named argument"):
        call_text("LEGTENSION", "load=10", "2", "60")
    with pytest.raises(OutOfRangeError, match="whole number"):
        call_text("LEGTENSION", "10", "2.5", "60")
    with pytest.raises(UnreadableError, match="finite"):
        call_text("LEGTENSION", "1e999", "2", "60")


def test_nothing_is_gathered_before_it_is_asked_for() -> None:
    asked = "import sys, rigxl.functions; print('rigxl.mechanics.legs' in sys.modules, 'pint' in sys.modules)"
    shown = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert shown.stdout.split() == ["False", "False"]
