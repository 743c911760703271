"""Formulas worked out as LibreOffice works them out: random ones over cells of every kind.

What differs between programs may be left alone, but what is worked out must be what LibreOffice gives.
"""

from __future__ import annotations

import random

import openpyxl
import pytest
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.table import Table, TableColumn

from rigxl.formulas.arithmetic import Scalar, UnworkableError
from rigxl.formulas.place import Where
from rigxl.formulas.worked import agree
from rigxl.formulas.working import Working
from rigxl.workbook.book import read_book
from rigxl.workbook.tokens import UnreadableFormulaError
from rigxl.workbook.values import Formula
from tests.workbook import office

INPUTS: list[object] = [
    10000, 2, 60, 0, -3.25, 1e-3, 0.1, 0.2, 0.3, 1234567.891, "abc", "12.5", None, "=NA()", "", "3/4 in",
    2.5, -0.5, 1.005, 5, 7, -12, 0.75, "=1/0", True, False,
]  # fmt: skip
NUMBERS = ["2", "0.5", "-3", "12%", "0", "1.15", "100", "0.1"]
FUNCTIONS = {
    1: [
        "ABS",
        "SQRT",
        "INT",
        "SIN",
        "COS",
        "RADIANS",
        "DEGREES",
        "EXP",
        "LN",
        "LOG10",
        "SIGN",
        "NOT",
        "ISNUMBER",
        "ISTEXT",
        "ISBLANK",
        "ISERROR",
        "ISNA",
        "LEN",
        "TRIM",
        "UPPER",
        "ATAN",
        "TRUNC",
    ],
    2: ["ROUND", "ROUNDUP", "ROUNDDOWN", "POWER", "MOD", "ATAN2", "IFERROR", "_xlfn.IFNA", "LOG"],
    3: ["IF", "CHOOSE"],
}
GATHER = ["SUM", "MIN", "MAX", "COUNT", "COUNTA", "AVERAGE", "PRODUCT", "AND", "OR"]
SIGNS = ["+", "-", "*", "/", "^", "&", "=", "<>", "<", ">", "<=", ">="]


Row = tuple[str, Scalar, Scalar, str]
"""A formula, what LibreOffice gives, what is worked out here, and why it is not."""


def _formula(chance: random.Random, depth: int) -> str:
    pick = chance.random()
    if depth == 0 or pick < 0.2:
        cell = f"$A${chance.randint(1, len(INPUTS))}"
        return chance.choice([cell, cell, cell, chance.choice(NUMBERS), '"x y"', "TRUE"])
    inner = [_formula(chance, depth - 1) for _ in range(3)]
    if pick < 0.5:
        return f"{inner[0]}{chance.choice(SIGNS)}{inner[1]}"
    if pick < 0.6:
        return chance.choice([f"({inner[0]})", f"-{inner[0]}", f"({inner[0]})%", f"+{inner[0]}"])
    if pick < 0.85:
        count = chance.choice([1, 1, 2, 2, 3])
        return f"{chance.choice(FUNCTIONS[count])}({','.join(inner[:count])})"
    first, last = sorted(chance.sample(range(1, len(INPUTS) + 1), 2))
    return f"{chance.choice(GATHER)}(A{first}:A{last},{inner[0]})"


