"""Cells with our functions, held against what the file stores."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from rigxl.errors import CellError
from rigxl.formulas.compare import Compared, compare, withdraw
from rigxl.formulas.told import data, headline, sentences
from rigxl.workbook.contents import Book, Sheet
from rigxl.workbook.values import Area, Formula, Row, TableArea, Value

TENSION = 10 / (2 * 3**0.5 / 2)
"""Of 10 on two legs at 60 degrees, by hand."""


def book(cells: dict[str, Value], names: dict[str, str] | None = None, **more: dict[str, Value]) -> Book:
    """A workbook of a sheet ``S`` and others, each cell by its address."""
    sheets = tuple(_sheet(name, given) for name, given in {"S": cells, **more}.items())
    return Book(Path("b.xlsx"), "", "xlsx", False, sheets, names or {})


def _sheet(name: str, cells: dict[str, Value], tables: tuple[TableArea, ...] = ()) -> Sheet:
    rows: dict[int, dict[int, Value]] = {}
    for address, value in cells.items():
        rows.setdefault(int(address[1:]), {})[ord(address[0]) - 64] = value
    return Sheet(
        name,
        "visible",
        [Row(number, dict(sorted(rows[number].items()))) for number in sorted(rows)],
        (),
        tables,
    )


def ours(text: str, stored: Value = TENSION, calculated: bool = True, **more: object) -> Formula:
    """A formula with its stored result."""
    return Formula(text, stored, calculated, **more)  # type: ignore[arg-type]


def only(compared: Compared) -> tuple[str, str]:
    """The kind and the sentence of the one finding."""
    (one,) = compared.doubtful
    return one.kind, one.sentence


GIVEN: dict[str, Value] = {"A1": 10.0, "B1": 2.0, "C1": 60.0}


@pytest.mark.parametrize(
    "text",
    [
        "=RIGXL.LEGTENSION(A1,B1,C1)",
        "=_xldudf_RIGXL_LEGTENSION(A1, 2, 60)",
        "=rigxl.legtension($A$1,4/2,100-40)",
        "='C:\\x\\rigxl.xlam'!RIGXL_LEGTENSION(S!A1,B1,C1)",
        "=RIGXL.LEGTENSION(A1*1,ROUND(B1,0),IF(B1>1,60,45))",
        "=RIGXL.LEGTENSION(RIGXL.UTILISATION(A1,1),B1,C1)",
        "=RIGXL.LEGTENSION(load,B1,C1)",
        "=SUM(RIGXL.LEGTENSION(A1,B1,C1),0)*100%",
        "=1+RIGXL.LEGTENSION(A1,B1,C1)-1",
    ],
)
def test_a_result_as_it_should_be(text: str) -> None:
    """Whatever the spelling and the arguments."""
    compared = compare(book({**GIVEN, "D1": ours(text)}, {"load": "S!$A$1"}))
    assert (compared.agree, compared.doubtful, compared.sound) == (1, [], True)
    assert headline(compared) == "rigxl's functions: 1 cell worked out again, 1 as stored"


def test_a_stale_result() -> None:
    """Both numbers are shown."""
    compared = compare(book({**GIVEN, "D1": ours("=RIGXL.LEGTENSION(A1,B1,C1)", 5.5)}))
    assert only(compared) == ("differs", "S!D1 stores 5.5, but works out to 5.7735: recalculate and save")
    assert not compared.sound
    (found,) = data(compared)["findings"]
    assert (found["cell"], found["stored"], found["worked out"]) == ("D1", 5.5, pytest.approx(TENSION))


@pytest.mark.parametrize(("off", "agrees"), [(1e-10, True), (-9e-10, True), (2e-9, False), (-1.1e-9, False)])
def test_the_tolerance(off: float, agrees: bool) -> None:
    """1e-9 of the value; where the digits shown would be the same, more are shown."""
    compared = compare(book({**GIVEN, "D1": ours("=RIGXL.LEGTENSION(A1,B1,C1)", TENSION * (1 + off))}))
    assert bool(compared.agree) is agrees
    if not agrees:
        said = only(compared)[1].split()
        assert said[2].rstrip(",") != said[6].rstrip(":")


@pytest.mark.parametrize(
    ("formula", "kind", "words"),
    [
        (
            ours("=RIGXL.LEGTENSION(A1,B1,C1)", None, False),
            "not calculated",
            "was never calculated; it works out to 5.77",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,C1)", 0.0, False),
            "not calculated",
            "was never calculated; it works out to 5.77",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,0)", None, False),
            "not calculated",
            "is refused: LEGTENSION: angle is 0",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,C1)", CellError("#NAME?")),
            "no add-in",
            "had no functions of rigxl; it works out",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,C1)", CellError("#VALUE!")),
            "error",
            "stores the error #VALUE!; it works out",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,0)", CellError("#N/A")),
            "refused",
            "S!D1 is refused: LEGTENSION: angle is 0",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,0)", 5.7),
            "differs",
            "stores 5.7, but is refused: LEGTENSION: angle is 0",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,Z9)", 5.7),
            "differs",
            "is refused: LEGTENSION: missing: angle is blank",
        ),
        (
            ours("=RIGXL.LEGTENSION(A1,B1,C1)", "5.77"),
            "text",
            "stores the text '5.77' where a number belongs",
        ),
        (ours("=RIGXL.LEGTENSION(A1,B1,C1)", ""), "text", "stores the text '' where a number belongs"),
        (ours("=RIGXL.NOSUCH(A1)", CellError("#NAME?")), "no add-in", "there is no function 'NOSUCH'"),
        (ours("=RIGXL.NOSUCH(A1)", 5.0), "differs", "there is no function 'NOSUCH'"),
        (
            ours("=RIGXL.LEGTENSION(OFFSET(A1,0,0),2,60)"),
            "not worked out",
            "could not be checked: it uses the function OFFSET",
        ),
        (ours("=RIGXL.LEGTENSION([1]X!A1,2,60)"), "not worked out", "[1]X!A1 is in another workbook"),
        (ours("=RIGXL.LEGTENSION(nosuch,2,60)"), "not worked out", "there is no name nosuch"),
        (ours("=RIGXL.LEGTENSION(Nix!A1,2,60)"), "not worked out", "Nix!A1 is on a sheet that is not there"),
        (ours("=RIGXL.LEGTENSION(A1,2,60"), "unreadable", "cannot be read (=RIGXL.LEGTENSION(A1,2,60)"),
        (ours("=RIGXL.LEG_TENSION(A1,2,60)"), "unreadable", "no spelling of a function of rigxl"),
        (ours("=RIGXL.LEGTENSION(D1,2,60)"), "circle", "it runs in a circle: S!D1 → S!D1"),
        (ours("=RIGXL.HOOKANGLEVERDICT(C1)", "FAIL"), "differs", "stores 'FAIL', but works out to 'PASS'"),
        (ours("=RIGXL.HOOKANGLEVERDICT(C1)", 1.0), "differs", "stores 1, but works out to 'PASS'"),
    ],
)
def test_what_is_amiss_is_said(formula: Formula, kind: str, words: str) -> None:
    """Each its own clear sentence, beginning with the cell."""
    said = only(compare(book({**GIVEN, "D1": formula})))
    assert said[0] == kind
    assert said[1].startswith("S!D1 ")
    assert words in said[1]


def test_a_yes_may_be_stored_as_a_1() -> None:
    """LibreOffice has no other yes for the answer of an add-in."""
    for stored in (True, 1.0):
        compared = compare(book({"D1": ours("=RIGXL.DEVICENEEDED(6,1.5,30)", stored)}))
        assert compared.agree == 1


def test_a_chain_of_ours_is_worked_out_from_the_start() -> None:
    """A stale result is not what the next cell is held against; cells may stand in any order."""
    cells = {
        **GIVEN,
        "D1": ours("=RIGXL.UTILISATION(D2,20)", 0.25),
        "D2": ours("=D3*1", 5.0),
        "D3": ours("=RIGXL.LEGTENSION(A1,B1,C1)", 5.0),
    }
    compared = compare(book(cells))
    assert [(one.where.address, one.kind) for one in compared.doubtful] == [
        ("S!D1", "differs"), ("S!D3", "differs"), ("S!D2", "relies"),
    ]  # fmt: skip
    assert "works out to 0.288675" in compared.doubtful[0].sentence
    assert compared.doubtful[2].sentence == (
        "S!D2 relies on S!D3, whose stored result must not be used; "
        "it works out to 5.7735: recalculate and save"
    )
    assert compared.looked_at == 2


def test_a_long_chain() -> None:
    """Cells that each need the one above, worked out from the last."""
    cells: dict[str, Value] = {"A1": 1.0}
    for row in range(2, 3000):
        cells[f"A{row}"] = ours(f"=RIGXL.UTILISATION(A{row - 1},1)", 1.0)
    cells["B1"] = ours("=RIGXL.UTILISATION(A2999,1)", 1.0)
    compared = compare(book(cells))
    assert (compared.agree, compared.doubtful) == (2999, [])


def test_a_circle_through_others() -> None:
    """Each cell in it says so, and which cells they are."""
    cells = {
        "A1": ours("=RIGXL.UTILISATION(A2,1)", 1.0),
        "A2": ours("=A3", 1.0),
        "A3": ours("=RIGXL.UTILISATION(A1,1)", 1.0),
    }
    compared = compare(book(cells))
    assert {one.kind for one in compared.doubtful} == {"circle", "relies"}
    assert "it runs in a circle: S!A1 → S!A2 → S!A3 → S!A1" in compared.doubtful[0].sentence


def test_what_others_worked_out_is_taken_as_stored() -> None:
    """Where their formula is not worked out here, and it is said; never calculated, it is no ground."""
    cells = {**GIVEN, "E1": ours("=OFFSET(A1,0,0)", 10.0), "D1": ours("=RIGXL.LEGTENSION(E1,2,60)")}
    compared = compare(book(cells))
    assert (compared.agree, compared.relying) == (1, 1)
    assert "1 rely on stored results" in headline(compared)
    cells["D1"] = ours("=RIGXL.LEGTENSION(E1,2,60)", 5.5)
    assert "(relying on the stored results of S!E1)" in only(compare(book(cells)))[1]
    cells["E1"] = ours("=OFFSET(A1,0,0)", None, False)
    assert "S!E1 holds a formula that was never calculated" in only(compare(book(cells)))[1]


def test_errors_of_others_are_worked_out_where_they_can_be() -> None:
    """As where a program without our functions stored #NAME? in all that depends on them."""
    name = CellError("#NAME?")
    cells = {
        **GIVEN,
        "D1": ours("=RIGXL.LEGTENSION(A1,B1,C1)", name),
        "D2": ours("=D1*2", name),
        "D3": ours("=RIGXL.UTILISATION(D2,20)", name),
    }
    compared = compare(book(cells))
    assert {one.where.address: one.worked for one in compared.doubtful} == {
        "S!D1": pytest.approx(TENSION),
        "S!D2": pytest.approx(2 * TENSION),
        "S!D3": pytest.approx(TENSION / 10),
    }


