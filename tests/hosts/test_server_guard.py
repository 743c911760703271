"""Who may call the server, how much it takes at once, and what its log says and does not say."""

from __future__ import annotations

import asyncio
import json
import logging
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import httpx
import pytest

from rigxl.errors import InputError
from rigxl.hosts.server.limits import ServerLimits, limits_from
from rigxl.hosts.server.log import Line
from rigxl.hosts.server.settings import Settings
from tests.hosts.serving import Asked, call, problem

TOKEN = "a-token-of-the-test-0123456789-abcdef"
BATCH = {"calls": [call("LEGTENSION", 10, 2, 30)]}


@pytest.fixture(scope="module")
def server() -> Asked:
    return Asked()


# names and origins


@pytest.mark.parametrize("host", ["127.0.0.1:8765", "localhost", "LOCALHOST:9", "[::1]:8765"])
def test_called_by_its_own_name(server: Asked, host: str) -> None:
    """Whatever the port: a proxy may have another."""
    assert server("GET", "/healthz", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "rebound.example",
        "127.0.0.1.rebound.example",
        "localhost@rebound.example",
        "192.0.2.7",
        "0.0.0.0",
        "",
        "[",
        "\x7f",
    ],
)
@pytest.mark.parametrize("path", ["/healthz", "/calculate", "/nowhere"])
def test_a_rebound_name_is_refused(server: Asked, host: str, path: str) -> None:
    """A page whose own name was made to lead to this machine sends that name."""
    reply = server("POST", path, headers={"Host": host}, json=BATCH)
    assert problem(reply)[:2] == (400, "unknown-host")


def test_no_name_at_all_is_refused(server: Asked) -> None:
    """As old clients send it."""

    async def ask() -> int:
        sent: list[Any] = []

        async def receive() -> Any:
            return {"type": "http.request", "body": b""}

        async def send(message: Any) -> None:
            sent.append(message)

        scope = {
            "type": "http",
            "method": "GET",
            "path": "/healthz",
            "headers": [],
            "scheme": "http",
            "client": None,
        }
        await server.app(scope, receive, send)
        return int(sent[0]["status"])

    assert asyncio.run(ask()) == 400


def test_the_name_it_is_reached_by() -> None:
    """With --origin it has that name too, and its own names still."""
    reached = Asked(Settings(origin="https://calc.example.com", token=TOKEN))
    assert reached("GET", "/healthz", headers={"Host": "calc.example.com"}).status_code == 200
    assert reached("GET", "/healthz").status_code == 200
    assert reached("GET", "/healthz", headers={"Host": "other.example.com"}).status_code == 400


def test_a_page_of_its_own_may_call(server: Asked) -> None:
    """Browsers then ask for nothing more."""
    reply = server("POST", "/calculate", json=BATCH, headers={"Origin": "http://127.0.0.1:8765"})
    assert reply.status_code == 200
    assert "access-control-allow-origin" not in reply.headers


@pytest.mark.parametrize(
    "origin", ["https://elsewhere.example", "null", "http://127.0.0.1:9999", "https://127.0.0.1:8765"]
)
@pytest.mark.parametrize("method", ["GET", "POST", "OPTIONS"])
def test_a_page_of_others_may_not(server: Asked, origin: str, method: str) -> None:
    """Not even by a request that needs no preflight."""
    headers = {"Origin": origin, "Access-Control-Request-Method": "POST", "Content-Type": "text/plain"}
    reply = server(method, "/calculate", content=json.dumps(BATCH), headers=headers)
    assert problem(reply)[:2] == (403, "unknown-origin")
    assert "access-control-allow-origin" not in reply.headers


def test_a_page_that_is_allowed() -> None:
    """Its preflight is answered, for networks nearer than its own too, and refusals can be read by it."""
    origin = "https://pages.example.com"
    server = Asked(Settings(allowed=(origin,)))
    asked = {
        "Origin": origin,
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "authorization,content-type",
    }
    plain = server("OPTIONS", "/calculate", headers=asked)
    assert (plain.status_code, plain.content) == (204, b"")
    assert plain.headers["access-control-allow-origin"] == origin
    assert plain.headers["access-control-allow-methods"] == "GET, POST"
    assert plain.headers["access-control-allow-headers"] == "authorization, content-type"
    assert "access-control-allow-private-network" not in plain.headers
    for network in ("private", "local"):
        near = server(
            "OPTIONS", "/calculate", headers={**asked, f"Access-Control-Request-{network}-Network": "true"}
        )
        assert near.headers[f"access-control-allow-{network}-network"] == "true"
    for reply in (
        server("POST", "/calculate", json=BATCH, headers={"Origin": origin}),
        server("POST", "/calculate", content=b"{", headers={"Origin": origin}),
        server("GET", "/nowhere", headers={"Origin": origin}),
    ):
        assert reply.headers["access-control-allow-origin"] == origin
        assert reply.headers["vary"] == "origin"


