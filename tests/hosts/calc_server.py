"""A small server of the calculation wire, which can be told to misbehave."""

from __future__ import annotations

import json
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

from rigxl.errors import CellError
from rigxl.functions import FUNCTIONS
from rigxl.functions.columns import Refused, answer


def catalogue() -> dict[str, Any]:
    """The functions, as GET /functions gives them."""
    return {
        "functions": [
            {
                "name": one.name,
                "kind": one.kind,
                "arguments": [{"name": each.name, "kind": each.kind} for each in one.arguments],
            }
            for one in FUNCTIONS.values()
        ]
    }


def answered(call: Any) -> dict[str, Any]:
    """The answer to one call, as POST /calculate gives it."""
    found = answer(call["function"], [_read(value) for value in call["arguments"]])
    if isinstance(found, list):
        return {"values": [[_cell(cell) for cell in row] for row in found]}
    return _cell(found) if isinstance(found, Refused) else {"value": found}


def _read(value: Any) -> Any:
    if isinstance(value, list):
        return [[_read(cell) for cell in row] for row in value]
    return CellError(value["error"]) if isinstance(value, dict) else value


def _cell(found: Any) -> Any:
    if isinstance(found, Refused):
        return {"error": {"code": found.code, "sentence": found.sentence}}
    return found


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server: SmallServer

    def do_GET(self) -> None:
        self._send(200, self.server.catalogue)

    def do_POST(self) -> None:
        body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        self.server.calls += len(body["calls"])
        self.server.tokens.append(self.headers["Authorization"])
        answers = [answered(call) for call in body["calls"]] if self.server.says is None else None
        status, said = self.server.says or (200, {"answers": answers})
        self._send(status, said)
        self.close_connection = self.server.closes

    def _send(self, status: int, data: Any) -> None:
        body = data if isinstance(data, bytes) else json.dumps(data).encode()
        self.send_response(status)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def setup(self) -> None:
        super().setup()
        self.server.connections += 1

    def log_message(self, *_: Any) -> None:
        """Quiet."""


class SmallServer(ThreadingHTTPServer):
    """Answers as the registry does, unless it is told what to say."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), _Handler)
        self.catalogue = catalogue()
        self.says: tuple[int, Any] | None = None
        self.closes = False
        self.calls = self.connections = 0
        self.tokens: list[str | None] = []
        self.scheme = "http"

    @property
    def address(self) -> str:
        """Where it listens."""
        return f"{self.scheme}://127.0.0.1:{self.server_port}"


@contextmanager
def serving(tls: ssl.SSLContext | None = None) -> Iterator[SmallServer]:
    """A server for as long as it is needed."""
    server = SmallServer()
    if tls:
        server.socket = tls.wrap_socket(server.socket, server_side=True)
        server.scheme = "https"
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