def test_ranges_fill_an_area() -> None:
    """Each cell of an array formula is held against its own answer."""
    cells: dict[str, Value] = {"A1": 10.0, "A2": 20.0, "A3": None}
    area = Area(1, 2, 3, 2)
    cells["B1"] = ours("=RIGXL.LEGTENSION(A1:A3,2,60)", TENSION, fills=area)
    cells["B2"] = ours("", 2 * TENSION)
    cells["B3"] = ours("", 7.0)
    kind, said = only(compare(book(cells)))
    assert (kind, said.startswith("S!B3 stores 7, but is refused: LEGTENSION: missing: load is blank")) == (
        "differs",
        True,
    )
    cells["C1"] = ours("=RIGXL.UTILISATION(B2,20)", TENSION / 10)
    assert compare(book(cells)).agree == 3


def test_tables_and_names() -> None:
    """The row of a table, its columns, names of a sheet and of the workbook, names of values."""
    table = TableArea("Gear", Area(1, 1, 3, 4), 0, 1, ("Load", "Legs", "Angle [deg]", "Tension"))
    cells: dict[str, Value] = {
        "A1": "Load", "B1": "Legs", "C1": "Angle [deg]", "D1": "Tension",
        "A2": 10.0, "B2": 2.0, "C2": 60.0, "A3": 10.0,
        "B3": 2.0, "C3": 60.0,
        "D2": ours(
            "=RIGXL.LEGTENSION(Gear[[#This Row],[Load]],Gear[[#This Row],[Legs]],"
            "Gear[[#This Row],[Angle '[deg']]])"
        ),
        "D3": ours("=RIGXL.LEGTENSION(MAX(Gear[Load]),legs,S!angle)"),
    }  # fmt: skip
    made = Book(
        Path("b"), "", "xlsx", False, (_sheet("S", cells, (table,)),), {"legs": "2", "S!angle": "S!$C$2"}
    )
    assert (compare(made).agree, compare(made).doubtful) == (2, [])


