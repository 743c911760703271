"""Excel on Windows, through the open-source part of xlwings: two VBA modules to import and a settings file.

No cell function goes through xlwings' own generated wrappers, which put the text of an exception into the
cell, where it counts as greater than any number: ours turn a refusal into a cell error.
"""

from __future__ import annotations

import sys
from pathlib import Path, PureWindowsPath

from rigxl.errors import InputError
from rigxl.hosts.desktop.vba import module

PROJECT = "rigxl"
FUNCTIONS, PYTHON, SETTINGS = "rigxl_functions.bas", "rigxl_python.bas", "rigxl.conf"


def write(folder: Path, interpreter: str | None = None) -> list[Path]:
    """Write what Excel imports into a folder; the folder is made where it is not there.

    Args:
        folder: Where the files go.
        interpreter: The Python that has rigxl and xlwings; the one that runs now unless stated.

    Raises:
        InputError: xlwings is not installed.
    """
    texts = {
        FUNCTIONS: module(),
        PYTHON: _python(),
        SETTINGS: _settings(interpreter or sys.executable),
    }
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        (folder / name).write_bytes(text.replace("\r\n", "\n").replace("\n", "\r\n").encode("ascii"))
    return [folder / name for name in texts]


def _python() -> str:
    """The open VBA module of xlwings that starts Python, told to look for ``rigxl.conf``."""
    try:
        import xlwings
    except ImportError:
        raise InputError("xlwings is not installed: run pip install 'rigxl[desktop]'") from None
    text = (Path(xlwings.__file__).parent / "xlwings.bas").read_text(encoding="utf-8")
    told = 'PROJECT_NAME As String = "xlwings"'
    if text.count(told) != 1:
        raise InputError(f"xlwings {xlwings.__version__} is not the one needed: install 'rigxl[desktop]'")
    return text.replace(told, f'PROJECT_NAME As String = "{PROJECT}"')


def _settings(interpreter: str) -> str:
    """The settings file: the Python without a window, and nothing that depends on the workbook's folder."""
    path = PureWindowsPath(interpreter)
    if path.name.lower() == "python.exe":
        path = path.with_name("pythonw.exe")
    rows = {"INTERPRETER_WIN": str(path), "PYTHONPATH": "", "ADD_WORKBOOK_TO_PYTHONPATH": "False"}
    return "".join(f'"{name}","{value}"\n' for name, value in rows.items())
