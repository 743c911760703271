"""Changed workbooks: another spelling is never noticed, another meaning is refused or marked soundly.

The long run is ``python -m tests.workbook.fuzz --seconds 600``.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigxl.errors import WorkbookError
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.opendocument import read_content
from tests.workbook import fuzz
from tests.workbook.mutation import MEANING, SPELLING, Change, Operation, change_bytes

SHARE = st.floats(0, 1, exclude_max=True)
CHANGES = st.lists(
    st.builds(Change, st.integers(0, 999), SHARE, SHARE, st.integers(0, 999)), min_size=1, max_size=4
)
FEW = settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])


@pytest.mark.parametrize("way", fuzz.WAYS)
@given(source=st.sampled_from(fuzz.sources()), changes=CHANGES)
@FEW
def test_changed_workbooks(way: str, source: Path, changes: list[Change]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        assert fuzz.verdict(source, way, changes, Path(folder)) == ""


@given(changes=CHANGES, source=st.sampled_from(fuzz.foreign_sources()))
@settings(FEW, max_examples=10)
def test_changed_files_of_other_kinds(changes: list[Change], source: Path) -> None:
    with tempfile.TemporaryDirectory() as folder:
        assert fuzz.foreign_verdict(source, changes, Path(folder)) == ""


@pytest.mark.parametrize("operation", [*SPELLING, *MEANING], ids=lambda operation: operation.__name__)
def test_every_operation_changes_something(operation: Operation) -> None:
    text = (
        b'<?xml version="1.0" encoding="UTF-8"?><a x="1"><b y="2" z="3"/><v>7</v>'
        b'<row r="1"><c r="A1"><v>5</v></c></row></a>'
    )
    assert any(operation(text, place / 40, free) != text for place in range(40) for free in (0, 1))


@given(data=st.binary(max_size=300))
@FEW
def test_no_bytes_break_the_reader_of_open_documents(data: bytes) -> None:
    with pytest.raises(WorkbookError):
        read_content(data, Budget(Limits()))


def test_changes_can_be_repeated() -> None:
    changes = [Change(1, 0.5, 0.5, 3), Change(3, 0.9, 0.2, 9)]
    assert change_bytes(b"abcdefgh" * 9, changes) == change_bytes(b"abcdefgh" * 9, changes)
