"""The application: its ways in, and what each answers."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route, Router

from rigxl import __version__
from rigxl.hosts import office
from rigxl.hosts.server import catalogue, openapi
from rigxl.hosts.server.calculate import Calculation
from rigxl.hosts.server.guard import Guard
from rigxl.hosts.server.log import Log
from rigxl.hosts.server.settings import Settings
from rigxl.hosts.server.workbooks import Workbooks

JSON = "application/json"
MEDIA = {
    "css": "text/css",
    "html": "text/html",
    "js": "text/javascript",
    "json": JSON,
    "png": "image/png",
    "xml": "application/xml",
}


def application(settings: Settings, log: Log | None = None) -> Guard:
    """The server as an ASGI application.

    Args:
        settings: What it was told.
        log: Where a line about each request goes; stderr unless stated.
    """
    functions = msgspec.json.encode(catalogue.catalogue())
    description = msgspec.json.encode(openapi.description(settings))
    health = msgspec.json.encode(catalogue.Health("ok", __version__))

    routes = [
        Route("/calculate", Calculation(settings.limits), methods=["POST"]),
        Route("/workbooks", Workbooks(settings).post, methods=["POST"]),
        Route("/functions", _always(functions)),
        Route("/openapi.json", _always(description)),
        Route("/healthz", _always(health)),
        *_office(settings),
    ]
    paths = frozenset(route.path for route in routes)
    return Guard(Router(routes, redirect_slashes=False), settings, log or Log(), paths)


def _office(settings: Settings) -> Iterator[Route]:
    """The files of the Office add-in, which come from the server's own origin; they need TLS."""
    if settings.reached.startswith("https://"):
        for name, body in office.files(settings.reached).items():
            yield Route(f"/{name}", _always(body, MEDIA[name.rpartition(".")[2]]))


def _always(body: bytes, media: str = JSON) -> Callable[[Request], Awaitable[Response]]:
    async def answer(_: Request) -> Response:
        return Response(body, media_type=media)

    return answer
