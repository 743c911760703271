"""Chromium, a certificate it trusts, and our real server over TLS with one page more on it."""

from __future__ import annotations

import base64
import json
import os
import re
import shutil
import socket
import subprocess
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import trustme
import uvicorn
from starlette.types import ASGIApp, Receive, Scope, Send

from rigxl.hosts.server.app import application
from rigxl.hosts.server.settings import Settings

PAGE = Path(__file__).with_name("selftest.html").read_text(encoding="utf-8")
OPTIONS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


def program(*names: str) -> str:
    """A program of the machine; skips the test loudly where there is none, fails where it must be there."""
    found = next((path for name in names if (path := shutil.which(name))), None)
    if found is None:
        sentence = f"{names[0]} is not installed: the Office add-in was NOT tried in a browser"
        if os.environ.get("RIGXL_REQUIRE_HOSTS") == "1":
            pytest.fail(sentence)
        pytest.skip(sentence)
    return found


class Extra:
    """An application with a page and its calls added, counting the requests to calculate."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app
        self.page = b""
        self.calls = b"[]"
        self.calculations = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        own = {
            "/office/selftest.html": (b"text/html", self.page),
            "/office/calls": (b"text/json", self.calls),
        }
        if scope["type"] != "http" or scope["path"] not in own:
            self.calculations += scope.get("path") == "/calculate"
            await self.app(scope, receive, send)
            return
        media, body = own[scope["path"]]
        headers = [(b"content-type", media), (b"access-control-allow-origin", b"*")]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": body})


class Running:
    """Our server, running over TLS."""

    def __init__(self, extra: Extra, port: int, server: uvicorn.Server) -> None:
        self.extra, self.port, self.server = extra, port, server

    @property
    def origin(self) -> str:
        return f"https://localhost:{self.port}"


class Browser:
    """Chromium with a profile of its own that trusts one authority, or none."""

    def __init__(self, folder: Path, authority: trustme.CA | None) -> None:
        self.chromium = program("chromium", "chromium-browser", "google-chrome")
        certutil = program("certutil")
        self.home = folder
        store = folder / ".pki" / "nssdb"
        store.mkdir(parents=True)
        subprocess.run([certutil, "-d", f"sql:{store}", "-N", "--empty-password"], check=True)
        if authority is not None:
            authority.cert_pem.write_to_path(str(folder / "ca.pem"))
            added = [
                certutil,
                "-d",
                f"sql:{store}",
                "-A",
                "-t",
                "C,,",
                "-n",
                "test",
                "-i",
                str(folder / "ca.pem"),
            ]
            subprocess.run(added, check=True)

    def run(self, url: str, *options: str) -> str:
        """What the page is in the end."""
        command = [self.chromium, *OPTIONS, f"--user-data-dir={self.home / 'profile'}", *options, url]
        done = subprocess.run(
            command, capture_output=True, text=True, timeout=120, env={**os.environ, "HOME": str(self.home)}
        )
        return done.stdout

    def answers(self, url: str) -> dict[str, Any]:
        """What the self-test page found."""
        page = self.run(url, "--virtual-time-budget=60000", "--dump-dom")
        found = re.search(r'<pre id="out">([A-Za-z0-9+/=]+)</pre>', page)
        assert found is not None, page[-2000:]
        answers: dict[str, Any] = json.loads(base64.b64decode(found[1]))
        return answers


@contextmanager
def serving(authority: trustme.CA, folder: Path, allowed: tuple[str, ...] = ()) -> Iterator[Running]:
    """Our server on a free port, until the block is left."""
    folder.mkdir(parents=True, exist_ok=True)
    cert, key = folder / "cert.pem", folder / "key.pem"
    issued = authority.issue_cert("localhost")
    issued.private_key_pem.write_to_path(str(key))
    for at, part in enumerate(issued.cert_chain_pems):
        part.write_to_path(str(cert), append=at > 0)
    with socket.create_server(("127.0.0.1", 0)) as sock:
        port = sock.getsockname()[1]
        extra = Extra(application(Settings(port=port, cert=cert, key=key, allowed=allowed)))
        config = uvicorn.Config(
            extra, ssl_certfile=cert, ssl_keyfile=key, lifespan="off", log_level="error", ws="none"
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([sock],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            yield Running(extra, port, server)
        finally:
            server.should_exit = True
            thread.join(10)
