"""The ``.oxt``: a zip that is the same, byte for byte, whenever it is made from the same rigxl."""

from __future__ import annotations

import json
import os
import tempfile
import zipfile
from importlib import resources
from pathlib import Path
from xml.sax.saxutils import escape

import rigxl
from rigxl.functions import FUNCTIONS
from rigxl.hosts.calc.inside.in_process import registered
from rigxl.hosts.calc.registered import idl, xcu
from rigxl.hosts.calc.remote import Remote

FILE_NAME = "rigxl.oxt"
IDENTIFIER = "org.rigxl.calc"
OLDEST_PYTHON = (3, 11)
"""The oldest that rigxl itself runs in; the add-in alone runs in 3.7."""
MODULES = ("__init__.py", "answers.py", "in_process.py", "server.py", "settings.py")
A_DATE = (1980, 1, 1, 0, 0, 0)

MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
<manifest:file-entry manifest:full-path="rigxl.idl"
 manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB"/>
<manifest:file-entry manifest:full-path="CalcAddIns.xcu"
 manifest:media-type="application/vnd.sun.star.configuration-data"/>
<manifest:file-entry manifest:full-path="rigxl_addin.py"
 manifest:media-type="application/vnd.sun.star.uno-component;type=Python"/>
</manifest:manifest>
"""
# accepted by whoever installs it: asked of every user, a LibreOffice without a screen would wait for ever
DESCRIPTION = """<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006"
 xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:lo="http://libreoffice.org/extensions/description/2011">
<identifier value="{identifier}"/>
<version value="{version}"/>
<display-name><name lang="en">rigxl: worksheet functions for rigging hardware</name></display-name>
<extension-description><src lang="en" xlink:href="about.txt"/></extension-description>
<dependencies>
<lo:LibreOffice-minimal-version value="7.0" name="LibreOffice 7.0"/>
</dependencies>
<registration>
<simple-license accept-by="admin" default-license-id="terms" suppress-on-update="true">
<license-text lang="en" license-id="terms" xlink:href="terms.txt"/>
</simple-license>
</registration>
</description>
"""


def write(folder: Path, remote: Remote | None = None) -> list[Path]:
    """Write ``rigxl.oxt`` into a folder, over an older one.

    Args:
        folder: Where it goes; it is made where it is not there.
        remote: The server that helps out where LibreOffice cannot import rigxl.

    Raises:
        InputError: The server is named in a way that will not do.
        OSError: The file cannot be written.
    """
    files = contents(remote)
    folder.mkdir(parents=True, exist_ok=True)
    handle, beside = tempfile.mkstemp(prefix=".rigxl-", suffix=".part", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file, zipfile.ZipFile(file, "w") as package:
            for name, text in files.items():
                # stored, since what a compressor makes of it differs from one machine to the next
                entry = zipfile.ZipInfo(name, A_DATE)
                entry.external_attr = 0o644 << 16
                entry.create_system = 3
                package.writestr(entry, text.encode("utf-8"))
        os.chmod(beside, 0o644)
        target = folder / FILE_NAME
        os.replace(beside, target)
    finally:
        Path(beside).unlink(missing_ok=True)
    return [target]


def contents(remote: Remote | None = None) -> dict[str, str]:
    """Every file of the ``.oxt``, by its place in it."""
    inside = resources.files("rigxl.hosts.calc.inside")
    return {
        "META-INF/manifest.xml": MANIFEST,
        "description.xml": DESCRIPTION.format(identifier=IDENTIFIER, version=escape(rigxl.__version__)),
        "about.txt": (inside / "about.txt").read_text(encoding="utf-8"),
        "terms.txt": (inside / "terms.txt").read_text(encoding="utf-8"),
        "rigxl.idl": idl(),
        "CalcAddIns.xcu": xcu(),
        "rigxl_addin.py": (inside / "rigxl_addin.py").read_text(encoding="utf-8"),
        **{f"pythonpath/rigxl_calc/{name}": (inside / name).read_text(encoding="utf-8") for name in MODULES},
        "pythonpath/rigxl_calc/settings.json": settings(remote),
    }


def settings(remote: Remote | None) -> str:
    """What the add-in has to know of where and from what it was built."""
    remote = remote.checked() if remote else None
    known = {
        "version": rigxl.__version__,
        "folder": str(Path(rigxl.__file__).resolve().parents[1]),
        "python": OLDEST_PYTHON,
        "server": remote.address if remote else None,
        "token_file": str(remote.token_file.resolve()) if remote and remote.token_file else None,
        "authority": remote.certificate() if remote else None,
        "functions": registered(FUNCTIONS),
    }
    return json.dumps(known, indent=1, ensure_ascii=False) + "\n"