def test_names_that_call_us() -> None:
    """A formula with such a name calls us too, be it through another name."""
    names = {"tension": "RIGXL.LEGTENSION(S!$A$1,2,60)", "twice": "tension*2", "other": "S!$A$1"}
    cells = {**GIVEN, "D1": ours("=twice", 1.0), "D2": ours("=Tension", TENSION), "D3": ours("=other*2", 1.0)}
    compared = compare(book(cells, names))
    assert compared.agree == 1
    assert only(compared) == ("differs", "S!D1 stores 1, but works out to 11.547: recalculate and save")


def test_a_name_that_moves_is_not_guessed() -> None:
    """Its cells depend on where it is used."""
    made = book({**GIVEN, "D1": ours("=RIGXL.LEGTENSION(beside,2,60)")}, {"beside": "S!A1"})
    assert "means other cells in every cell" in only(compare(made))[1]
    made = book({**GIVEN, "D1": ours("=RIGXL.LEGTENSION(a,2,60)")}, {"a": "b+b", "b": "a+a"})
    assert only(compare(made))[0] == "circle"


def test_names_that_double_come_to_an_end() -> None:
    """A hostile workbook asks for more steps than there are."""
    names = {f"n{at}": f"n{at + 1}+n{at + 1}" for at in range(19)} | {"n19": "SUM(S!$A$1:$Z$9999)"}
    compared = compare(book({**GIVEN, "D1": ours("=RIGXL.LEGTENSION(n0,2,60)"), "A9999": 1.0}, names))
    assert only(compared)[0] == "not worked out"


def test_dates_are_serial_numbers() -> None:
    """As every formula sees them, by the calendar of the workbook."""
    cells = {"A1": dt.datetime(1900, 3, 1), "D1": ours("=RIGXL.UTILISATION(A1,1)", 61.0)}
    assert compare(book(cells)).agree == 1


def test_withdrawn_results_are_not_used() -> None:
    """The cell is as one that was never calculated, and says why."""
    made = book({**GIVEN, "D1": ours("=RIGXL.LEGTENSION(A1,B1,C1)", 5.5)})
    withdraw(made, compare(made))
    cell = made.sheets[0].cell(1, 4)
    assert isinstance(cell, Formula)
    assert (cell.calculated, cell.doubt) == (
        False,
        " stores 5.5, but works out to 5.7735: recalculate and save",
    )


def test_a_workbook_without_our_functions() -> None:
    """Nothing is said of it."""
    compared = compare(book({"A1": ours("=B1*2", 4.0), "B1": 2.0, "C1": "RIGXL.X(1)"}))
    assert (list(sentences(compared)), compared.sound) == ([], True)
