"""What every request passes on its way in and out: who may call, how much is taken, and the line in the log.

In order: the name it called us by, where a page calls from, the token, how many are served already, the size
and the pace of the body. What goes wrong further in comes out here as one clear answer.
"""

from __future__ import annotations

import hmac
import time
from collections import Counter
from functools import lru_cache
from urllib.parse import urlsplit

from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Receive, Scope, Send

from rigxl.hosts.server.exchange import Body, Out, reply
from rigxl.hosts.server.log import Log, fault
from rigxl.hosts.server.refusal import RefusalError, busy, refusal_of
from rigxl.hosts.server.settings import Settings

OPEN = ("/healthz", "/office/")
"""Paths that need no token: they are fetched by programs that cannot send one, and say nothing of anybody."""
METHODS = frozenset({"GET", "HEAD", "POST", "OPTIONS"})
AROUND_A_FILE = 65_536
"""Bytes that a form may add to the file in it."""
GONE = 499
"""What the log says where the caller went away before the answer."""

Headers = dict[bytes, bytes]


class Guard:
    """Stands around the application.

    Args:
        app: What answers the requests that may pass.
        settings: Who may pass.
        log: Where a line about each goes.
        paths: The paths that the log may name.
    """

    def __init__(self, app: ASGIApp, settings: Settings, log: Log, paths: frozenset[str]) -> None:
        self.app, self.settings, self.log, self.paths = app, settings, log, paths
        self.names = settings.names
        self.token = b"Bearer " + settings.token.encode()
        self.origins = {origin.encode() for origin in (settings.origin, *settings.allowed) if origin}
        self.serving: Counter[str] = Counter()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request; or the start and stop of the server, which pass untouched."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        begun = time.perf_counter()
        scope["counts"] = {}
        scope["app"] = self  # with an app to raise to, the router raises what it does not find
        out = Out(send)
        try:
            await self._serve(scope, receive, out)
        except ClientDisconnect:
            out.status = GONE
        except Exception as error:
            refusal = refusal_of(error)
            if refusal.status == 500:
                fault(error)
            await out.refuse(refusal)
        finally:
            self.log.line(
                method=scope["method"] if scope["method"] in METHODS else "other",
                path=scope["path"] if scope["path"] in self.paths else "other",
                status=out.status,
                ms=round((time.perf_counter() - begun) * 1000, 2),
                **scope["counts"],
            )

    async def _serve(self, scope: Scope, receive: Receive, out: Out) -> None:
        headers: Headers = dict(scope["headers"])
        self._check_name(headers)
        out.headers += self._origin(scope, headers)
        if scope["method"] == "OPTIONS" and b"access-control-request-method" in headers:
            await reply(out, b"", 204, _preflight(headers))
            return
        self._check_token(scope, headers)
        body = self._body(scope, headers, receive)
        who = scope["client"][0] if scope["client"] else ""
        self._check_room(who)
        self.serving[who] += 1
        try:
            await self.app(scope, body, out)
        finally:
            self.serving[who] -= 1
            if not self.serving[who]:
                del self.serving[who]

    def _check_name(self, headers: Headers) -> None:
        """Refuse a caller who reached us by a name not ours, as a page with a rebound name does."""
        if self.names and _hostname(headers.get(b"host", b"")) not in self.names:
            raise RefusalError(
                400,
                "unknown-host",
                "the Host header names another server; call this one by "
                f"{', '.join(sorted(self.names))}, or start it with --origin",
            )

    def _origin(self, scope: Scope, headers: Headers) -> list[tuple[bytes, bytes]]:
        """What a browser needs to hear if the page that calls may; refuse one that may not."""
        origin = headers.get(b"origin")
        if origin is None or origin == b"%s://%s" % (scope["scheme"].encode(), headers.get(b"host", b"")):
            return []
        if origin not in self.origins:
            raise RefusalError(
                403,
                "unknown-origin",
                "the page that calls is none of this server's; start it with --allow and its origin",
            )
        return [
            (b"access-control-allow-origin", origin),
            (b"access-control-expose-headers", b"content-disposition, retry-after"),
            (b"vary", b"origin"),
        ]

    def _check_token(self, scope: Scope, headers: Headers) -> None:
        if not self.settings.token or scope["path"].startswith(OPEN):
            return
        if not hmac.compare_digest(headers.get(b"authorization", b""), self.token):
            raise RefusalError(
                401,
                "token-needed",
                "this server wants its token, in the header Authorization: Bearer TOKEN",
                {"WWW-Authenticate": "Bearer"},
            )

    def _check_room(self, who: str) -> None:
        limits = self.settings.limits
        if self.serving[who] >= limits.requests_each:
            raise busy(
                f"{limits.requests_each} requests of yours are being served", "requests_each", status=429
            )
        if self.serving.total() >= limits.requests:
            raise busy(f"{limits.requests} requests are being served", "requests")

    def _body(self, scope: Scope, headers: Headers, receive: Receive) -> Receive:
        limits = self.settings.limits
        if scope["path"] == "/workbooks":
            body = Body(receive, self.settings.reading.file_bytes + AROUND_A_FILE, "file_bytes")
        else:
            body = Body(receive, limits.batch_bytes, "batch_bytes")
        body.allow(int(headers.get(b"content-length", b"0")))
        body.seconds = limits.upload_seconds
        return body


@lru_cache(64)
def _hostname(host: bytes) -> str | None:
    """The name in a Host header, without its port."""
    try:
        return urlsplit(f"//{host.decode()}").hostname
    except ValueError:
        return None


def _preflight(headers: Headers) -> dict[str, str]:
    """What a browser asks before it lets a page of an allowed origin call."""
    said = {
        "Access-Control-Allow-Methods": "GET, POST",
        "Access-Control-Allow-Headers": "authorization, content-type",
        "Access-Control-Max-Age": "600",
    }
    for network in ("Private", "Local"):
        if headers.get(f"access-control-request-{network.lower()}-network".encode()) == b"true":
            said[f"Access-Control-Allow-{network}-Network"] = "true"
    return said
