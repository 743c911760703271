"""POST /calculate: the contract with Python, batches of all kinds, and what does not belong in one."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.functions.columns import Refused, answer
from rigxl.hosts.server import calculate
from rigxl.hosts.server.limits import ServerLimits
from rigxl.hosts.server.settings import Settings
from tests.hosts.cases import CASES, TOLERANCE
from tests.hosts.serving import Asked, call, problem

GOOD = call("LEGTENSION", 10, 2, 30)


@pytest.fixture(scope="module")
def server() -> Asked:
    return Asked()


def same(found: Any, expected: Any) -> bool:
    """Whether what came over the wire is what Python answers, cell by cell."""
    if isinstance(expected, Refused):
        return bool(found == {"error": {"code": expected.code, "sentence": expected.sentence}})
    if isinstance(expected, list):
        return len(found) == len(expected) and all(map(same, found, expected))
    if isinstance(expected, bool | str):
        return found is expected if isinstance(expected, bool) else bool(found == expected)
    return not isinstance(found, bool | str) and math.isclose(found, expected, rel_tol=TOLERANCE)


def test_the_contract(server: Asked) -> None:
    """Every case in batches of a hundred: the same value, or the same refusal."""
    for at in range(0, len(CASES), 100):
        cases = CASES[at : at + 100]
        answers = server.calculate(*(call(case.function, *case.arguments) for case in cases))
        for case, found in zip(cases, answers, strict=True):
            expected = case.expected
            key = (
                "error"
                if isinstance(expected, Refused)
                else "values"
                if isinstance(expected, list)
                else "value"
            )
            assert found.keys() == {key}, case
            assert same(found if key == "error" else found[key], expected), case


def test_an_answer_remembered_is_that_of_its_own_kind(server: Asked) -> None:
    """1, 1.0 and true are equal in Python; a flag is no number, and the order they come in is no matter."""
    for _ in range(2):
        one, point, true = server.calculate(
            call("LOADANGLEFACTOR", 90), call("LOADANGLEFACTOR", 90.0), call("LOADANGLEFACTOR", True)
        )
        assert one == point == {"value": 1.0}
        assert true["error"]["code"] == "VALUE"
    verdicts = [
        call("LEGTENSION", 10, 1, 30),
        call("LEGTENSION", 10, True, 30),
        call("LEGTENSION", 10, 1.0, 30),
    ]
    assert [list(one) for one in server.calculate(*verdicts)] == [["value"], ["error"], ["value"]]


def test_a_fault_of_ours_fails_its_own_call_alone(
    server: Asked, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """And what it had in hand is not in the answer."""

    def breaks(name: str, arguments: Any) -> Any:
        if name == "SLINGANGLE":
            raise KeyError("secret 4711")
        return answer(name, arguments)

    monkeypatch.setattr(calculate, "answer", breaks)
    good, bad = server.calculate(call("LEGTENSION", 77, 2, 30), call("SLINGANGLE", 4711.5, 2))
    assert good == {"value": 77.0}
    assert bad["error"]["code"] == "VALUE"
    assert "4711" not in bad["error"]["sentence"]
    assert [record.message for record in caplog.records] == ["fault"]


BAD_CALLS = [
    ('{"function": "LEGTENSION"}', "missing required field `arguments`"),
    ('{"arguments": [1]}', "missing required field `function`"),
    ('{"function": 5, "arguments": []}', "Expected `str`"),
    ('{"function": "LEGTENSION", "arguments": 5}', "Expected `array`"),
    ('{"function": "LEGTENSION", "arguments": [1], "unit": "kg"}', "unknown field `unit`"),
    ('{"function": "LEGTENSION", "arguments": [1000], "arguments": [10, 2, 30]}', "a key twice"),
    ('{"function": "SLINGANGLE", "arguments": [10, 2], "function": "LEGTENSION"}', "a key twice"),
    ('{"function": "LEGTENSION", "arguments": [{"value": 10}, 2, 30]}', "unknown field `value`"),
    ('{"function": "LEGTENSION", "arguments": [{"error": "#N/A", "error": "5"}, 2, 30]}', "a key twice"),
    ('{"function": "LEGTENSION", "arguments": [[10, 20], 2, 30]}', "Expected `array`, got `int`"),
    ('{"function": "LEGTENSION", "arguments": [[[[10]]], 2, 30]}', "got `array`"),
    ('{"function": "LEGTENSION", "arguments": [[[10], [20, 30]], 2, 30]}', "load"),
    ('{"function": "LEGTENSION", "arguments": [[], 2, 30]}', "load"),
    ('{"function": "LEGTENSION", "arguments": [[[]], 2, 30]}', "load"),
    ('{"function": "LEGTENSION", "arguments": [1e400, 2, 30]}', "finite"),
    ('{"function": "LEGTENSION", "arguments": [' + "9" * 5000 + ", 2, 30]}", "finite"),
    ('{"function": "LEGTENSION", "arguments": [-' + "9" * 5000 + ", 2, 30]}", "finite"),
    ('{"function": "CONVERTLOAD", "arguments": [1, "\\ud800", "kg"]}', "is not a unit"),
    ('{"function": "\\udfff", "arguments": []}', "half a character"),
    ('{"function": "NOSUCH", "arguments": []}', "there is no function"),
    ('{"function": "CONVERTLOAD", "arguments": [1, "' + "k" * 1001 + '", "kg"]}', "length <= 1000"),
    ('{"function": "", "arguments": []}', "there is no function"),
    ('{"function": "LEGTENSION", "arguments": [1, 2, 3, 4, 5, 6, 7]}', "too many"),
    ('{"function": "LEGTENSION", "arguments": [' + ",".join(["1"] * 500) + "]}", "too many"),
    ("null", "Expected `object`"),
    ("[]", "Expected `object`"),
    ("7", "Expected `object`"),
]


@pytest.mark.parametrize(("bad", "words"), BAD_CALLS)
def test_one_bad_call_never_fails_the_others(server: Asked, bad: str, words: str) -> None:
    """Whatever stands between two good calls, they are answered, and it is refused by a sentence."""
    good = json.dumps(GOOD)
    reply = server("POST", "/calculate", content=f'{{"calls": [{good}, {bad}, {good}]}}')
    assert reply.status_code == 200, reply.text
    first, between, last = reply.json()["answers"]
    assert first == last == {"value": 10.0}
    assert between.keys() == {"error"}
    assert between["error"]["code"] == "VALUE"
    assert words in between["error"]["sentence"]


@pytest.mark.parametrize(
    ("body", "status", "code", "words"),
    [
        (b"", 400, "not-json", "line 1, column 1"),
        (b"{", 400, "not-json", "column 2"),
        (b"\xff\xfe{}", 400, "not-json", "UTF-8"),
        (b"\xef\xbb\xbf{}", 400, "not-json", "no JSON"),
        (b'{"calls": [{"function": "LEGTENSION", "arguments": [NaN, 2, 30]}]}', 400, "not-json", "NaN"),
        (
            b'{"calls": [{"function": "SLINGANGLE", "arguments": [-Infinity]}]}',
            400,
            "not-json",
            "Infinity",
        ),
        (b'{"calls": ' + b"[" * 100_000, 400, "not-json", "nested too deep"),
        (b'{"calls": ' + b"[" * 900 + b"]" * 900 + b"}", 200, "", ""),
        (b"[]", 422, "not-a-batch", "calls"),
        (b'"calls"', 422, "not-a-batch", "calls"),
        (b"{}", 422, "not-a-batch", "calls"),
        (b'{"calls": 5}', 422, "not-a-batch", "calls"),
        (b'{"calls": [], "more": 1}', 422, "not-a-batch", "calls"),
        (b'{"calls": [], "calls": []}', 422, "not-a-batch", "calls"),
        # as many keys and lists as two plain calls have
        (
            b'{"calls": [{"x": 1}], "calls": [{"function": "LOADANGLEFACTOR", "arguments": [30]}, 5]}',
            422,
            "not-a-batch",
            "calls",
        ),
    ],
)
def test_what_is_no_batch(server: Asked, body: bytes, status: int, code: str, words: str) -> None:
    """By its code and a sentence; a call that is nested too deep is refused alone."""
    reply = server("POST", "/calculate", content=body)
    assert reply.status_code == status, reply.text
    if code:
        assert problem(reply)[:2] == (status, code)
        assert words in problem(reply)[2]
    else:
        assert [one.keys() for one in reply.json()["answers"]] == [{"error"}]


def test_what_one_call_has_twice_and_another_lacks(server: Asked) -> None:
    """Together they have as many keys and lists as two plain calls; still nobody knows which is meant."""
    once = '"function": "LEGTENSION", "arguments": [9, 2, 30]'
    twice = f"{{{once}, {once.replace('9', '1')}}}"
    reply = server("POST", "/calculate", content=f'{{"calls": [{twice}, 5]}}')
    assert [one.keys() for one in reply.json()["answers"]] == [{"error"}, {"error"}]
    assert "a key twice" in reply.json()["answers"][0]["error"]["sentence"]


def test_no_calls_are_no_answers(server: Asked) -> None:
    assert server.calculate() == []


@pytest.mark.parametrize(
    ("limits", "calls", "code", "words"),
    [
        ({"batch_calls": 2}, [GOOD] * 3, "over-batch-calls", "3 calls; at most 2"),
        ({"batch_cells": 5}, [call("LEGTENSION", [[1.0]] * 6, 2, 30)], "over-batch-cells", "at most 5"),
        # a column against a row asks for a square of answers
        (
            {"batch_cells": 99},
            [call("LEGTENSION", [[1.0]] * 10, 2, [[30.0] * 10])],
            "over-batch-cells",
            "100 cells; at most 99",
        ),
        ({"batch_bytes": 50}, [GOOD], "over-batch-bytes", "50 bytes"),
    ],
)
def test_a_batch_that_is_too_large(limits: dict[str, Any], calls: list[Any], code: str, words: str) -> None:
    """413, with the limit's name and number."""
    server = Asked(Settings(limits=ServerLimits(**limits)))
    status, found, sentence = problem(server("POST", "/calculate", json={"calls": calls}))
    assert (status, found) == (413, code)
    assert words in sentence
    assert server("GET", "/healthz").status_code == 200


