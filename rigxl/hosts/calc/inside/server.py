"""A rigxl server, for a LibreOffice that cannot import rigxl itself: one connection that is kept open."""

from __future__ import annotations

import http.client
import json
import os
import ssl
import time
from typing import Any, Dict, List, NamedTuple, Optional, Sequence, Tuple
from urllib.parse import urlsplit

SECONDS = 10
"""For the server to answer."""
REST = 10.0
"""Seconds for which a server that could not be reached is left alone, so that a full sheet does not hang."""
MOST_BYTES = 64_000_000
"""Of one answer."""
OF_THE_CALL = (413, 422, 429, 503)
"""Statuses that refuse this one call; with any other but 200 it is no server for us."""


class DeclinedError(Exception):
    """The server is there and does not take this call."""


class Refused(NamedTuple):
    """An error that the server answered."""

    code: str
    sentence: str


class Server:
    """The functions of a server.

    Args:
        settings: ``server``, its address; ``token_file`` with its token, or RIGXL_TOKEN in the environment;
            ``authority``, the certificate it is trusted by where the machine does not know it.
    """

    def __init__(self, settings: Any) -> None:
        self.settings = settings
        self.address = settings["server"] or ""
        self.connection: Optional[http.client.HTTPConnection] = None
        self.missing = (
            "and no server was named (rigxl addin calc --server ADDRESS)" if not self.address else ""
        )
        self.rests_until = float("inf") if not self.address else 0.0

    def answer(self, name: str, given: Sequence[Any]) -> Any:
        """The answer of a function.

        Raises:
            OSError: The server does not answer, or not as it should.
        """
        if time.monotonic() < self.rests_until:
            raise OSError(self.missing)
        call = {"calls": [{"function": name, "arguments": given}]}
        try:
            (found,) = self._asked("POST", "/calculate", call)["answers"]
            return _read(found, _shape(given))
        except DeclinedError as declined:
            return Refused("VALUE", f"{name}: the server {self.address} refuses: {declined}")
        except (OSError, http.client.HTTPException, ValueError, KeyError, TypeError) as error:
            self.close()
            said = str(error) or type(error).__name__
            self.missing = f"the server {self.address} does not answer as it should: {said}"
            self.rests_until = time.monotonic() + REST
            raise OSError(self.missing) from error

    def _asked(self, method: str, path: str, data: Any = None) -> Dict[str, Any]:
        """What the server answers, over the open connection or, where that was closed, over a new one."""
        body = None if data is None else json.dumps(data, allow_nan=False).encode("ascii")
        if self.connection is not None:
            try:
                return self._exchange(method, path, body)
            except (http.client.RemoteDisconnected, ConnectionError):
                self.close()
        self._connect()
        return self._exchange(method, path, body)

    def _exchange(self, method: str, path: str, body: Optional[bytes]) -> Dict[str, Any]:
        assert self.connection is not None
        self.connection.request(method, path, body, self._headers())
        response = self.connection.getresponse()
        text = response.read(MOST_BYTES + 1)
        if len(text) > MOST_BYTES:
            raise ValueError("its answer is too long")
        found = json.loads(text.decode("utf-8"))
        if response.status != 200:
            kind = DeclinedError if response.status in OF_THE_CALL else ValueError
            raise kind(f"{found['error']['sentence']} ({response.status})")
        if not isinstance(found, dict):
            raise ValueError("its answer is no object")
        return found

    def _headers(self) -> Dict[str, str]:
        headers = {"Content-Type": "application/json"}
        token = os.environ.get("RIGXL_TOKEN", "")
        if self.settings["token_file"]:
            with open(self.settings["token_file"], encoding="ascii") as file:
                token = file.read().strip()
        if token:
            headers["Authorization"] = "Bearer " + token
        return headers

    def _connect(self) -> None:
        """Open a connection, and see that the server has the functions that the add-in was built for."""
        parts = urlsplit(self.address)
        host, port = parts.hostname or "", parts.port
        if parts.scheme == "https":
            trusted = ssl.create_default_context(cadata=self.settings["authority"])
            self.connection = http.client.HTTPSConnection(host, port, timeout=SECONDS, context=trusted)
        else:
            self.connection = http.client.HTTPConnection(host, port, timeout=SECONDS)
        if _registered(self._exchange("GET", "/functions", None)) != self.settings["functions"]:
            raise ValueError("it has other functions than the add-in was built for; one of the two is older")

    def close(self) -> None:
        """Let go of the connection."""
        if self.connection is not None:
            self.connection.close()
        self.connection = None


def _registered(catalogue: Any) -> Any:
    """The server's functions, as the settings have them."""
    return {
        entry["name"]: {
            "gives": entry["kind"],
            "arguments": [[each["name"], each["kind"]] for each in entry["arguments"]],
        }
        for entry in catalogue["functions"]
    }


def _shape(given: Sequence[Any]) -> Optional[Tuple[int, int]]:
    """Rows and columns of the answer to ranges; None where no range was given."""
    ranges = [value for value in given if isinstance(value, tuple)]
    if not ranges:
        return None
    return max(map(len, ranges)), max(len(rows[0]) for rows in ranges)


def _read(found: Any, shape: Optional[Tuple[int, int]]) -> Any:
    """An answer: a value, a refusal, or rows of such. One of another shape would be spread over the cells."""
    if "error" in found:
        return _read_error(found)
    if shape is None:
        return found["value"]
    rows: List[List[Any]] = [[_cell(cell) for cell in row] for row in found["values"]]
    if len(rows) != shape[0] or any(len(row) != shape[1] for row in rows):
        raise ValueError("it has another number of answers than it was asked for")
    return rows


def _cell(cell: Any) -> Any:
    return _read_error(cell) if isinstance(cell, dict) else cell


def _read_error(found: Any) -> Refused:
    return Refused(str(found["error"]["code"]), str(found["error"]["sentence"]))
