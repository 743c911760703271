"""The real functions.js in the real Chromium against the real server over TLS; only Excel is stood in for."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("trustme")

import trustme

from rigxl.errors import CellError
from rigxl.functions.columns import Cell, Refused, answer
from tests.hosts.browser import PAGE, Browser, Running, serving
from tests.hosts.cases import CASES, TOLERANCE

ADDRESS = "'Lift''s plan'!B2"


@pytest.fixture(scope="module")
def authority() -> trustme.CA:
    return trustme.CA()


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory, authority: trustme.CA) -> Browser:
    return Browser(tmp_path_factory.mktemp("home"), authority)


@pytest.fixture(scope="module")
def running(
    tmp_path_factory: pytest.TempPathFactory, authority: trustme.CA, browser: Browser
) -> Iterator[Running]:
    assert browser
    with serving(authority, tmp_path_factory.mktemp("server")) as found:
        yield found


def handed(value: object) -> object:
    """An argument as Excel hands it over: rows of cells, or nothing."""
    if value is None:
        return None
    rows = value if isinstance(value, list) else [[value]]
    return [[_cell(cell) for cell in row] for row in rows]


def _cell(value: object) -> object:
    if isinstance(value, CellError):
        return {"type": "Error", "basicType": "Error", "basicValue": str(value)}
    return value


def call(function: str, *arguments: object, **more: Any) -> dict[str, Any]:
    """A call for the page."""
    return {"function": function, "arguments": [handed(value) for value in arguments], **more}


def asked(browser: Browser, running: Running, calls: list[dict[str, Any]], base: str = "") -> dict[str, Any]:
    """The page's answers; ``base`` is where the script and the calculations are, unless at the page's own."""
    extra = running.extra
    extra.calls = json.dumps(calls).encode()
    page = PAGE.replace("BASE", base or f"{running.origin}/office/").replace("CALLS", "calls")
    extra.page = page.encode()
    return browser.answers(f"{running.origin}/office/selftest.html")


def same(found: object, expected: Cell) -> bool:
    if isinstance(expected, Refused):
        return found == {"code": expected.code, "sentence": expected.sentence}
    if isinstance(expected, bool | str):
        return type(found) is type(expected) and found == expected
    return isinstance(found, float | int) and found == pytest.approx(expected, rel=TOLERANCE, abs=0)


def test_every_case_as_python_has_it(browser: Browser, running: Running) -> None:
    """Values, errors, and the sentence of each error."""
    found = asked(browser, running, [call(case.function, *case.arguments) for case in CASES])["answers"]
    assert len(found) == len(CASES)
    for case, rows in zip(CASES, found, strict=True):
        expected = case.expected
        if isinstance(expected, Refused):
            assert same(rows, expected), (case, rows)
            continue
        wanted = expected if isinstance(expected, list) else [[expected]]
        assert [len(row) for row in rows] == [len(row) for row in wanted], case
        for row, wanted_row in zip(rows, wanted, strict=True):
            assert all(map(same, row, wanted_row)), (case, row, wanted_row)


def test_ten_thousand_calls_in_five_requests(browser: Browser, running: Running) -> None:
    calls = [call("LEGTENSION", 1000.0 + at, 2, 60) for at in range(10_000)]
    before = running.extra.calculations
    found = asked(browser, running, calls)
    assert running.extra.calculations - before == 5
    for at in (0, 1999, 2000, 9999):
        assert found["answers"][at] == [[answer("LEGTENSION", [1000.0 + at, 2, 60])]]


def test_a_batch_too_large_is_asked_in_parts(browser: Browser, running: Running) -> None:
    """Only the call that is too large by itself is refused, with the server's sentence."""
    calls = [call("LEGTENSION", 10, 2, 30)] * 3
    calls.insert(1, call("LEGTENSION", [[10]] * 200_001, 2, 30))
    found = asked(browser, running, calls)["answers"]
    assert found[0] == found[2] == found[3] == [[10.0]]
    assert found[1]["code"] == "NA"
    assert "200,000" in found[1]["sentence"]


def test_a_blank_cell_that_reads_as_zero_is_told(browser: Browser, running: Running) -> None:
    """Where 0 would be an answer, the workbook is asked whether the cell is blank."""
    found = asked(
        browser,
        running,
        [
            call("SHACKLEDERATE", 0, addresses=[ADDRESS], blanks=["B2"]),
            call("SHACKLEDERATE", 0, addresses=["'Lift''s plan'!B3"]),
            call("SHACKLEDERATE", 0, addresses=[None]),
            call("SHACKLEDERATE", 0, addresses=["Gone!B2"]),
        ],
    )["answers"]
    assert found[0] == {"code": "VALUE", "sentence": "SHACKLEDERATE: missing: angle is blank"}
    assert found[1] == found[2] == [[1.0]]
    assert found[3] == {
        "code": "NA",
        "sentence": "whether Gone!B2 is blank or 0 could not be seen: there is no sheet Gone",
    }


def test_the_server_is_down(browser: Browser, running: Running) -> None:
    """At once, with a sentence, and never a value: the script is there, the server is not."""
    calls = [call("LEGTENSION", 10, 2, 60)] * 3
    running.extra.calls = json.dumps(calls).encode()
    page = PAGE.replace("BASE", "https://localhost:9/office/").replace("CALLS", "calls")
    running.extra.page = page.replace(
        'src="functions.js"', f'src="{running.origin}/office/functions.js"'
    ).encode()
    found = browser.answers(f"{running.origin}/office/selftest.html")
    assert (
        found["answers"]
        == [{"code": "NA", "sentence": "the calculation server cannot be reached: start it with rigxl serve"}]
        * 3
    )
    assert found["ms"] < 5000


@pytest.mark.parametrize("allowed", [True, False])
def test_a_page_of_another_origin(
    browser: Browser, running: Running, authority: trustme.CA, tmp_path: Path, allowed: bool
) -> None:
    """It is answered where the server was told of it, and refused where not."""
    with serving(authority, tmp_path, (running.origin,) if allowed else ()) as other:
        calls = [call("LEGTENSION", 10, 2, 30)]
        found = asked(browser, running, calls, base=f"{other.origin}/office/")["answers"]
    if allowed:
        assert found == [[[10.0]]]
    else:
        assert found[0]["code"] == "NA"


def test_a_certificate_nobody_trusts(running: Running, tmp_path: Path) -> None:
    page = Browser(tmp_path, None).run(f"{running.origin}/office/pane.html", "--dump-dom")
    assert "Rigging functions" not in page


def test_the_pane_lists_every_function(browser: Browser, running: Running) -> None:
    """With the server's state, though the script of Excel itself cannot be reached here."""
    page = browser.run(f"{running.origin}/office/pane.html", "--virtual-time-budget=5000", "--dump-dom")
    assert page.count("<summary><b>") >= len({case.function for case in CASES})
    assert "The calculation server answers." in page
