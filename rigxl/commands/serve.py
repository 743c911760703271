"""``rigxl serve``"""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import click

from rigxl.commands import pairs, refusing
from rigxl.errors import InputError

FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command("serve", short_help="Serve functions and checks of workbooks over HTTP.")
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen at.")
@click.option("--port", default=8765, show_default=True, type=click.IntRange(0, 65535), help="The port.")
@click.option("--tls-cert", type=FILE, help="The certificate for TLS, a PEM file.")
@click.option("--tls-key", type=FILE, help="Its key, a PEM file without a password.")
@click.option(
    "--token-file",
    type=FILE,
    help="A file with the token callers need; or set RIGXL_TOKEN.",
)
@click.option("--origin", default="", metavar="ORIGIN", help="How it is reached, if not by host and port.")
@click.option("--allow", multiple=True, metavar="ORIGIN", help="Pages of this origin may call too.")
@click.option("--workers", default=1, show_default=True, type=click.IntRange(1, 64), help="Processes.")
@click.option("--limit", multiple=True, metavar="NAME=NUMBER", help="Set a limit, such as batch_calls=500.")
@refusing
def command(
    host: str,
    port: int,
    tls_cert: Path | None,
    tls_key: Path | None,
    token_file: Path | None,
    origin: str,
    allow: tuple[str, ...],
    workers: int,
    limit: tuple[str, ...],
) -> None:
    """Serve the worksheet functions and checks of workbooks to other programs, by HTTP.

    On this machine only, unless --host says otherwise; others must then send a token, over TLS.
    """
    try:
        from rigxl.hosts.server import run
        from rigxl.hosts.server.limits import limits_from
        from rigxl.hosts.server.settings import Settings
    except ModuleNotFoundError as error:
        raise InputError(f"{error.name} is not installed: pip install 'rigxl[server]'") from None
    limits, reading = limits_from(pairs(limit, "--limit"))
    settings = Settings(
        host=host,
        port=port,
        origin=origin,
        token=_token(token_file),
        cert=tls_cert,
        key=tls_key,
        allowed=allow,
        workers=workers,
        limits=limits,
        reading=reading,
    )
    run.check_certificate(settings)
    with run.listening(settings) as sock:
        settings = replace(settings, port=sock.getsockname()[1])
        click.echo(
            f"rigxl serves at {settings.reached or f'port {settings.port}'}; Ctrl+C stops it", err=True
        )
        run.serve(settings, sock)


def _token(file: Path | None) -> str:
    """The token, from its file or the environment, where child processes then no longer find it."""
    from_environment = os.environ.pop("RIGXL_TOKEN", "")
    if file is None:
        return from_environment
    token = file.read_text(encoding="utf-8").strip()
    if not token:
        raise InputError(f"{file} is empty; it should hold the token")
    return token
