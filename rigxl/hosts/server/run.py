"""Running the server: its socket, its processes, its stop."""

from __future__ import annotations

import contextlib
import signal
import socket
import ssl
import sys
from functools import partial
from typing import NoReturn

from uvicorn import Config, Server
from uvicorn.supervisors import Multiprocess

from rigxl.errors import InputError
from rigxl.hosts.server.app import application
from rigxl.hosts.server.log import LOGGING
from rigxl.hosts.server.settings import Settings

KEEP_ALIVE_SECONDS = 75
WAITING = 1024
"""Connections that may wait to be taken."""


def serve(settings: Settings, sock: socket.socket) -> None:
    """Serve until a signal asks to stop; what is being served then is finished first.

    Args:
        settings: What the server was told.
        sock: Where it listens.
    """
    config = Config(
        partial(application, settings),
        factory=True,
        workers=settings.workers,
        ssl_certfile=settings.cert,
        ssl_keyfile=settings.key,
        ws="none",
        lifespan="off",
        log_config=LOGGING,
        access_log=False,
        proxy_headers=False,
        server_header=False,
        timeout_keep_alive=KEEP_ALIVE_SECONDS,
        timeout_graceful_shutdown=round(settings.reading.seconds + settings.limits.batch_seconds),
    )
    for number in (signal.SIGTERM, signal.SIGINT):  # the server raises the signal again when it is done
        signal.signal(number, _stopped)
    if settings.workers > 1:
        Multiprocess(config, [sock]).run()
    else:
        Server(config).run([sock])


def _stopped(*_: object) -> NoReturn:
    sys.exit(0)


def listening(settings: Settings) -> socket.socket:
    """A socket at the settings' host and port.

    Raises:
        InputError: Somebody else listens there, or there is no such address.
    """
    try:
        family, _, _, _, address = socket.getaddrinfo(
            settings.host, settings.port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        return socket.create_server(address[:2], family=family, backlog=WAITING)
    except OSError as error:
        raise InputError(
            f"cannot listen at {settings.host} port {settings.port}: {error.strerror or error}; "
            "name another with --port or --host"
        ) from None


def check_certificate(settings: Settings) -> None:
    """Refuse a certificate or key that cannot be used, before anything listens.

    Raises:
        InputError: A file that cannot be read, a key that does not belong, or one behind a password.
    """
    if settings.cert is None:
        return
    with contextlib.suppress(ssl.SSLError, OSError):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(settings.cert, settings.key, password="")
        return
    raise InputError(
        f"{settings.cert} and {settings.key} are no certificate and key for TLS: two PEM files are needed, "
        "the key without a password"
    )