# the token


@pytest.mark.parametrize(
    "given", [None, "", TOKEN, f"bearer {TOKEN}", f"Bearer {TOKEN} ", "Bearer wrong", "Bearer \xff"]
)
@pytest.mark.parametrize("path", ["/calculate", "/workbooks", "/functions", "/openapi.json", "/nowhere"])
def test_without_the_token(given: str | None, path: str) -> None:
    """401, whatever is there or not; only whether the server is up is told to all."""
    headers = {} if given is None else {"Authorization": given.encode("latin-1")}
    reply = LOCKED("POST", path, json=BATCH, headers=headers)
    assert problem(reply)[:2] == (401, "token-needed")
    assert reply.headers["www-authenticate"] == "Bearer"
    assert LOCKED("GET", "/healthz").status_code == 200


def test_with_the_token() -> None:
    """It is compared whole, and never logged."""
    headers = {"Authorization": f"Bearer {TOKEN}"}
    assert LOCKED("POST", "/calculate", json=BATCH, headers=headers).status_code == 200
    assert TOKEN.encode() not in LOCKED.stream.getvalue()
    assert TOKEN not in repr(Settings(token=TOKEN))


LOCKED = Asked(Settings(token=TOKEN))


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"host": "0.0.0.0"}, ("0.0.0.0", "--token-file", "RIGXL_TOKEN", "--tls-cert", "--tls-key")),
        ({"host": "0.0.0.0", "token": TOKEN}, ("--tls-cert",)),
        ({"host": "::", "cert": Path("c"), "key": Path("k")}, ("--token-file",)),
        ({"host": "calc.example.com"}, ("--token-file", "--tls-cert")),
        ({"origin": "https://calc.example.com"}, ("--token-file",)),
        ({"origin": "http://calc.example.com", "token": TOKEN}, ("https://",)),
        ({"cert": Path("c")}, ("--tls-key",)),
        ({"token": "short"}, ("5 characters", "32")),
        ({"token": "spaces in it, though it is long enough"}, ("without spaces",)),
        ({"token": "ü" * 40}, ("letters",)),
        ({"allowed": ("https://pages.example.com/path",)}, ("origin", "without a path")),
        ({"allowed": ("*",)}, ("'*' is no origin",)),
        ({"origin": "calc.example.com"}, ("no origin",)),
    ],
)
def test_settings_that_are_refused(options: dict[str, Any], words: tuple[str, ...]) -> None:
    """In a sentence that names the options."""
    with pytest.raises(InputError) as refused:
        Settings(**options)
    for word in words:
        assert word in str(refused.value)


def test_limits_as_typed() -> None:
    """Those of the server and those of reading by one option."""
    own, reading = limits_from({"batch_calls": "7", "file_bytes": "99", "upload_seconds": "0.5"})
    assert (own.batch_calls, own.upload_seconds, reading.file_bytes) == (7, 0.5, 99)
    with pytest.raises(InputError, match=r"no limit 'speed'.*batch_calls.*file_bytes"):
        limits_from({"speed": "3"})
    with pytest.raises(InputError, match="above 0"):
        limits_from({"requests": "none"})


# how much at once


async def slow(body: bytes, until: asyncio.Event) -> AsyncIterator[bytes]:
    """A body whose second half comes when it is told to."""
    yield body[:5]
    await until.wait()
    yield body[5:]


async def held(server: Asked, *then: tuple[str, str, dict[str, Any]]) -> list[httpx.Response]:
    """What later requests are told while the first is still being sent; then the first's own answer."""
    until = asyncio.Event()
    first = asyncio.create_task(
        server.together(("POST", "/calculate", {"content": slow(json.dumps(BATCH).encode(), until)}))
    )
    await asyncio.sleep(0.05)
    found = await server.together(*then)
    until.set()
    return [*found, *(await first)]


@pytest.mark.parametrize(
    ("limits", "status", "code"),
    [({"requests": 1}, 503, "over-requests"), ({"requests_each": 1}, 429, "over-requests-each")],
)
def test_too_many_requests_at_once(limits: dict[str, int], status: int, code: str) -> None:
    """The one too many is told to come back; the one being served is served."""
    server = Asked(Settings(limits=ServerLimits(**limits)))
    refused, served = asyncio.run(held(server, ("POST", "/calculate", {"json": BATCH})))
    assert problem(refused)[:2] == (status, code)
    assert refused.headers["retry-after"] == "1"
    assert served.json() == {"answers": [{"value": 10.0}]}
    assert server("POST", "/calculate", json=BATCH).status_code == 200
    assert not server.app.serving


