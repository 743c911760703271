"""Tags, serial numbers and certificates across the rows of a workbook."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rigxl.checks.traceability import how_many
from rigxl.items import FAIL, HOLD, PASS
from tests.schedule.books import GOOD, check, decided, remedies, sentences

OTHER = GOOD | {"Tag": "S-2"}


def held(folder: Path, *rows: dict[str, Any], **more: Any) -> list[list[str]]:
    """The rules that hold each row."""
    return [decided(row)[1] for row in check(folder, *rows, **more).rows]


def test_a_tag_on_two_rows(tmp_path: Path) -> None:
    """Both are held, and each names the other's cell."""
    first, other, second = check(tmp_path, GOOD, OTHER, GOOD | {"Tag": "s-1"}).rows
    assert [decided(row) for row in (first, other, second)] == [
        (HOLD, ["same-tag"]),
        (PASS, []),
        (HOLD, ["same-tag"]),
    ]
    assert sentences(first, "same-tag") == ["the tag 'S-1' of Schedule!B2 also stands in Schedule!B4"]
    assert sentences(second, "same-tag") == ["the tag 's-1' of Schedule!B4 also stands in Schedule!B2"]


def test_a_tag_on_two_sheets(tmp_path: Path) -> None:
    """Across the workbook, not only the sheet."""
    (first, second) = check(tmp_path, GOOD, More=[list(GOOD), list(GOOD.values())]).rows
    assert sentences(first, "same-tag") == ["the tag 'S-1' of Schedule!B2 also stands in More!B2"]
    assert second.verdict == HOLD


def test_one_piece_in_two_lifts(tmp_path: Path) -> None:
    """Allowed unless the criteria say no, and only while nothing else about it differs."""
    again = GOOD | {"Lift": "Lift 2"}
    allowed = {"shared pieces": "between lifts"}
    assert held(tmp_path, GOOD, again) == [[], []]
    assert held(tmp_path, GOOD, again, overrides={"shared pieces": "held"}) == [["same-tag"]] * 2
    assert held(tmp_path, GOOD, again, overrides=allowed) == [[], []]
    assert held(tmp_path, GOOD, GOOD, overrides=allowed) == [["same-tag"]] * 2
    assert held(tmp_path, GOOD, again | {"Maker": "Oster"}, overrides=allowed) == [["same-tag"]] * 2
    worn = again | {"Wear (%)": "5 %"}
    assert held(tmp_path, GOOD, worn, overrides=allowed) == [["same-tag"]] * 2


@pytest.mark.parametrize("tag", ["1", "12", "Shackle", "leg shackle"])
def test_a_line_number_or_a_word_is_no_tag(tmp_path: Path, tag: str) -> None:
    """Line numbers begin again with each lift, and many rows are called Shackle."""
    row = GOOD | {"Tag": tag}
    assert held(tmp_path, row, row) == [[], []]


def test_out_of_service_on_one_row_is_out_on_all(tmp_path: Path) -> None:
    """It is the same piece, whether or not the criteria let lifts share it."""
    out = GOOD | {"In service": "no"}
    again = GOOD | {"Lift": "Lift 2"}
    for sharing in ("held", "between lifts"):
        first, second = check(tmp_path, out, again, overrides={"shared pieces": sharing}).rows
        assert (first.verdict, second.verdict) == (FAIL, FAIL)
        assert sentences(second, "out-of-service") == ["the same piece is out of service by Schedule!Q2"]


def test_one_serial_number_for_several_pieces(tmp_path: Path) -> None:
    """Two pieces and one number; two numbers will do."""
    one = GOOD | {"Serial no.": "A-101"}
    (row,) = check(tmp_path, one).rows
    assert decided(row) == (HOLD, ["serial-count"])
    assert sentences(row, "serial-count") == [
        "Schedule!Q2 gives one serial number for 2 pieces (Schedule!E2)"
    ]
    assert held(tmp_path, GOOD | {"Serial no.": "A101, A102"}) == [[]]
    assert held(tmp_path, GOOD | {"Serial no.": "A101 to A103"}) == [["serial-count"]]


@pytest.mark.parametrize(
    ("said", "count"),
    [("7", 1), ("2024-0015", 1), ("A1; A2", 2), ("12 to 15", 4), ("SN 7", 1), ("B1..B3 and C9", 4)],
)
def test_how_many_serial_numbers(said: str, count: int) -> None:
    """A hyphen is part of many numbers, so it makes no range."""
    assert how_many(said) == count


def test_a_serial_number_on_two_rows(tmp_path: Path) -> None:
    """Of one maker; another maker may have the same number."""
    one = GOOD | {"Serial no.": "A-101", "Quantity": 1, "Kind": "hook", "Position": "top", "Latch": "yes"}
    one |= {"Size": None, "Type": None, "Rated load (t)": 10}
    two = one | {"Tag": "S-2"}
    rows = check(tmp_path, one, two).rows
    assert [decided(row) for row in rows] == [(HOLD, ["same-serial"])] * 2
    assert "raised mark" in remedies(rows[0])[0]
    assert held(tmp_path, one, two | {"Maker": "Oster"}) == [[], []]


CERTIFIED = GOOD | {"Certificate no.": "C-17"}
SECOND = CERTIFIED | {"Tag": "S-2"}


@pytest.mark.parametrize(
    ("changes", "rules"),
    [
        ({}, []),
        ({"Maker": "Oster"}, ["certificate-covers"]),
        ({"Size": "1 in"}, ["certificate-covers"]),
        ({"Certificate no.": "C-18", "Maker": "Oster"}, []),
    ],
)
def test_one_certificate_on_two_rows(tmp_path: Path, changes: dict[str, Any], rules: list[str]) -> None:
    """Fine for one kind, size, maker and batch."""
    assert held(tmp_path, CERTIFIED, SECOND | changes) == [rules, rules]


def test_one_certificate_for_two_batches(tmp_path: Path) -> None:
    """The batch is a column of its own."""
    first, second = check(tmp_path, CERTIFIED | {"Batch no.": "H7"}, SECOND | {"Batch no.": "H8"}).rows
    assert decided(first) == (HOLD, ["certificate-covers"])
    assert sentences(second, "certificate-covers") == [
        "the certificate 'C-17' of Schedule!Q3 is claimed in Schedule!Q2 for another batch"
    ]


@pytest.mark.parametrize(("covered", "rules"), [(4, []), (3, ["certificate-covers"])])
def test_how_many_pieces_a_certificate_covers(tmp_path: Path, covered: int, rules: list[str]) -> None:
    """Two rows of two pieces; the certificate may name several sizes when it says how many pieces."""
    more = {"Pieces covered": covered}
    assert held(tmp_path, CERTIFIED | more, SECOND | more | {"Size": "1 in"}) == [rules, rules]


def test_a_certificate_said_to_cover_two_numbers_of_pieces(tmp_path: Path) -> None:
    """Nobody can know which."""
    assert (
        held(tmp_path, CERTIFIED | {"Pieces covered": 4}, SECOND | {"Pieces covered": 8})
        == [["certificate-covers"]] * 2
    )


def test_a_certificate_that_is_no_number(tmp_path: Path) -> None:
    """'yes' is not traceable, where a certificate is asked for; and two rows may both say so."""
    required = {"required marks": "rated load, maker, certificate"}
    rows = [CERTIFIED | {"Certificate no.": "yes"}, SECOND | {"Certificate no.": "yes", "Maker": "Oster"}]
    assert held(tmp_path, *rows, overrides=required) == [["certificate-missing"]] * 2
    assert held(tmp_path, *rows) == [[], []]
