"""A process killed at any moment while it marks a workbook in place leaves one whole file and its backup."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from pathlib import Path

FIXTURES = Path(__file__).parent / "fixtures"
PROJECT = Path(__file__).parents[2]
CHILD = """
import sys
from pathlib import Path
from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.guard import Limits
from tests.workbook.trial import SUMMARY, marks_for
path = Path(sys.argv[1])
book = read_book(path)
marks = marks_for(book)
print("ready", flush=True)
sys.stdin.readline()
mark_book(path, path, marks, [SUMMARY], limits=Limits(), in_place=True)
print("done", flush=True)
"""
MOMENTS = 24


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def start(path: Path) -> subprocess.Popen[str]:
    """A child that has read the workbook and waits for a word to mark it in place."""
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, str(path)],
        cwd=PROJECT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "ready\n"
    return child
