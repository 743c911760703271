"""28 workbooks made by others: each is marked without loss, or refused for a true reason.

What each holds, and what must happen to it, stands in ``fixtures/README.md``.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest

from rigxl.errors import WorkbookError
from rigxl.workbook.book import mark_book, read_book
from rigxl.workbook.doctor import examine
from rigxl.workbook.guard import Limits
from rigxl.workbook.values import column_number
from tests.workbook import office
from tests.workbook.inspection import Opened, faults
from tests.workbook.trial import COLUMNS, SUMMARY, mark, marks_for

FIXTURES = Path(__file__).parent / "fixtures"
REFUSED = {
    "signed.xlsx": "signed",
    "duplicate-entry.xlsx": "duplicate-entry",
    "encrypted-ole2.xlsx": "encrypted",
}
ALL = sorted(path.name for path in FIXTURES.glob("*.xls?"))
MARKABLE = [name for name in ALL if name not in REFUSED]
LIMITS = Limits()


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the marked copy of every workbook that can be marked."""
    folder = tmp_path_factory.mktemp("marked")
    for name in MARKABLE:
        assert not mark(FIXTURES / name, folder / name, LIMITS).separate
    return folder


def test_the_readme_names_these_very_files() -> None:
    listed = re.findall(
        r"^\| (\S+\.xls\w) \|.*`([0-9a-f]{16})` \|$", (FIXTURES / "README.md").read_text(), re.M
    )
    assert len(listed) == 28
    assert {name: hashlib.sha256((FIXTURES / name).read_bytes()).hexdigest()[:16] for name in ALL} == dict(
        listed
    )


@pytest.mark.parametrize("name", MARKABLE)
def test_nothing_is_lost(marked: Path, name: str) -> None:
    assert faults(FIXTURES / name, marked / name).all() == []


@pytest.mark.parametrize("name", MARKABLE)
def test_what_was_there_is_still_there(marked: Path, name: str) -> None:
    before, after = examine(FIXTURES / name), examine(marked / name)
    assert after.things == before.things
    for old, new in zip(before.sheets, after.sheets, strict=False):
        grown = {"conditional formats", "links"}
        assert {k: v for k, v in new.things.items() if k not in grown} == {
            k: v for k, v in old.things.items() if k not in grown
        }
        assert (new.name, new.state, new.tables, new.merged) == (old.name, old.state, old.tables, old.merged)


@pytest.mark.parametrize("name", MARKABLE)
def test_marks_are_there(marked: Path, name: str) -> None:
    book = read_book(marked / name, LIMITS)
    for marks in marks_for(read_book(FIXTURES / name, LIMITS)):
        sheet = next(sheet for sheet in book.sheets if sheet.name == marks.sheet)
        found = {value for row in sheet.rows for value in row.cells.values() if isinstance(value, str)}
        assert {column.heading for column in COLUMNS} <= found
        words = [str(cells[0]) for block in marks.blocks for cells in block.rows.values()]
        assert set(words) <= found


@pytest.mark.parametrize("name", MARKABLE)
def test_marking_again_replaces_the_marks(marked: Path, tmp_path: Path, name: str) -> None:
    first = read_book(marked / name, LIMITS)
    before = {marks.sheet: marks for marks in marks_for(read_book(FIXTURES / name, LIMITS))}
    mark_book(marked / name, tmp_path / name, list(before.values()), [SUMMARY], limits=LIMITS)
    again = read_book(tmp_path / name, LIMITS)
    assert again.sheets == first.sheets
    assert again.names == first.names
    assert faults(FIXTURES / name, tmp_path / name, readers=False).all() == []


@pytest.mark.parametrize("name", MARKABLE)
def test_originals_are_left_alone(marked: Path, name: str) -> None:
    listed = (FIXTURES / "README.md").read_text()
    assert hashlib.sha256((FIXTURES / name).read_bytes()).hexdigest()[:16] in listed
    assert (marked / name).stat().st_size > 0


@pytest.mark.parametrize(("name", "code"), REFUSED.items())
def test_refused_for_a_true_reason(tmp_path: Path, name: str, code: str) -> None:
    source = tmp_path / name
    source.write_bytes((FIXTURES / name).read_bytes())
    with pytest.raises(WorkbookError) as caught:
        mark(source, tmp_path / "marked.xlsx", LIMITS)
    assert caught.value.code == code
    assert source.read_bytes() == (FIXTURES / name).read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_locked_structure_gets_no_sheet(marked: Path) -> None:
    old, new = Opened(FIXTURES / "structure-locked.xlsx"), Opened(marked / "structure-locked.xlsx")
    assert list(new.sheets()) == list(old.sheets())
    assert SUMMARY.name in Opened(marked / "table.xlsx").sheets()
    old.close()
    new.close()


def test_protected_sheet_is_marked_with_a_word(tmp_path: Path) -> None:
    said = mark(FIXTURES / "sheet-protected.xlsx", tmp_path / "marked.xlsx", LIMITS).warnings
    assert any("protected" in sentence for sentence in said)


def test_libreoffice_reads_all_as_before(marked: Path, tmp_path: Path) -> None:
    """Every value that LibreOffice showed stands where it stood, and the marks stand beside it."""
    office.program()
    before = office.opened([FIXTURES / name for name in MARKABLE], tmp_path / "before")
    after = office.opened([marked / name for name in MARKABLE], tmp_path / "after")
    assert sorted(before) == sorted(after)
    # LibreOffice 7.4 breaks down on the original of this one
    assert set(MARKABLE) - set(before) <= {"sparklines.xlsx"}
    for name in before:
        for sheet, filled in before[name].items():
            now = after[name][sheet]
            assert {where: now.get(where) for where in filled} == filled, f"{name}, {sheet}"
        for marks in marks_for(read_book(FIXTURES / name, LIMITS)):
            assert "rigxl verdict" in after[name][marks.sheet].values(), f"{name}, {marks.sheet}"


def test_place_of_the_marks_is_said(tmp_path: Path) -> None:
    book = read_book(FIXTURES / "table.xlsx", LIMITS)
    outcome = mark_book(FIXTURES / "table.xlsx", tmp_path / "t.xlsx", marks_for(book), [], limits=LIMITS)
    (where,) = outcome.placed.values()
    assert column_number(re.findall("[A-Z]+", where)[0]) > book.sheets[0].tables[0].area.last_column
