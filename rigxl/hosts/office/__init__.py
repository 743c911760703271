"""Excel on any platform: an Office add-in, served from one origin together with the calculation server.

``files`` gives all of it: the manifest a person installs, metadata and script of the functions, the pane.
"""

from __future__ import annotations

import json
import re
from importlib.resources import files as resources
from pathlib import Path

from rigxl.errors import InputError
from rigxl.functions import FUNCTIONS
from rigxl.functions.zero import takes_zero
from rigxl.hosts.office.icons import SIZES, icon
from rigxl.hosts.office.manifest import manifest
from rigxl.hosts.office.metadata import NAMESPACE, metadata

FOLDER = "office"
MANIFEST = "rigxl-office-manifest.xml"
PAGES = ("pane.html", "pane.css", "pane.js", "functions.js")
_ORIGIN = re.compile(r"https://[a-z0-9](?:[a-z0-9.-]*[a-z0-9])?(?::\d{1,5})?", re.IGNORECASE)


def files(origin: str) -> dict[str, bytes]:
    """Every file of the add-in by its path below the origin.

    Args:
        origin: Where the calculation server answers, such as ``https://rigging.example:8765``.

    Raises:
        InputError: No https origin.
    """
    if not _ORIGIN.fullmatch(origin):
        raise InputError(
            f"'{origin}' is not an origin for the add-in: give https://, the host and the port, such as "
            "https://localhost:8765"
        )
    made = {
        MANIFEST: manifest(origin),
        "functions.json": json.dumps(metadata(), ensure_ascii=False, indent=1),
        "functions.js": _script(),
        "pane.js": _page("pane.js").replace("/* functions */ []", json.dumps(_shown(), ensure_ascii=False)),
    }
    made |= {name: _page(name) for name in PAGES if name not in made}
    found = {f"{FOLDER}/{name}": text.encode() for name, text in made.items()}
    return found | {f"{FOLDER}/icon-{size}.png": icon(size) for size in SIZES}


def write(folder: Path, origin: str) -> list[Path]:
    """Write the files of the add-in into a folder; the folder is made where it is not there."""
    written = []
    for name, data in files(origin).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        written.append(path)
    return written


def _page(name: str) -> str:
    return (resources(__package__) / "page" / name).read_text(encoding="utf-8")


def _script() -> str:
    script = _page("functions.js").replace("/* zeros */ {}", json.dumps(_zeros()))
    return script.replace("/* names */ []", json.dumps(list(FUNCTIONS)))


def _zeros() -> dict[str, list[int]]:
    """For each function the arguments in which a blank cell must not pass for 0."""
    found = {
        name: [at for at, zero in enumerate(takes_zero(entry)) if zero] for name, entry in FUNCTIONS.items()
    }
    return {name: places for name, places in found.items() if places}


def _shown() -> list[dict[str, object]]:
    """The functions as the pane lists them."""
    return [
        {
            "name": entry.name,
            "call": f"{NAMESPACE}.{entry.signature}",
            "help": entry.help,
            "example": f"={NAMESPACE}.{entry.example_text}",
            "answer": entry.answer,
            "source": entry.source,
            "refuses": entry.refuses,
            "arguments": [
                {"name": one.name, "help": one.help, "unit": one.unit, "choices": one.choices}
                for one in entry.arguments
            ],
        }
        for entry in FUNCTIONS.values()
    ]
