"""The server as the fallback of the Calc add-in: the client alone, and from inside the real LibreOffice."""

from __future__ import annotations

import json
import os
import secrets
import socket
import ssl
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import trustme

from rigxl.functions.columns import answer
from rigxl.hosts.calc import Remote, write
from rigxl.hosts.calc.inside import server as client
from rigxl.hosts.calc.inside.server import Server
from rigxl.hosts.calc.package import settings
from tests.hosts.calc_cases import differing
from tests.hosts.calc_office import calc
from tests.hosts.calc_server import SmallServer, catalogue, serving
from tests.hosts.calc_sheets import Formula, shown, write_xlsx
from tests.hosts.serving import running

CALL = ("LEGTENSION", (10.0, 2.0, 30.0, None))


@pytest.fixture
def small() -> Iterator[SmallServer]:
    """A small server."""
    with serving() as found:
        yield found


@pytest.fixture(autouse=True)
def no_token(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever runs the tests may have one in the environment."""
    monkeypatch.delenv("RIGXL_TOKEN", raising=False)


Ask = Callable[..., Server]


@pytest.fixture
def ask() -> Iterator[Ask]:
    """Makes the client of an address, and lets go of its connection in the end."""
    made: list[Server] = []

    def client_of(address: str, **others: Any) -> Server:
        made.append(Server({**json.loads(settings(Remote(address))), **others}))
        return made[-1]

    yield client_of
    for one in made:
        one.close()


def test_values_refusals_and_ranges(ask: Ask, small: SmallServer) -> None:
    """As the registry gives them, over one connection."""
    asked = ask(small.address)
    assert asked.answer(*CALL) == 10
    assert asked.answer("HOOKANGLEVERDICT", (60.0,)) == "PASS"
    refused = asked.answer("LEGTENSION", (10.0, 2.0, 0.0, None))
    assert refused == tuple(answer("LEGTENSION", (10, 2, 0)))  # type: ignore[arg-type]
    rows = asked.answer("LEGTENSION", (((10.0,), (20.0,), ("",)), 2.0, 30.0, None))
    assert [row[0] for row in rows[:2]] == [10, 20]
    assert rows[2][0].code == "VALUE"
    assert small.connections == 1


def test_a_connection_that_was_closed_is_opened_again(ask: Ask, small: SmallServer) -> None:
    """As a server does that is started again, or that lets idle callers go."""
    asked = ask(small.address)
    small.closes = True
    assert [asked.answer(*CALL) for _ in range(3)] == [10, 10, 10]
    assert small.calls == 3


@pytest.mark.parametrize(
    "said",
    [
        (200, b""),
        (200, b"<html>signed in?</html>"),
        (200, []),
        (200, {"answers": []}),
        (200, {"answers": [{"value": 1}, {"value": 2}]}),
        (200, {"answers": [5]}),
        (200, {"answers": [{"values": [[1.0]]}]}),
        (200, {"answers": [{"error": "no"}]}),
        (500, {"error": {"code": "fault", "sentence": "a fault"}}),
        (401, {"error": {"code": "token-needed", "sentence": "this server wants its token"}}),
        (404, b"not found"),
    ],
)
def test_an_answer_that_is_none(ask: Ask, small: SmallServer, said: tuple[int, Any]) -> None:
    """The server counts as not there, with its address and what it said."""
    small.says = said
    with pytest.raises(OSError, match=rf"the server {small.address} does not answer as it should: .+"):
        ask(small.address).answer(*CALL)


@pytest.mark.parametrize("said", [{"value": 1.0}, {"values": [[1.0]]}, {"values": [[1.0], [1.0, 1.0]]}])
def test_an_answer_of_another_shape(ask: Ask, small: SmallServer, said: Any) -> None:
    """Calc would spread one answer over all the cells."""
    small.says = (200, {"answers": [said]})
    with pytest.raises(OSError, match=r"another number of answers|'values'"):
        ask(small.address).answer("LEGTENSION", (((10.0,), (20.0,)), 2.0, 30.0, None))


def test_a_call_that_the_server_does_not_take(ask: Ask, small: SmallServer) -> None:
    """It is refused with the server's sentence, and the server stays in use."""
    asked = ask(small.address)
    small.says = (413, {"error": {"code": "too-much", "sentence": "the batch has too many cells"}})
    refused = asked.answer(*CALL)
    assert (refused.code, "too many cells (413)" in refused.sentence) == ("VALUE", True)
    small.says = None
    assert asked.answer(*CALL) == 10


def test_a_server_with_other_functions_is_not_asked(ask: Ask, small: SmallServer) -> None:
    """An argument more would put every value in the wrong place."""
    small.catalogue = catalogue()
    small.catalogue["functions"][0]["arguments"].pop()
    with pytest.raises(OSError, match="other functions"):
        ask(small.address).answer(*CALL)
    assert small.calls == 0


def test_a_server_that_is_down_is_left_alone_for_a_while(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full sheet must not wait for it cell by cell."""
    with serving() as small:
        asked = ask(small.address)
    monkeypatch.setattr(client, "REST", 0.0)
    with pytest.raises(OSError, match="refused"):
        asked.answer(*CALL)
    monkeypatch.setattr(client, "REST", 60.0)
    with pytest.raises(OSError, match="refused"):
        asked.answer(*CALL)
    monkeypatch.setattr(client.http.client, "HTTPConnection", lambda *_, **__: pytest.fail("tried again"))
    with pytest.raises(OSError, match="refused"):
        asked.answer(*CALL)


def test_a_server_that_says_nothing(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is given up after a time."""
    monkeypatch.setattr(client, "SECONDS", 0.2)
    with socket.create_server(("127.0.0.1", 0)) as deaf:
        address = f"http://127.0.0.1:{deaf.getsockname()[1]}"
        with pytest.raises(OSError, match="timed out"):
            ask(address).answer(*CALL)


def test_the_token(ask: Ask, small: SmallServer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the environment, or from the file, which goes first; read anew each time."""
    asked = ask(small.address)
    asked.answer(*CALL)
    monkeypatch.setenv("RIGXL_TOKEN", "from-the-environment")
    asked.answer(*CALL)
    file = tmp_path / "token"
    file.write_text("from-the-file\n")
    ask(small.address, token_file=str(file)).answer(*CALL)
    assert small.tokens == [None, "Bearer from-the-environment", "Bearer from-the-file"]
    file.unlink()
    with pytest.raises(OSError, match="token"):
        ask(small.address, token_file=str(file)).answer(*CALL)


def test_tls(ask: Ask, tmp_path: Path) -> None:
    """Only a server whom the authority vouches for is believed."""
    ours, others = trustme.CA(), trustme.CA()
    tls = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    ours.issue_cert("127.0.0.1").configure_cert(tls)
    pem = tmp_path / "ours.pem"
    ours.cert_pem.write_to_path(pem)
    with serving(tls) as small:
        known = json.loads(settings(Remote(small.address, authority=pem)))["authority"]
        assert ask(small.address, authority=known).answer(*CALL) == 10
        for authority in (others.cert_pem.bytes().decode(), None):
            with pytest.raises(OSError, match="certificate verify failed"):
                ask(small.address, authority=authority).answer(*CALL)


def elsewhere(oxt: Path) -> None:
    """The add-in as on another machine, where rigxl is not in the folder it was built in."""
    moved = oxt.with_suffix(".moved")
    with zipfile.ZipFile(oxt) as package, zipfile.ZipFile(moved, "w") as made:
        for entry in package.infolist():
            data = package.read(entry)
            if entry.filename.endswith("settings.json"):
                data = json.dumps({**json.loads(data), "folder": "/not/here"}).encode()
            made.writestr(entry, data)
    os.replace(moved, oxt)


def test_in_libreoffice(small: SmallServer, tmp_path: Path) -> None:
    """Without rigxl at hand it asks the server; without a server either, REASON says what was looked for."""
    formulas = [
        Formula("RIGXL.LEGTENSION({0},2,30)", (10,)),
        Formula("RIGXL.HOOKANGLEVERDICT({0})", (60,)),
        Formula("RIGXL.LEGTENSION({0},2,95)", (10,)),
        Formula("RIGXL.SHACKLEDERATE({0})", (0,)),
        Formula("RIGXL.LEGTENSION({0},2,30)", ([[10], [20], [""]],), tall=3),
        Formula('RIGXL.REASON("LEGTENSION",{0},2,30)', (10,)),
    ]
    write_xlsx(tmp_path / "book.xlsx", formulas)
    (oxt,) = write(tmp_path, Remote(small.address))
    elsewhere(oxt)
    with calc(oxt) as office:
        (worked,) = office.work_out([tmp_path / "book.xlsx"], "xlsx")
        found = shown(worked, formulas)
        assert found[:4] == [[10], ["PASS"], ["#N/A"], ["#VALUE!"]]
        assert found[4] == [10, 20, "#VALUE!"]
        assert found[5][0].startswith("LEGTENSION(10, 2, 30) = 10")
        assert small.calls > 5
        small.says = (200, b"junk")
        (worked,) = office.work_out([tmp_path / "book.xlsx"], "xlsx")
        found = shown(worked, formulas)
        assert {cell for cells in found[:5] for cell in cells} == {"#VALUE!"}
        assert found[5][0].startswith("rigxl was not found: it cannot be imported from /not/here")
        assert small.address in found[5][0]


def test_the_contract_through_the_server(tmp_path: Path) -> None:
    """Every case, from inside LibreOffice to the real server and back, over TLS and with a token."""
    authority = trustme.CA()
    own = authority.issue_cert("localhost", "127.0.0.1")
    files = {name: tmp_path / name for name in ("authority.pem", "cert.pem", "key.pem", "token")}
    authority.cert_pem.write_to_path(files["authority.pem"])
    own.cert_chain_pems[0].write_to_path(files["cert.pem"])
    own.private_key_pem.write_to_path(files["key.pem"])
    files["token"].write_text(secrets.token_urlsafe(40))
    options = ("--tls-cert", files["cert.pem"], "--tls-key", files["key.pem"], "--token-file", files["token"])
    with running(*map(str, options)) as server:
        (oxt,) = write(tmp_path, Remote(server.address, files["token"], files["authority.pem"]))
        elsewhere(oxt)
        with calc(oxt) as office:
            differ = differing(office, tmp_path, "xlsx")
        log = [line for line in server.lines if "/calculate" in line]
    assert not differ, "\n".join(differ[:40])
    assert len(log) > 1000
