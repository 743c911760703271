"""A request's body on its way in, and an answer on its way out."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping

from starlette.requests import ClientDisconnect
from starlette.types import Message, Receive, Send

from rigxl.hosts.server.refusal import RefusalError, too_much

JSON = {"Content-Type": "application/json"}
ALWAYS = ((b"x-content-type-options", b"nosniff"), (b"cache-control", b"no-store"))


async def whole(receive: Receive) -> bytes:
    """All of a body.

    Raises:
        ClientDisconnect: Its sender went away.
    """
    pieces = []
    more = True
    while more:
        message = await receive()
        if message["type"] == "http.disconnect":
            raise ClientDisconnect
        pieces.append(message.get("body", b""))
        more = message.get("more_body", False)
    return b"".join(pieces)


async def reply(send: Send, body: bytes, status: int = 200, headers: Mapping[str, str] = JSON) -> None:
    """An answer in one piece."""
    raw = [(name.lower().encode(), value.encode()) for name, value in headers.items()]
    if status != 204:
        raw.append((b"content-length", b"%d" % len(body)))
    await send({"type": "http.response.start", "status": status, "headers": raw})
    await send({"type": "http.response.body", "body": body})


class Body:
    """A request's body, as long as it is neither too large nor too slow."""

    def __init__(self, receive: Receive, most: int, limit: str) -> None:
        self.receive, self.most, self.limit = receive, most, limit
        self.size = 0
        self.seconds = 0.0
        self.deadline: float | None = None
        self.whole = False

    def allow(self, size: int) -> None:
        """Refuse a body that is, or has become, too large."""
        if size > self.most:
            raise too_much(f"the body has more than the {self.most:,} bytes that are taken", self.limit)

    async def __call__(self) -> Message:
        """The next piece."""
        if self.whole:
            return await self.receive()
        if self.deadline is None:
            self.deadline = asyncio.get_running_loop().time() + self.seconds
        try:
            async with asyncio.timeout_at(self.deadline):
                message = await self.receive()
        except TimeoutError:
            sentence = f"the body did not arrive within {self.seconds:g} s (limit upload_seconds)"
            raise RefusalError(408, "over-upload-seconds", sentence, {"Connection": "close"}) from None
        self.size += len(message.get("body", b""))
        self.allow(self.size)
        self.whole = not message.get("more_body", False)
        return message


class Out:
    """An answer on its way out."""

    def __init__(self, send: Send) -> None:
        self.send = send
        self.headers = list(ALWAYS)
        self.status = 0

    async def __call__(self, message: Message) -> None:
        """Pass it on, with the headers that every answer has."""
        if message["type"] == "http.response.start":
            self.status = message["status"]
            message["headers"] = [*message["headers"], *self.headers]
        await self.send(message)

    async def refuse(self, refusal: RefusalError) -> None:
        """The refusal as the answer, unless another has begun: then the connection breaks off."""
        if self.status:
            self.status = refusal.status
            return
        await reply(self, refusal.body(), refusal.status, refusal.headers)
