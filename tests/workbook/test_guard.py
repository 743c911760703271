"""Every limit refuses with its own code, before anything is parsed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from rigxl.errors import WorkbookError
from rigxl.workbook.book import read_book
from rigxl.workbook.guard import Limits
from tests.workbook import crafted

SMALL = crafted.worksheet(crafted.TABLE_ROWS)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"file_bytes": 100}, "file-too-large"),
        ({"unpacked_bytes": 100}, "unpacks-too-large"),
        ({"entries": 3}, "too-many-entries"),
        ({"cells": 5}, "too-many-cells"),
    ],
)
def test_limits(tmp_path: Path, change: dict[str, int], code: str) -> None:
    """Each limit refuses when it is set below what the file has, and lets the file pass as it stands."""
    path = crafted.save(tmp_path, crafted.parts(SMALL))
    assert len(read_book(path).sheets[0].rows) == 3
    with pytest.raises(WorkbookError) as refusal:
        read_book(path, replace(Limits(), **change))
    assert refusal.value.code == code


@pytest.mark.parametrize("xml", [SMALL, "<!-- by the parser -->" + SMALL])
def test_cells_are_counted_by_both_readers(tmp_path: Path, xml: str) -> None:
    """Six cells pass a limit of six and not of five."""
    path = crafted.save(tmp_path, crafted.parts(xml))
    assert read_book(path, Limits(cells=6)).sheets[0].cell(5, 2) == 3.0
    with pytest.raises(WorkbookError, match="more than 5 cells"):
        read_book(path, Limits(cells=5))


def test_density(tmp_path: Path) -> None:
    """A part of more than 1 MiB that unpacks beyond the ratio is refused."""
    path = crafted.save(tmp_path, crafted.parts(SMALL, more={"xl/media/a.bin": b" " * 2_000_000}))
    with pytest.raises(WorkbookError) as refusal:
        read_book(path)
    assert refusal.value.code == "too-dense"


@pytest.mark.parametrize("name", ["../evil.xml", "/etc/passwd", "xl/..\\..\\evil.xml"])
def test_names_that_point_outside(tmp_path: Path, name: str) -> None:
    """No part may be named outside the workbook."""
    path = crafted.save(tmp_path, crafted.parts(SMALL, more={name: b"x"}))
    with pytest.raises(WorkbookError) as refusal:
        read_book(path)
    assert refusal.value.code == "outside-name"


def test_names_equal_but_for_case(tmp_path: Path) -> None:
    """Two parts that programs take for one are refused."""
    path = crafted.save(tmp_path, crafted.parts(SMALL, more={"xl/STYLES.xml": "<a/>"}))
    with pytest.raises(WorkbookError) as refusal:
        read_book(path)
    assert refusal.value.code == "duplicate-entry"


@pytest.mark.parametrize(
    "part",
    ["xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/styles.xml", "[Content_Types].xml", "_rels/.rels"],
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_document_types(tmp_path: Path, part: str, encoding: str) -> None:
    """A document type is refused in every part that is read, in any encoding."""
    contents = crafted.parts(SMALL)
    xml = f'<?xml version="1.0" encoding="{encoding}"?><!DOCTYPE x [<!ENTITY a "b">]>{contents[part]}'
    path = crafted.save(tmp_path, contents | {part: xml.encode(encoding)})
    with pytest.raises(WorkbookError) as refusal:
        read_book(path)
    assert refusal.value.code == "doctype"


def test_depth(tmp_path: Path) -> None:
    """Elements nested without end are refused."""
    xml = crafted.worksheet("", after="<extLst>" + "<a>" * 100 + "</a>" * 100 + "</extLst>")
    with pytest.raises(WorkbookError) as refusal:
        read_book(crafted.save(tmp_path, crafted.parts(xml)))
    assert refusal.value.code == "too-deep"


@pytest.mark.parametrize("content", [b"", b"hello", b"PK\3\4 and nothing else"])
def test_not_a_workbook(tmp_path: Path, content: bytes) -> None:
    """What is no workbook is said to be none."""
    path = tmp_path / "lift.xlsx"
    path.write_bytes(content)
    with pytest.raises(WorkbookError) as refusal:
        read_book(path)
    assert refusal.value.code in ("not-a-workbook", "damaged")


def test_no_such_file(tmp_path: Path) -> None:
    """A file that is not there is one plain sentence."""
    with pytest.raises(WorkbookError, match=r"lift\.xlsx cannot be opened"):
        read_book(tmp_path / "lift.xlsx")
