"""POST /workbooks: findings, marked copies, and workbooks that should not be there."""

from __future__ import annotations

import asyncio
import email
import email.policy
import gc
import io
import json
import tempfile
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import httpx
import openpyxl
import pytest

from rigxl.hosts.server import workbooks
from rigxl.hosts.server.limits import ServerLimits
from rigxl.hosts.server.settings import Settings
from rigxl.hosts.server.workbooks import BOTH, JSON, WORKBOOK
from rigxl.schedule.check import check_workbook
from rigxl.schedule.report import workbook as reported
from rigxl.workbook.guard import Limits
from tests.hosts import misbehaving
from tests.hosts.serving import Asked, problem
from tests.workbook.hostile import CASES

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
FIXTURES = Path(__file__).parents[1] / "workbook" / "fixtures"
FOOTBRIDGE = SAMPLES / "footbridge.xlsx"
XLSX = WORKBOOK[".xlsx"]


@pytest.fixture
def server(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Asked:
    """A server whose temporary folders are looked at."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    return Asked(Settings(reading=Limits(cells=500_000)))


def send(server: Asked, sent: Path | bytes, accept: str = "", query: str = "") -> httpx.Response:
    """A workbook sent as it is."""
    content = sent if isinstance(sent, bytes) else sent.read_bytes()
    headers = {"Accept": accept} if accept else {}
    return server("POST", f"/workbooks{query}", content=content, headers=headers)


def send_form(server: Asked, accept: str = JSON, **files: Path) -> httpx.Response:
    """A workbook sent in a form, as browsers do."""
    parts = {name: (path.name, path.read_bytes()) for name, path in files.items()}
    return server("POST", "/workbooks", files=parts, headers={"Accept": accept})


def nothing_left() -> bool:
    return list(Path(tempfile.gettempdir()).iterdir()) == []


def test_the_findings_are_those_of_the_command(server: Asked) -> None:
    """Row by row what ``check_workbook`` finds, under the name that was sent."""
    query = "?name=footbridge.xlsx&set=judged on=2026-11-25"
    reply = send(server, FOOTBRIDGE, query=query)
    assert (reply.status_code, reply.headers["content-type"]) == (200, JSON)
    document = reply.json()
    (found,) = document["workbooks"]
    expected = reported(check_workbook(FOOTBRIDGE, overrides={"judged on": "2026-11-25"}))
    assert found["file"] == "footbridge.xlsx"
    assert found["marked"] is None
    assert found["rows"] == json.loads(json.dumps(expected["rows"]))
    assert found["counts"] == expected["counts"]
    judged_on = next(one for one in found["criteria"] if one["setting"] == "judged on")
    assert judged_on["chosen by"] == "the request"
    assert document["cautions"]
    assert nothing_left()


def test_the_marked_copy(server: Asked) -> None:
    """By the media type of a workbook; nothing in it names where it was worked on."""
    reply = send_form(server, XLSX, file=SAMPLES / "bakery_as_received.xlsx")
    assert reply.headers["content-type"] == XLSX
    assert reply.headers["content-disposition"].endswith("''bakery_as_received.marked.xlsx")
    book = openpyxl.load_workbook(io.BytesIO(reply.content))
    assert "rigxl summary" in book.sheetnames
    texts = {str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row if cell.value}
    assert "rigxl verdict" in texts
    assert not [text for text in texts if tempfile.gettempdir() in text]
    assert any("bakery_as_received.xlsx" in text for text in texts)
    assert nothing_left()


def test_both_in_one_form(server: Asked) -> None:
    """As a page or a mail reader takes it apart."""
    reply = send(server, FOOTBRIDGE, BOTH, "?name=footbridge.xlsx")
    head = f"Content-Type: {reply.headers['content-type']}\r\n\r\n".encode()
    form = email.message_from_bytes(head + reply.content, policy=email.policy.HTTP)
    assert isinstance(form, EmailMessage)
    findings, marked = form.iter_parts()
    assert findings.get_content_type() == JSON
    assert json.loads(findings.get_payload(decode=True))["workbooks"][0]["marked"] == "footbridge.marked.xlsx"  # type: ignore[arg-type]
    assert marked.get_filename() == "footbridge.marked.xlsx"
    content = marked.get_payload(decode=True)
    assert isinstance(content, bytes)
    assert "rigxl summary" in openpyxl.load_workbook(io.BytesIO(content)).sheetnames


def test_options(server: Asked) -> None:
    """Criteria, settings, sheets and a maker's ratings, as the command has them."""
    query = "?criteria=europe&set=margin=0.5"
    europe = send(server, SAMPLES / "bakery_as_received.xlsx", query=query).json()
    chosen = {one["setting"]: one for one in europe["workbooks"][0]["criteria"]}
    assert (chosen["margin"]["value"], chosen["margin"]["chosen by"]) == ("0.5", "the request")
    assert chosen["leg sharing"]["value"] == "mode factors"


def test_ratings_beside_the_workbook(server: Asked, tmp_path: Path) -> None:
    """They govern, as with --ratings."""
    ratings = tmp_path.parent / "ratings.csv"
    ratings.write_text("kind,maker,size,rated load (t)\nshackle,Nobody,1 in,8\n", encoding="utf-8")
    assert send_form(server, file=FOOTBRIDGE, ratings=ratings).status_code == 200
    ratings.write_text("one,two\n1,2\n", encoding="utf-8")
    refused = problem(send_form(server, file=FOOTBRIDGE, ratings=ratings))
    assert refused[0] == 422
    assert "ratings" in refused[2]


@pytest.mark.parametrize(
    ("query", "accept", "status", "words"),
    [
        ("?criteria=mars", "", 422, "us, ontario, europe"),
        ("?set=margin=lots", "", 422, "margin"),
        ("?set=margin", "", 422, "NAME=VALUE"),
        ("?sheet=Nowhere", "", 400, "Nowhere"),
        ("?colour=red", "", 422, "name, criteria, set, sheet"),
        ("", "image/png", 406, "application/json"),
    ],
)
def test_what_is_not_understood(server: Asked, query: str, accept: str, status: int, words: str) -> None:
    """A sentence each."""
    found, _, sentence = problem(send(server, FOOTBRIDGE, accept, query))
    assert found == status
    assert words in sentence
    assert nothing_left()


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_forms_that_are_none(server: Asked) -> None:
    """An empty body, a form that breaks off, one without the file, one with more than is taken."""
    assert problem(send(server, b""))[:2] == (422, "no-workbook")
    assert problem(send_form(server, ratings=FOOTBRIDGE))[:2] == (422, "no-workbook")
    whole = b'--xyz\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\n1;2\r\n--xyz--\r\n'
    field = whole.replace(b'; filename="a"', b"")
    for kind, body, status in (
        (f"{BOTH}; boundary=xyz", whole[:-12], 422),
        (f"{BOTH}; boundary=xyz", b"", 422),
        (f"{BOTH}; boundary=xyz", field, 400),
        (f"{BOTH}; boundary=xyz", b"nonsense", 400),
        (BOTH, whole, 400),
    ):
        reply = server("POST", "/workbooks", content=body, headers={"Content-Type": kind})
        assert problem(reply)[0] == status, (kind, body)
    gc.collect()  # the web library leaves a broken form's file to the collector
    assert problem(send_form(server, file=FOOTBRIDGE, a=FOOTBRIDGE, b=FOOTBRIDGE))[:2] == (400, "not-a-form")


def test_a_workbook_without_a_schedule(server: Asked) -> None:
    """Its findings say so, and there is no marked copy of it."""
    text = b"one;two\n1;2\n"
    (found,) = send(server, text, query="?name=note.csv").json()["workbooks"]
    assert found["rows"] == []
    assert any("no row" in said for said in found["said"])
    assert problem(send(server, text, XLSX, "?name=note.csv"))[:2] == (400, "nothing-to-mark")


def test_a_workbook_that_may_not_be_marked(server: Asked) -> None:
    """A signed one: its findings say why there is no copy, and who wants the copy hears it as a refusal."""
    signed = FIXTURES / "signed.xlsx"
    assert send(server, signed).status_code == 200
    assert problem(send(server, signed, XLSX))[0] == 400


@pytest.mark.parametrize(
    "name", ["../../up.xlsx", "C:\\up.xlsx", ".", "a/b\x00c", "ü" * 300, "\\\\host\\x", " "]
)
def test_names_that_are_none(server: Asked, name: str) -> None:
    """Nothing is written outside the one folder, and the name comes out plain."""
    reply = server("POST", "/workbooks", content=FOOTBRIDGE.read_bytes(), params={"name": name})
    assert reply.status_code == 200
    file = reply.json()["workbooks"][0]["file"]
    assert not set(file) & set("/\\\x00:")
    assert 0 < len(file) <= 100
    assert nothing_left()


@pytest.mark.parametrize("case", CASES[::8], ids=lambda case: case.name)
def test_hostile_workbooks(server: Asked, case: Any) -> None:
    """Each is refused in a sentence or read, the server goes on, and nothing is left behind."""
    content = case.make()
    reply = send(server, content, BOTH, f"?name=x{case.suffix}")
    if reply.status_code != 200:
        status, _, sentence = problem(reply)
        assert status in (400, 413, 422)
        assert tempfile.gettempdir() not in sentence
    if case.refused:
        assert reply.status_code != 200
    assert server("GET", "/healthz").status_code == 200
    assert nothing_left()


@pytest.mark.parametrize(
    ("act", "seconds", "code"),
    [(misbehaving.sleeping, 0.5, "too-slow"), (misbehaving.dying, 60, "reader-broke")],
)
def test_a_child_that_hangs_or_dies(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, act: Any, seconds: float, code: str
) -> None:
    """It takes nothing with it but its own request."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(workbooks, "check", act)
    server = Asked(Settings(reading=Limits(seconds=seconds)))
    assert problem(send(server, FOOTBRIDGE))[:2] == (400, code)
    assert nothing_left()


def test_a_workbook_that_is_too_large() -> None:
    """413 before it is read, by its own limit."""
    small = Asked(Settings(reading=Limits(file_bytes=5_000)))
    large = b"x" * 80_000
    assert problem(send(small, large))[:2] == (413, "over-file-bytes")
    assert problem(send(small, FOOTBRIDGE))[:2] == (400, "file-too-large")


def test_too_many_workbooks_at_once() -> None:
    """The third is told to come back; calculations go on."""
    server = Asked(Settings(limits=ServerLimits(workbooks=1)))
    content = FOOTBRIDGE.read_bytes()

    async def ask() -> list[httpx.Response]:
        requests = [("POST", "/workbooks", {"content": content})] * 2
        return await server.together(*requests, ("GET", "/healthz", {}))

    first, second, health = asyncio.run(ask())
    assert sorted([first.status_code, second.status_code]) == [200, 503]
    refused = second if second.status_code == 503 else first
    assert problem(refused)[1] == "over-workbooks"
    assert refused.headers["retry-after"] == "1"
    assert health.status_code == 200
    assert send(server, FOOTBRIDGE).status_code == 200