def test_a_batch_that_takes_too_long() -> None:
    """503, and nothing is answered."""
    server = Asked(Settings(limits=ServerLimits(batch_seconds=1e-9)))
    reply = server("POST", "/calculate", json={"calls": [GOOD]})
    assert problem(reply)[:2] == (503, "over-batch-seconds")
    assert reply.headers["retry-after"] == "1"


def test_a_large_batch_is_worked_out_beside_the_loop(server: Asked) -> None:
    """Ten thousand calls, and as many cells in one call."""
    many = server.calculate(*(call("LEGTENSION", load, 2, 30) for load in range(1, 10_001)))
    assert [one["value"] for one in many] == list(range(1, 10_001))
    (column,) = server.calculate(call("LEGTENSION", [[load] for load in range(1, 10_001)], 2, 30))
    assert [row[0] for row in column["values"]] == list(range(1, 10_001))


SINGLE = (
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text()
)
CELLS = SINGLE | st.fixed_dictionaries({"error": st.text()})
TREE = st.recursive(SINGLE, lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=8)
CALL = st.fixed_dictionaries(
    {
        "function": st.sampled_from(sorted({case.function for case in CASES})) | st.text(),
        "arguments": st.lists(CELLS | st.lists(st.lists(CELLS, max_size=3), max_size=3), max_size=9),
    }
)


@settings(max_examples=150, deadline=None)
@given(st.lists(CALL | TREE, max_size=5))
def test_any_json_is_answered(calls: list[Any]) -> None:
    """Each thing in the list gets its one answer, and a well-formed one that of Python."""
    answers = SHARED.calculate(*calls)
    assert len(answers) == len(calls)
    for found in answers:
        assert found.keys() in ({"value"}, {"values"}, {"error"})
        assert None not in found.values()


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=60) | st.text(max_size=60).map(str.encode))
def test_any_bytes_are_answered(body: bytes) -> None:
    """With 200 or a refusal, never a fault."""
    status = SHARED("POST", "/calculate", content=body).status_code
    assert status in (200, 400, 422)


SHARED = Asked()
