"""Every spelling of our functions that is found in files, and no other text."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.formulas.spelling import HOSTS, UnreadableFormulaError, called, calls, respelt
from rigxl.formulas.tree import Call, Node, calls_us, parsed

SPELLINGS = [
    "RIGXL.LEGTENSION",
    "_xldudf_RIGXL_LEGTENSION",
    "[2]!_xldudf_RIGXL_LEGTENSION",
    "Other.xla!_xldudf_RIGXL_LEGTENSION",
    "_xll.RIGXL.LEGTENSION",
    "RIGXL_LEGTENSION",
    "[1]!RIGXL_LEGTENSION",
    "rigxl.xlam!RIGXL_LEGTENSION",
    "'C:\\Users\\it''s here\\rigxl.xlam'!RIGXL_LEGTENSION",
    "rigxl.legtension",
    "_XLDUDF_rigxl_LegTension",
]
"""Those of Office add-ins, of desktop macros and of LibreOffice, whole, half broken, and in small letters."""

FOREIGN = [
    "LEGTENSION",
    "SUM",
    "RIGXLEGTENSION",
    "_xlfn.IFNA",
    "ORIGXL.LEGTENSION",
    "Sheet1!RIGXL.LEGTENSION",
]


@pytest.mark.parametrize("spelt", SPELLINGS)
def test_each_spelling_is_ours(spelt: str) -> None:
    """Alone, nested in others, and after spaces."""
    assert called(spelt) == "LEGTENSION"
    assert [call.name for call in calls(f"={spelt}(A1,2,60)")] == ["LEGTENSION"]
    nested = f"=IF(A1>0, {spelt}( {spelt}(A1,2,60),2,60)*1.25,0)"
    assert [nested[call.start : call.end] for call in calls(nested)] == [spelt, spelt]


@pytest.mark.parametrize("name", FOREIGN)
def test_others_are_not(name: str) -> None:
    """A name that only looks like ours is nobody's we know."""
    assert called(name) == ""


def test_what_is_no_call() -> None:
    """Texts, names and sheets that speak of us."""
    for formula in (
        '="RIGXL.LEGTENSION(1,2,60)"',
        "=RIGXL.LEGTENSION",
        "='RIGXL.X('!A1",
        "=A1",
        "=rigxl_rate*2",
    ):
        assert calls(formula) == ()
        assert not calls_us(parsed(formula))


def test_a_spelling_that_nobody_uses_is_found_out() -> None:
    """It is no call that can be worked out, and it is not passed over."""
    (call,) = calls("=RIGXL.LEG_TENSION(1,2,60)")
    assert call.name == ""
    assert respelt("=RIGXL.LEG_TENSION(1,2,60)", "calc") == "=RIGXL.LEG_TENSION(1,2,60)"
    with pytest.raises(UnreadableFormulaError, match="no spelling"):
        parsed("=RIGXL.LEG_TENSION(1,2,60)")


@pytest.mark.parametrize("formula", ["=RIGXL.LEGTENSION(1,2", '=RIGXL.X("open)', "=RIGXL.X(1))"])
def test_a_broken_formula_is_refused(formula: str) -> None:
    """And not taken for one without calls."""
    with pytest.raises(UnreadableFormulaError):
        calls(formula)


NAME = st.sampled_from(["LEGTENSION", "UTILISATION", "REASON"])
SPELT = st.builds(
    lambda before, name, small: (before + name).lower() if small else before + name,
    st.sampled_from([one.removesuffix("LEGTENSION") for one in SPELLINGS[:9]]),
    NAME,
    st.booleans(),
)
LEAF = st.sampled_from(
    [
        "A1",
        "$B$2",
        "12.5",
        '"a ""RIGXL.LEGTENSION("" b"',
        "'RIGXL_X (1)'!C3",
        "TRUE",
        "T[[#This Row],[load]]",
        "x & y",
    ]
)


@st.composite
def formulas(draw: st.DrawFn, depth: int = 3) -> tuple[str, list[str]]:
    """A formula, and the functions of ours that it calls, in order."""
    if depth == 0 or draw(st.integers(0, 3)) == 0:
        return draw(LEAF), []
    parts = [draw(formulas(depth - 1)) for _ in range(draw(st.integers(1, 3)))]
    names = [name for _, inner in parts for name in inner]
    texts = [text for text, _ in parts]
    way = draw(st.sampled_from(["ours", "native", "sum", "brackets"]))
    space = draw(st.sampled_from(["", " ", "\n  "]))
    if way == "ours":
        spelt = draw(SPELT)
        name = called(spelt)
        return f"{spelt}({f',{space}'.join(texts)})", [name, *names]
    if way == "native":
        return f"IF({f',{space}'.join(texts)})", names
    if way == "sum":
        return f"{space}+{space}".join(texts), names
    return f"({space}{'*'.join(texts)})^2", names


@settings(deadline=None, max_examples=300)
@given(formulas(), st.sampled_from(sorted(HOSTS)), st.sampled_from(sorted(HOSTS)))
def test_round_trips(made: tuple[str, list[str]], one: str, other: str) -> None:
    """Whatever host a formula is respelt for, its calls stay the same, and so does all the rest."""
    formula, names = f"={made[0]}", made[1]
    assert [call.name for call in calls(formula)] == names
    there = respelt(formula, one)
    assert [call.name for call in calls(there)] == names
    assert respelt(there, other) == respelt(formula, other)
    assert respelt(there, one) == there
    rest = formula
    for call in reversed(calls(formula)):
        rest = rest[: call.start] + HOSTS[one].format(call.name) + rest[call.end :]
    assert rest == there
    assert calls_us(parsed(formula)) is bool(names)
    assert _names(parsed(formula)) == sorted(names)


def _names(node: Node) -> list[str]:
    """The functions of ours in a tree, sorted."""
    found, waiting = [], [node]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Call):
            found += [one.name] if one.ours else []
            waiting += [inner for inner in one.arguments if inner is not None]
        else:
            waiting += [inner for inner in one if isinstance(inner, tuple)]  # type: ignore[misc]
    return sorted(found)


@settings(deadline=None, max_examples=500)
@given(st.text(st.sampled_from("=RIGXL.A_1(),;\"'{}[]!#+-*/^&<>% \n\t$:@\\é"), max_size=40))
def test_nothing_breaks_it(text: str) -> None:
    """Any text is taken apart or refused as unreadable, and never breaks otherwise."""
    for work in (calls, parsed):
        try:
            work(f"=RIGXL.{text}")  # type: ignore[operator]
        except UnreadableFormulaError:
            continue


@pytest.mark.parametrize("text", ["[" * 300 + "]" * 300, '"a"&' * 3000 + "1", "(" * 4000 + "1" + ")" * 4000])
def test_hostile_formulas_are_refused_at_once(text: str) -> None:
    """Too long, too many brackets, too deep."""
    with pytest.raises(UnreadableFormulaError):
        parsed(f"=RIGXL.UTILISATION({text},1)")