def test_a_body_that_does_not_arrive() -> None:
    """408 after the limit, and its place is free again."""
    server = Asked(Settings(limits=ServerLimits(upload_seconds=0.05)))

    async def ask() -> httpx.Response:
        return (
            await server.together(("POST", "/calculate", {"content": slow(b"{......", asyncio.Event())}))
        )[0]

    reply = asyncio.run(ask())
    assert problem(reply)[:2] == (408, "over-upload-seconds")
    assert reply.headers["connection"] == "close"
    assert not server.app.serving


def test_a_body_without_a_stated_size_is_counted() -> None:
    """As it comes in; what it would have been is never held."""
    server = Asked(Settings(limits=ServerLimits(batch_bytes=100)))
    taken = 0

    async def endless() -> AsyncIterator[bytes]:
        nonlocal taken
        while True:
            taken += 40
            yield b" " * 40

    async def ask() -> httpx.Response:
        return (await server.together(("POST", "/calculate", {"content": endless()})))[0]

    assert problem(asyncio.run(ask()))[:2] == (413, "over-batch-bytes")
    assert taken <= 200


def test_ways_that_are_not_there(server: Asked) -> None:
    """404 and 405, with what there is."""
    assert problem(server("GET", "/nowhere"))[:2] == (404, "not-found")
    assert problem(server("GET", "/functions/"))[:2] == (404, "not-found")
    wrong = server("GET", "/calculate")
    assert problem(wrong)[:2] == (405, "no-such-method")
    assert wrong.headers["allow"] == "POST"
    assert "POST /calculate" in problem(wrong)[2]


def test_every_answer_is_marked_as_not_to_be_kept(server: Asked) -> None:
    for path in ("/healthz", "/nowhere", "/functions"):
        headers = server("GET", path).headers
        assert headers["cache-control"] == "no-store"
        assert headers["x-content-type-options"] == "nosniff"


# the log


def test_the_log_has_numbers_and_nothing_of_what_was_sent() -> None:
    """No value, name, text, query, header, address or path of others."""
    server = Asked(Settings(allowed=("https://pages.example.com",)))
    secrets = ("98765.4321", "4321", "Nordhavn", "hidden", "pages.example.com", "127.0.0.1")
    headers = {"User-Agent": "hidden-agent", "Origin": "https://pages.example.com"}
    calls = [
        call("LEGTENSION", 98765.4321, 2, 30),
        call("Nordhavn", "Nordhavn"),
        call("LEGTENSION", "Nordhavn", 2, 3),
    ]
    server("POST", "/calculate?hidden-query=1", json={"calls": calls}, headers=headers)
    server("POST", "/calculate", json={"calls": "Nordhavn"}, headers=headers)
    server("GET", "/hidden-path", headers=headers)
    server("NORDHAVN", "/functions", headers=headers)
    server("POST", "/workbooks?name=Nordhavn.csv", content=b"Nordhavn;98765.4321", headers=headers)
    text = server.stream.getvalue().decode()
    for secret in secrets:
        assert secret.lower() not in text.lower(), secret
    first, second, third, fourth, fifth = server.log
    assert {key: first[key] for key in ("method", "path", "status", "calls", "cells", "refused")} == {
        "method": "POST", "path": "/calculate", "status": 200, "calls": 3, "cells": 3, "refused": 2
    }  # fmt: skip
    assert first["time"].endswith("Z")
    assert first["ms"] > 0
    assert (second["status"], third["path"], fourth["method"]) == (422, "other", "other")
    assert (fifth["workbooks"], fifth["rows"]) == (1, 0)


def test_a_fault_is_logged_by_its_place_alone() -> None:
    """The message of an exception may repeat what was sent."""
    try:
        Settings(token="the secret 4711")
    except InputError as error:
        record = logging.LogRecord(
            "x", logging.ERROR, "", 0, "secret %s", ("4711",), (type(error), error, error.__traceback__)
        )
    said = json.loads(Line().format(record))
    assert said["exception"] == "InputError"
    assert said["through"].startswith("hosts/server/settings.py:")
    assert "4711" not in json.dumps(said)
    assert "secret" not in json.dumps(said)


def test_a_fault_is_one_clear_answer(server: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    """500, without what went wrong."""

    def breaks(*_: object) -> None:
        raise KeyError("secret 4711")

    monkeypatch.setattr("rigxl.hosts.server.calculate.read", breaks)
    reply = server("POST", "/calculate", json=BATCH)
    assert problem(reply)[:2] == (500, "fault")
    assert "4711" not in reply.text
    assert server.log[-1]["status"] == 500
