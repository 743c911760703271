"""The server that helps out where LibreOffice cannot import rigxl itself."""

from __future__ import annotations

import ipaddress
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from rigxl.errors import InputError


class Remote(NamedTuple):
    """A rigxl server: its address, and how it and the add-in know each other."""

    address: str
    token_file: Path | None = None
    """The file its token is in; the add-in reads it when it calls, and holds no token itself."""
    authority: Path | None = None
    """The certificate (PEM) that vouches for the server, where the machine does not know it."""

    def checked(self) -> Remote:
        """Itself, the address without a slash at its end.

        Raises:
            InputError: An address that is none, or one beyond this machine without TLS.
        """
        parts = urlsplit(self.address.rstrip("/"))
        try:
            whole = f"{parts.scheme}://{parts.hostname}" + (f":{parts.port}" if parts.port else "")
        except ValueError:
            whole = ""
        if parts.scheme not in ("http", "https") or not parts.hostname or parts.geturl() != whole:
            raise InputError(
                f"--server {self.address}: write an address such as https://rigging.example, without a path"
            )
        if parts.scheme == "http" and not _is_this_machine(parts.hostname):
            raise InputError(
                f"--server {self.address}: beyond this machine it must begin with https://, "
                "or what is calculated could be read and changed on its way"
            )
        return self._replace(address=whole)

    def certificate(self) -> str | None:
        """The text of the certificate.

        Raises:
            InputError: The file holds none.
        """
        if self.authority is None:
            return None
        text = self.authority.read_text(encoding="ascii", errors="replace")
        if "BEGIN CERTIFICATE" not in text or "PRIVATE KEY" in text:
            raise InputError(
                f"--authority {self.authority}: it must hold a certificate in PEM, and no private key"
            )
        return text


def _is_this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"
