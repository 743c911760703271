"""What is shown of a workbook before anything is checked."""

from __future__ import annotations

import json

from rigxl.schedule.columns import describe
from rigxl.schedule.map import understand
from tests.schedule.sheets import book, sheet


def test_every_sheet_and_every_column_is_described() -> None:
    rows = [["Kind", "SWL (kN)", "Weight", "Raetd load", "Price"], ["shackle", 40, 1, 2, 3], ["Total"]]
    said = describe(understand(book(sheet("S", rows), sheet("Empty", []))))
    first, second = said["sheets"]
    (table,) = first["tables"]
    assert first == {"tables": [table], "name": "S", "role": "schedule", "why": "", "hidden": False}
    assert (second["role"], second["why"], second["tables"]) == ("other", "it is empty", [])
    assert [
        (one["letter"], one["heading"], one["field"], one["unit"], one["note"]) for one in table["columns"]
    ] == [
        ("A", "Kind", "kind", None, ""),
        ("B", "SWL (kN)", "rated_load", "kN", ""),
        ("C", "Weight", None, None, "could be load or rigging weight"),
        ("D", "Raetd load", None, None, "not known; may be rated load"),
        ("E", "Price", None, None, "nothing a check reads"),
    ]
    assert (table["header_row"], table["first_row"], table["last_row"], table["items"]) == (1, 2, 2, 1)
    assert table["unmapped"] == ["C", "D"]
    assert table["left_out"] == [{"row": 3, "why": "it is a row of totals"}]
    assert json.loads(json.dumps(said)) == said
