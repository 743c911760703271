"""Rows grow until what is written in them can be read, never shrink, and prove so."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest

from rigxl.workbook.book import mark_book
from rigxl.workbook.marks import Block, MarkColumn, SheetMarks
from tests.workbook import crafted

ROWS = (
    '<row r="1"><c r="A1"><v>1</v></c></row>'
    '<row r="2" ht="20" customHeight="1" spans="1:1"><c r="A2"><v>2</v></c></row>'
    '<row r="3" s="4" ht="90"><c r="A3"><v>3</v></c></row>'
    '<row r="4" spans="1:1"/>'
    '<row r="5" ht="15"><c r="A5"><v>5</v></c></row>'
)
SHEET = crafted.worksheet(ROWS)


def marked(folder: Path, heights: dict[int, float]) -> dict[int, str]:
    """The first tag of each row of the marked sheet."""
    source = crafted.save(folder, crafted.parts(SHEET))
    block = Block(1, 1, 1, dict.fromkeys(range(2, 7), ("PASS",)), heights)
    marks = SheetMarks("Sheet1", (MarkColumn("rigxl verdict", 9),), (block,), 0, {})
    mark_book(source, folder / "marked.xlsx", [marks], [])
    with zipfile.ZipFile(folder / "marked.xlsx") as book:
        text = book.read("xl/worksheets/sheet1.xml").decode()
    return {int(tag[1]): tag[0] for tag in re.finditer(r'<row r="([0-9]+)"[^>]*>', text)}


def test_rows_grow_and_never_shrink(tmp_path: Path) -> None:
    """A row without a height, with a lower one, with a higher one, one that was empty, and a new one."""
    tags = marked(tmp_path, {2: 45.0, 3: 45.0, 4: 45.0, 6: 45.0})
    assert 'ht="45" customHeight="1"' in tags[2]
    assert tags[2].count(" ht=") == 1
    assert tags[3] == '<row r="3" s="4" ht="90">'
    assert 'ht="45" customHeight="1"' in tags[4]
    assert tags[5] == '<row r="5" ht="15">'
    assert tags[6] == '<row r="6" ht="45" customHeight="1">'


@pytest.mark.parametrize("heights", [{}, {2: 20.0}])
def test_what_is_high_enough_stays(tmp_path: Path, heights: dict[int, float]) -> None:
    """Nothing asked, or no more than there is."""
    assert marked(tmp_path, heights)[2].startswith('<row r="2" ht="20" customHeight="1"')


@pytest.mark.parametrize(
    ("height", "grows"), [("1.5E1", True), ("1.2.3", False), ("", False), ("6E2", False)]
)
def test_heights_of_any_spelling(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, height: str, grows: bool
) -> None:
    """A height is replaced whatever its spelling, never given twice; one that is no number stays."""
    monkeypatch.setattr(f"{__name__}.SHEET", SHEET.replace('ht="20"', f'ht="{height}"'))
    tag = marked(tmp_path, {2: 45.0})[2]
    assert tag.count(" ht=") == 1
    assert ('ht="45"' in tag) is grows
