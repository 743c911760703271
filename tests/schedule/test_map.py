"""What each sheet is for, and what a person may say of its columns."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rigxl.errors import InputError
from rigxl.schedule.map import Mapping, read_mapping, understand
from tests.schedule.sheets import book, read, sheet

ITEMS = sheet("Rigging", [["Lift", "Kind", "WLL (t)"], ["A", "shackle", 5]])
LIFTS = sheet("Lifts", [["Lift", "Load (t)", "Legs"], ["A", 3, 2]])
ODD = sheet("Rigging", [["Kind", "Size", "Trak", "Weight", "Load (t)"], ["shackle", "1 in", 5, 2, 3]])


def roles(*sheets: Any) -> dict[str, str]:
    """The role of each sheet."""
    return {one.name: one.role for one in understand(book(*sheets)).sheets}


def mapping(tmp_path: Path, text: str) -> Mapping:
    """A mapping typed into a file."""
    path = tmp_path / "map.csv"
    path.write_text(text, encoding="utf-8")
    return read_mapping(path)


def test_the_role_of_each_sheet() -> None:
    others = [
        sheet("Criteria", [["Setting", "Value"], ["margin", "10 %"]]),
        sheet("Columns", [["Sheet", "Heading", "Field"], ["Rigging", "Kind", "kind"]]),
        sheet("rigxl summary", [["Kind", "WLL (t)", "Size"], ["shackle", 5, "1 in"]]),
        sheet("Empty", []),
        sheet("Crew", [["Name", "Position", "Remarks"], ["somebody", "rigger", "none"]]),
    ]
    assert roles(ITEMS, LIFTS, *others) == {
        "Rigging": "hardware", "Lifts": "lifts", "Criteria": "criteria", "Columns": "mapping",
        "rigxl summary": "marks", "Empty": "other", "Crew": "other",
    }  # fmt: skip
    assert roles(ITEMS) == {"Rigging": "schedule"}


def test_a_sheet_left_alone_says_why() -> None:
    crew = sheet("Crew", [["Name", "Position", "Remarks"], ["somebody", "rigger", "none"]])
    prose = sheet("Method", [["How the lift is done"], ["Slowly"]])
    found = understand(book(crew, prose, sheet("Empty", []))).sheets
    assert [one.why for one in found] == [
        "of its headings only 'Position', 'Remarks' are known: "
        "a schedule needs a kind of item or its rated load",
        "no row of headings was found on it that names what a schedule of hardware says",
        "it is empty",
    ]


def test_a_price_list_without_kinds_is_no_schedule() -> None:
    price = [["Description", "Size", "Qty", "Price"], ["Bolts", "M20", 40, 12]]
    assert roles(sheet("Prices", price)) == {"Prices": "other"}
    price[1][0] = "Bow shackle"
    assert roles(sheet("Prices", price)) == {"Prices": "schedule"}


def test_lifts_and_hardware_on_one_sheet() -> None:
    cells = [["Lift", "Load (t)", "Legs"], ["A", 3, 2], [], ["Lift", "Kind", "WLL (t)"], ["A", "shackle", 5]]
    (found,) = understand(book(sheet("S", cells))).sheets
    assert (found.role, [table.role for table in found.tables]) == ("hardware", ["lifts", "hardware"])


def test_hidden_sheets_are_read_and_said_to_be_hidden() -> None:
    (found,) = understand(book(sheet("S", [["Kind", "WLL (t)"], ["shackle", 5]], state="veryHidden"))).sheets
    assert (found.role, found.hidden) == ("schedule", True)


def test_unknown_columns_come_with_proposals() -> None:
    columns = (
        understand(book(sheet("S", [["Kind", "WLL (t)", "Weight", "Raetd load"], ["hook", 5]])))
        .sheets[0]
        .tables[0]
        .columns
    )
    assert [(one.field, one.proposals) for one in columns[2:]] == [
        (None, ("load", "rigging")),
        (None, ("rated_load",)),
    ]
    assert [one.is_open for one in columns] == [False, False, True, True]


def test_a_mapping_from_a_file(tmp_path: Path) -> None:
    choices = mapping(
        tmp_path, "Sheet,Column,Heading,Field,Unit\nRigging,,Trak,rated load,t\n,D,,rigging,kN\n"
    )
    (line,) = read(ODD, mapping=choices)
    assert (line.item.rated_load, line.item.rigging, line.item.problems) == (
        pytest.approx(49033.25),
        2000,
        {},
    )
    assert line.item.units["rigging"] == "kN"
    columns = understand(book(ODD), choices).sheets[0].tables[0].columns
    assert [one.why for one in columns[2:4]] == ["as map.csv, line 2 says", "as map.csv, line 3 says"]


def test_a_mapping_on_a_sheet_of_the_workbook(tmp_path: Path) -> None:
    own = sheet("Columns", [["Heading", "Field", "Unit"], ["Trak", "WLL", "t"], ["Weight", "leave alone"]])
    (line,) = read(ODD, own)
    assert (line.item.rated_load, line.item.rigging) == (pytest.approx(49033.25), None)
    first = mapping(tmp_path, "heading;field;unit\nTrak;rated_load;kg\n")
    assert read(ODD, own, mapping=first)[0].item.rated_load == pytest.approx(5 * 9.80665)


def test_a_mapping_makes_headings_of_unknown_words(tmp_path: Path) -> None:
    """A sheet in another language becomes a schedule; the words are made up."""
    cells = [["Sorte", "Grootte", "Draagt"], ["shackle", "1 in", 5]]
    text = "heading,field,unit\nSorte,kind,\nGrootte,size,\nDraagt,rated load,t\n"
    (line,) = read(sheet("S", cells), mapping=mapping(tmp_path, text))
    assert (line.item.kind, line.item.rated_load) == ("shackle", pytest.approx(49033.25))


def test_a_mapping_decides_between_two_columns(tmp_path: Path) -> None:
    cells = sheet("S", [["Kind", "WLL (t)", "SWL (kg)"], ["shackle", 5, 4000]])
    (line,) = read(cells, mapping=mapping(tmp_path, "column,field\nC,rated load\n"))
    assert (line.item.rated_load, line.item.problems) == (pytest.approx(4000 * 9.80665), {})
    (line,) = read(cells, mapping=mapping(tmp_path, "heading,field\nSWL,-\n"))
    assert line.item.rated_load == pytest.approx(49033.25)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("nothing,here\n", "must name its columns"),
        ("", "must name its columns"),
        (
            "heading,field\nTrak,rated laod\n",
            "line 2: 'rated laod' is not a field of a schedule: 'rated load' or 'rated lay' may be meant",
        ),
        ("heading,field\nTrak,\n", "the fields are lift, tag"),
        ("heading,field\nTrak,weight\n", "'weight' is not a field"),
        ("heading,field,unit\nTrak,rated load,stone-ish\n", "'stone-ish' is not a unit"),
        ("heading,field\n,rated load\n", "name the column by its letter or its heading"),
        ("column,field\n7,rated load\n", "'7' is not a column"),
    ],
)
def test_a_mapping_that_is_not_understood(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(InputError, match=r"map\.csv") as refusal:
        mapping(tmp_path, text)
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("sheet,heading,field\nRiggin,Trak,load\n", "line 2: there is no sheet 'Riggin': there is 'Rigging'"),
        (
            "heading,field\nTruk,load\n",
            "there is no column headed 'Truk' in a table: the headings are 'Kind', 'Size'",
        ),
        ("sheet,column,field\nRigging,K,load\n", "there is no column K in a table on sheet 'Rigging'"),
        ("column,heading,field\nC,Weight,load\n", "there is no column C headed 'Weight'"),
    ],
)
def test_a_mapping_that_meets_nothing(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(InputError) as refusal:
        understand(book(ODD), mapping(tmp_path, text))
    assert said in str(refusal.value)


def test_a_mapping_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read as a mapping"):
        read_mapping(tmp_path / "none.csv")


def test_a_sheet_called_columns_that_is_no_mapping() -> None:
    steel = sheet("Columns", [["Mark", "Section"], ["C1", "heavy"]])
    assert roles(ITEMS, steel) == {"Rigging": "schedule", "Columns": "other"}


def test_a_table_left_alone_beside_a_schedule_is_said() -> None:
    """A list of hardware without ratings is none that can be judged, and never lost in silence."""
    cells = [["Tag", "Description", "Quantity", "Maker"], ["X-1", "shackle", 4, "Halden"], []]
    found = understand(book(sheet("S", [*cells, ["Tag", "Kind", "WLL (t)"], ["S-1", "shackle", 5]])))
    assert found.says == [
        "the table under row 1 of sheet 'S' was left alone: of its headings only 'Tag', 'Description', "
        "'Quantity', 'Maker' are known: a schedule needs a kind of item or its rated load"
    ]
