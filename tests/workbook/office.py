"""LibreOffice as a reader of workbooks: the values it shows, several files to one run."""

from __future__ import annotations

import os
import shutil
import subprocess
import zipfile
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import pytest

TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
SECONDS = 240


def program() -> str:
    """Where LibreOffice is; without it the test is skipped, or fails where hosts are required."""
    found = shutil.which("soffice") or shutil.which("libreoffice")
    if found is None:
        said = "LibreOffice (soffice) is not installed, so nothing was opened in a real spreadsheet program"
        if os.environ.get("RIGXL_REQUIRE_HOSTS") == "1":
            pytest.fail(said)
        pytest.skip(said)
    return found


def opened(paths: Sequence[Path], folder: Path) -> dict[str, dict[str, dict[tuple[int, int], str]]]:
    """What LibreOffice reads in each workbook: the text or number of every filled cell, by sheet.

    One that LibreOffice itself breaks down on is left out; the run goes on behind it.

    Args:
        paths: Workbooks of different names.
        folder: An empty folder for its profile and what it writes.
    """
    out = folder / "out"
    left = list(paths)
    while left:
        _convert(left, folder / "profile", out)
        done = [path for path in left if _converted(path, out).exists()]
        # it converts in order and ends at the first that it breaks down on
        left = left[len(done) + 1 :]
    return {path.name: _values(_converted(path, out)) for path in paths if _converted(path, out).exists()}


def _convert(paths: Sequence[Path], profile: Path, out: Path, kind: str = "ods") -> None:
    command = [program(), f"-env:UserInstallation={profile.as_uri()}", "--headless", "--convert-to", kind]
    subprocess.run([*command, "--outdir", str(out), *map(str, paths)], capture_output=True, timeout=SECONDS)


def _converted(path: Path, out: Path) -> Path:
    return out / f"{path.stem}.ods"


def _values(path: Path) -> dict[str, dict[tuple[int, int], str]]:
    """The filled cells of an OpenDocument spreadsheet, by sheet."""
    with zipfile.ZipFile(path) as package:
        root = ElementTree.fromstring(package.read("content.xml"))
    found = {}
    for table in root.iter(f"{TABLE}table"):
        filled: dict[tuple[int, int], str] = {}
        row_number = 0
        for row in table.iter(f"{TABLE}table-row"):
            column = 0
            for cell in row:
                if cell.tag not in (f"{TABLE}table-cell", f"{TABLE}covered-table-cell"):
                    continue
                shown = (
                    cell.get(f"{OFFICE}value") or cell.get(f"{OFFICE}date-value") or "".join(cell.itertext())
                )
                if shown:
                    filled[row_number + 1, column + 1] = shown
                column += int(cell.get(f"{TABLE}number-columns-repeated", "1"))
            row_number += int(row.get(f"{TABLE}number-rows-repeated", "1"))
        found[table.get(f"{TABLE}name", "")] = filled
    return found


def converted(path: Path, folder: Path, kind: str) -> Path:
    """A workbook as LibreOffice saves it in another format.

    Args:
        path: The workbook.
        folder: A folder for LibreOffice's profile and what it writes.
        kind: The format, such as xlsx or ods.
    """
    out = folder / "out"
    _convert([path], folder / "profile", out, kind)
    return out / f"{path.stem}.{kind}"
