"""Pictures over the cells of a workbook: where they stand, and which of them are not handed out."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import Limits
from rigxl.workbook.pictures import MOST_PIXELS, Picture, kind_of, pictures
from tests.images import jpeg, png

FIXTURES = Path(__file__).parent / "fixtures"


Fill = Callable[[xlsxwriter.Workbook], None]


def book(path: Path, fill: Fill) -> Path:
    with xlsxwriter.Workbook(path) as made:
        fill(made)
    return path


def found(path: Path, limits: Limits | None = None) -> list[Picture]:
    return pictures(path, hashlib.sha256(path.read_bytes()).hexdigest(), limits or Limits())


def test_where_a_picture_stands(tmp_path: Path) -> None:
    """From row 5, 99 dots reach over rows 5 to 9: a row is 20 dots high unless it says otherwise."""

    def fill(made: xlsxwriter.Workbook) -> None:
        made.add_worksheet("Empty")
        sheet = made.add_worksheet("Plan & view")
        options = {"image_data": BytesIO(png(64, 99)), "description": "The span, from the east"}
        sheet.insert_image("H5", "span.png", options)

    (one,) = found(book(tmp_path / "one.xlsx", fill))
    assert (one.sheet, one.first_row, one.last_row) == ("Plan & view", 5, 9)
    assert (one.name, one.kind, one.why_not) == ("The span, from the east", "png", "")
    assert one.data == png(64, 99)


def test_a_picture_that_claims_too_many_dots_is_named_and_not_handed_out(tmp_path: Path) -> None:
    def fill(made: xlsxwriter.Workbook) -> None:
        data = png(4, 4, claimed=(100_000, 100_000))
        made.add_worksheet("S").insert_image("A1", "bomb.png", {"image_data": BytesIO(data), "x_scale": 1e-4})

    (one,) = found(book(tmp_path / "bomb.xlsx", fill))
    assert one.data == b""
    assert one.why_not == f"it claims 10,000,000,000 dots, over {MOST_PIXELS:,}"


def test_what_is_no_picture_of_ours_is_left_out(tmp_path: Path) -> None:
    """Pictures in headers and in cells stand over no row; a workbook without any has none."""
    assert found(FIXTURES / "header-image.xlsx") == []
    assert found(FIXTURES / "image-in-cell.xlsx") == []
    plain = tmp_path / "plain.csv"
    plain.write_text("a,b\n")
    assert found(plain) == []


def test_a_file_that_was_changed_in_between_is_refused(tmp_path: Path) -> None:
    path = book(tmp_path / "one.xlsx", lambda made: made.add_worksheet("S") and None)
    with pytest.raises(WorkbookError, match="was changed while it was read"):
        pictures(path, "0" * 64, Limits())


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (png(3, 2), ("png", 6)),
        (b"GIF89a" + struct.pack("<HH", 3, 2), ("gif", 6)),
        (jpeg(640, 480), ("jpeg", 640 * 480)),
        (b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>", ("", 0)),
        (b"\xd7\xcd\xc6\x9a" + bytes(40), ("", 0)),  # a Windows metafile
        (b"", ("", 0)),
    ],
)
def test_a_picture_is_what_its_own_bytes_say(data: bytes, kind: tuple[str, int]) -> None:
    assert kind_of(data) == kind


@given(st.sampled_from([b"\xff\xd8\xff", b"GIF89a", b"\x89PNG\r\n\x1a\n"]), st.binary(max_size=64))
def test_any_bytes_are_told(head: bytes, tail: bytes) -> None:
    kind, dots = kind_of(head + tail)
    assert kind in ("", "png", "gif", "jpeg")
    assert dots >= 0
