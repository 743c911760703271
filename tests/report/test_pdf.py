"""The report on paper: sizes, page numbers, headings on each page, rows kept whole."""

from __future__ import annotations

import os
import re
import shutil
from functools import cache
from io import BytesIO
from pathlib import Path
from unicodedata import normalize

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from rigxl.cli import main
from rigxl.report import pdf as making
from tests.report.pages import FOLDER, report, sample

POINTS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}
"""ISO 216 and ANSI/ASME Y14.1, in points of 1/72 in."""
MAKERS = {"WeasyPrint": making._by_weasyprint, "Chromium": making._by_browser}


@cache
def printed(maker: str, name: str, paper: str) -> PdfReader:
    """A sample's report as this program prints it; skipped without it, or failed if hosts are required."""
    made = MAKERS[maker](report(sample(name), paper=paper))
    if made is None:
        said = f"{maker} is not at hand, so no report was printed with it"
        if os.environ.get("RIGXL_REQUIRE_HOSTS") == "1":
            pytest.fail(said)
        pytest.skip(said)
    return PdfReader(BytesIO(made))


def texts(reader: PdfReader) -> list[str]:
    """What stands on each page, ligatures taken apart."""
    return [" ".join(normalize("NFKC", one.extract_text()).split()) for one in reader.pages]


@pytest.fixture(params=MAKERS)
def maker(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages(maker: str, paper: str) -> None:
    """Of the size asked for, each with its number, the file's name, the day and the digest."""
    reader = printed(maker, "footbridge", paper)
    digest = sample("footbridge").book.sha256
    count = len(reader.pages)
    assert count > 3
    for number, (one, text) in enumerate(zip(reader.pages, texts(reader), strict=True), 1):
        assert (one.mediabox.width, one.mediabox.height) == pytest.approx(POINTS[paper], abs=1)
        assert f"page {number} of {count}" in text
        assert "footbridge.xlsx" in text
        assert "2026-11-25" in text
        assert digest in text.replace(" ", "")


def test_headings_stand_over_every_part_of_a_table(maker: str) -> None:
    """A page that has a row of items has the headings of the items, one with a step those of the workings."""
    for text in texts(printed(maker, "bakery_as_received", "a4")):
        if re.search(r"Gear list!\d+ ?BK-\d\d \d+ ×", text):
            assert re.search(r"Position ?Force ?Derates ?Required", text), text[:300]
        if "force ÷ (rated load × derates)" in text:
            assert "Formula, and the numbers in it" in text


def test_a_row_and_its_reasons_stay_on_one_page(maker: str) -> None:
    """The row that fails for its round pin: its numbers, its reason and what would pass."""
    pages = texts(printed(maker, "bakery_as_received", "a4"))
    (its,) = [text for text in pages if re.search(r"Gear list!13 ?BK-06 \d+ × ", text)]
    assert "a round pin shackle loaded 20° off its axis" in its
    assert "a screw pin or bolt type shackle, or in line" in its


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_first_row_under_the_headings_is_whole(maker: str, paper: str) -> None:
    """Where a table begins low on a page; on A4 the maker of this row once stood on the next."""
    pages = texts(printed(maker, "lock_gates_metric", paper))
    (its,) = [text for text in pages if "LG-06 1 × hook" in text]
    assert "LG-06 1 × hook, shank hook, Ferrandel" in its


def test_without_a_program_one_sentence_says_what_would_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And the page is there all the same."""
    monkeypatch.setattr(making, "_by_weasyprint", lambda _: None)
    monkeypatch.setattr(shutil, "which", lambda _: None)
    result = CliRunner().invoke(
        main, ["report", str(FOLDER / "footbridge.xlsx"), "--pdf", "--out", str(tmp_path)]
    )
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "no PDF was written: it needs WeasyPrint (pip install 'rigxl[report]'" in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["footbridge.report.html"]


def test_the_command_writes_a_pdf_beside_the_page(tmp_path: Path) -> None:
    if MAKERS["WeasyPrint"]("<p>") is None and making.browser() is None:
        pytest.skip("neither WeasyPrint nor Chromium is at hand, so nothing was printed")
    result = CliRunner().invoke(
        main, ["report", str(FOLDER / "footbridge.xlsx"), "--brief", "--pdf", "--out", str(tmp_path)]
    )
    assert result.exit_code == 1, result.output
    assert (tmp_path / "footbridge.report.pdf").read_bytes().startswith(b"%PDF-")
