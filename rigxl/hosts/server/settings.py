"""What the server was told: where it listens, who may call it, how much it takes on."""

from __future__ import annotations

import ipaddress
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from rigxl.errors import InputError
from rigxl.hosts.server.limits import ServerLimits
from rigxl.workbook.guard import Limits

TOKEN_LENGTH = 32
EVERYWHERE = ("0.0.0.0", "::")
THIS_MACHINE = ("localhost", "127.0.0.1", "::1")


@dataclass(frozen=True)
class Settings:
    """What the server was told.

    Raises:
        InputError: It would be open to others without a token and TLS, or an option is not what it should be.
    """

    host: str = "127.0.0.1"
    port: int = 8765
    origin: str = ""
    """The address under which callers reach it, where that is not host and port."""
    token: str = field(default="", repr=False)
    cert: Path | None = None
    key: Path | None = None
    allowed: tuple[str, ...] = ()
    """Origins of pages that may call besides the server's own."""
    workers: int = 1
    limits: ServerLimits = field(default_factory=ServerLimits)
    reading: Limits = field(default_factory=Limits)

    def __post_init__(self) -> None:
        for one in filter(None, (self.origin, *self.allowed)):
            _check_origin(one)
        if bool(self.cert) != bool(self.key):
            raise InputError("TLS needs both --tls-cert and --tls-key; one of them was given")
        if self.token and not (self.token.isascii() and self.token.isprintable() and " " not in self.token):
            raise InputError("the token may have letters, digits and signs, without spaces")
        if self.token and len(self.token) < TOKEN_LENGTH:
            raise InputError(
                f"the token has {len(self.token)} characters; {TOKEN_LENGTH} or more are needed, such as "
                "python -c 'import secrets; print(secrets.token_urlsafe())' prints"
            )
        missing = [*([] if self.token else [TOKEN_OPTION]), *([] if self.cert else [TLS_OPTIONS])]
        if not is_this_machine(self.host) and missing:
            raise InputError(
                f"--host {self.host} lets others reach the server, so {' and '.join(missing)} must be given; "
                "without --host it listens on this machine only"
            )
        outside = self.origin and not is_this_machine(urlsplit(self.origin).hostname or "")
        if outside and not (self.token and self.origin.startswith("https://")):
            raise InputError(
                f"--origin {self.origin} lets others reach the server, so it must begin with https:// and "
                f"{TOKEN_OPTION} must be given"
            )

    @property
    def reached(self) -> str:
        """The origin under which callers reach it; empty where only they know."""
        if self.origin:
            return self.origin
        host = "localhost" if is_this_machine(self.host) else self.host
        if host in EVERYWHERE:
            return ""
        return f"{'https' if self.cert else 'http'}://{f'[{host}]' if ':' in host else host}:{self.port}"

    @property
    def names(self) -> frozenset[str]:
        """The names callers may have used for the server; none where any will do.

        A page of others can make its own name lead to this machine; its calls then carry that name.
        """
        if not is_this_machine(self.host) and not self.origin:
            return frozenset()
        own = urlsplit(self.origin).hostname if self.origin else None
        return frozenset({*THIS_MACHINE, self.host, *([own] if own else [])})


TOKEN_OPTION = "a token (--token-file, or RIGXL_TOKEN in the environment)"
TLS_OPTIONS = "TLS (--tls-cert and --tls-key)"


def is_this_machine(host: str) -> bool:
    """Whether a host is this machine alone.

    >>> is_this_machine("127.0.0.1"), is_this_machine("::1"), is_this_machine("0.0.0.0")
    (True, True, False)
    """
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _check_origin(origin: str) -> None:
    parts = urlsplit(origin)
    plain = f"{parts.scheme}://{parts.netloc}"
    if parts.scheme not in ("http", "https") or not parts.hostname or "@" in parts.netloc or origin != plain:
        raise InputError(
            f"'{origin}' is no origin: write it such as https://calc.example.com, without a path"
        )