def _lookups() -> list[str]:
    return [
        "VLOOKUP(5,A1:A24,1,FALSE)", "VLOOKUP(60,Data!A1:B3,2,FALSE)", 'VLOOKUP("B",Data!C1:D3,2,0)',
        "VLOOKUP(61,Data!A1:B3,2,FALSE)", "INDEX(Data!A1:B3,2,2)", "INDEX(Data!B1:B3,3)",
        "INDEX(Data!B1:B3,MATCH(45,Data!A1:A3,0))", "MATCH(9,Data!A1:A3,0)",
        "HLOOKUP(30,Data!A1:D1,1,FALSE)", "INDEX(Data!B1:B3,4)", "rate*2", "Data!local+1", "SUM(angles)",
        "SUM(Data!B:B)", "SUM(Data!2:2)", "Data!A:A*1", "SUM(Lifts[load])", "SUM(Lifts[[load]:[legs]])",
        "Lifts[[#Headers],[load]]", "SUM({1,2;3,4})", "MAX({1,-2})*2", "SUM('Data'!B1:B3,5)", "A1:A24*2",
        "-2^2", "2^-1", "2^3^2", "-A2%", "1&2*3", "1+2&3", "5=5=TRUE", "0.1+0.2=0.3", "2*-3",
        "(1+2)*3^2/4-5%", 'IF(A1>5,"big")', "IF(A1<5,1)", "IF(A1>5,,2)", "CHOOSE(2,1,2,3)",
        "CHOOSE(9,1,2)", 'A11&"-"&A2', 'A13&"x"', "A13=0", 'A13=""', "A13+1", '"abc"<"abd"',
        '"abc"="ABC"', "1<TRUE", '"z"<FALSE', "NOT(A13)", "ROUND(2.675,2)", "ROUND(-2.5,0)",
        "ROUND(1234.5,-2)", "ROUNDUP(-1.21,1)", "ROUNDDOWN(-1.29,1)", "INT(-1.5)", "MOD(-3,2)",
        "MOD(3,-2)", "AND(TRUE,1,0)", "OR(FALSE,A4)", "COUNT(A1:A24)", "IFERROR(1/0,7)",
        "_xlfn.IFNA(NA(),8)", "SUM(A1,,3)",
    ]  # fmt: skip


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> list[Row]:
    """Each formula with what LibreOffice gives and what is worked out here, or why it is not."""
    office.program()
    chance = random.Random(20_260_301)
    formulas = _lookups() + [_formula(chance, 3) for _ in range(3000)]
    folder = tmp_path_factory.mktemp("random")
    book = openpyxl.Workbook()
    sheet, data = book.active, book.create_sheet("Data")
    assert sheet is not None
    for at, value in enumerate(INPUTS, 1):
        sheet.cell(at, 1).value = value  # type: ignore[assignment]
    for row in ([30, 2.0, "A", 7], [45, 1.414, "B", 8], [60, 1.155, "C", 9]):
        data.append(row)
    book.defined_names["rate"] = DefinedName("rate", attr_text="Data!$B$3")
    book.defined_names["angles"] = DefinedName("angles", attr_text="Data!$A$1:$A$3")
    data.defined_names["local"] = DefinedName("local", attr_text="Data!$D$2*10")
    for at, row in enumerate((["load", "legs"], [5, 2], [7, 4], [12, 6]), 10):
        for column, value in enumerate(row, 6):
            data.cell(at, column).value = value
    table = Table(displayName="Lifts", name="Lifts", ref="F10:G13", totalsRowCount=1)
    table._initialise_columns()
    for column, name in zip(table.tableColumns, ("load", "legs"), strict=True):
        assert isinstance(column, TableColumn)
        column.name = name
    data.add_table(table)
    for at, formula in enumerate(formulas, 1):
        sheet.cell(at, 3).value = f"={formula}"
    source = folder / "random.xlsx"
    book.save(source)
    other_book = office.converted(source, folder, "ods")
    calculated, bare = read_book(other_book), read_book(source)
    working = Working(bare)
    found: list[Row] = []
    for at, formula in enumerate(formulas, 1):
        other = calculated.sheets[0].cell(at, 3)
        assert isinstance(other, Formula), formula
        ours: Scalar
        try:
            ours = working.work(Where("Sheet", at, 3)).first
            why = ""
        except (UnworkableError, UnreadableFormulaError) as error:
            ours, why = None, str(error)
        found.append((formula, working.plain(other.result), ours, why))
    return found


def test_what_is_worked_out_is_right(worked: list[Row]) -> None:
    """Every value that is given is the one LibreOffice gives."""
    wrong = [
        f"{formula}: {ours!r}, and LibreOffice gives {other!r}"
        for formula, other, ours, why in worked
        if not why and not agree(other, ours)
    ]
    assert wrong == []


def test_most_is_worked_out(worked: list[Row]) -> None:
    """Few are left alone, and only for what differs between programs."""
    left = [(formula, why) for formula, _, _, why in worked if why]
    assert len(left) < len(worked) / 3
