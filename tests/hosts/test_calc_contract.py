"""The contract, in the real LibreOffice with the real add-in: every case, from .xlsx and from .ods.

Calc itself decides three things before we are asked. A cell in error gives its error. A single blank cell
comes as 0, so a single 0 is never answered. TRUE comes as 1, and cannot be told from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from rigxl.errors import CellError
from rigxl.functions import FUNCTIONS
from rigxl.functions.columns import Refused, answer
from rigxl.hosts.calc import IDENTIFIER, write
from rigxl.hosts.calc.registered import example_text
from tests.hosts.calc_office import Calc, calc
from tests.hosts.calc_sheets import Formula, shown, write_ods, write_xlsx
from tests.hosts.cases import CASES, TOLERANCE, Case

ERRORS = ("#VALUE!", "#N/A", "#NUM!", "#DIV/0!", "#NAME?", "#REF!", "Err:502", "Err:504")
WRITERS = {"xlsx": write_xlsx, "ods": write_ods}


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """LibreOffice with the add-in."""
    (oxt,) = write(tmp_path_factory.mktemp("oxt"))
    with calc(oxt) as found:
        yield found


def without_errors(value: Any) -> Any:
    """A range without its cells in error: one of them is the answer of the whole call."""
    if not isinstance(value, list | tuple):
        return value
    return [list(line) for line in value if not isinstance(line[0], CellError)]


def call_text(name: str, arguments: Sequence[Any]) -> str:
    """A call whose arguments are put in later."""
    return f"RIGXL.{name}({','.join(f'{{{at}}}' for at in range(len(arguments)))})"


def formula(case: Case) -> Formula:
    """A case as a formula whose arguments are cells."""
    arguments = tuple(without_errors(value) for value in case.arguments)
    found = Formula(call_text(case.function, arguments), arguments)
    return found._replace(tall=found.rows, array=any(isinstance(one, list) for one in arguments))


def handed_over(value: Any) -> Any:
    """An argument as Calc hands it over."""
    if isinstance(value, list):
        return [[1.0 if cell is True else cell for cell in line] for line in value]
    return 0.0 if value == "" and isinstance(value, str) else 1.0 if value is True else value


def expected(case: Case) -> list[Any]:
    """What the cells of a case show, by what Python answers to what Calc hands over."""
    of = formula(case)
    for value in of.arguments:
        if isinstance(value, CellError):
            return [str(value)]
    given = [handed_over(value) for value in of.arguments]
    found = answer(case.function, given)
    doubted = any(value == 0 and not isinstance(value, str | list) for value in given)
    if case.function == "REASON" and 0.0 in given[1:]:
        assert isinstance(answer(given[0], given[1:]), Refused)
        return [f"{found} (Calc hands over a blank cell as 0)"]
    cells = [line[0] for line in found] if isinstance(found, list) else [found]
    return [_shown(cell, doubted) for cell in cells]


def _shown(cell: Any, doubted: bool) -> Any:
    if isinstance(cell, Refused):
        return {"VALUE": "#VALUE!", "NA": "#N/A"}[cell.code]
    return "#VALUE!" if doubted else float(cell) if isinstance(cell, bool | int) else cell


def same(ours: Any, theirs: Any) -> bool:
    """Equal texts and errors, and numbers within the tolerance of the contract."""
    if isinstance(ours, float) and isinstance(theirs, int | float) and not isinstance(theirs, bool):
        return math.isclose(ours, theirs, rel_tol=TOLERANCE, abs_tol=0.0)
    return type(ours) is type(theirs) and bool(ours == theirs)


@pytest.mark.parametrize("ending", WRITERS)
def test_every_case(office: Calc, tmp_path: Path, ending: str) -> None:
    """Values to 1e-12, error by error."""
    formulas = [formula(case) for case in CASES]
    path = tmp_path / f"cases.{ending}"
    WRITERS[ending](path, formulas)
    (worked,) = office.work_out([path], "xlsx")
    differ = [
        f"{case}: {case.arguments} is {ours} and shows {theirs}"
        for case, theirs in zip(CASES, shown(worked, formulas), strict=True)
        if not all(map(same, ours := expected(case), theirs)) or len(ours) != len(theirs)
    ]
    assert not differ, "\n".join(differ[:40])
    assert len(CASES) > 1000


def spoiled() -> Iterator[tuple[str, str, tuple[Any, ...]]]:
    """Every function with one argument after the other blank, an error, or text that says nothing."""
    for name, entry in FUNCTIONS.items():
        for at, argument in enumerate(entry.arguments[: len(entry.example)]):
            for wrong in ("", "   ", "unknown", CellError("#DIV/0!"), CellError("#N/A")):
                if argument.kind != "any":
                    given = (*entry.example[:at], wrong, *entry.example[at + 1 :])
                    yield f"{name}: {argument.name} {wrong!r}", name, given


@pytest.mark.parametrize("ending", WRITERS)
def test_nothing_passes_on_a_blank_a_text_or_an_error(office: Calc, tmp_path: Path, ending: str) -> None:
    """Neither the cell itself nor a verdict that compares it, from above or from below."""
    calls = list(spoiled())
    verdicts = ('{}="PASS"', "{}>=0", "{}<=1000000", '{}<>"FAIL"')
    formulas = [
        Formula(f'IF({verdict.format(call_text(name, given))},"PASS","FAIL")', given)
        for _, name, given in calls
        for verdict in verdicts
    ]
    path = tmp_path / f"verdicts.{ending}"
    WRITERS[ending](path, formulas)
    (worked,) = office.work_out([path], "xlsx")
    found = shown(worked, formulas)
    assert len(found) > 500
    kinder = [
        f"{said}, {one.text}: {cells}"
        for (said, *_), one, cells in zip(
            (call for call in calls for _ in verdicts), formulas, found, strict=True
        )
        if cells[0] not in ERRORS
    ]
    assert not kinder, "\n".join(kinder[:40])


def test_the_examples_of_the_help(office: Calc, tmp_path: Path) -> None:
    """Typed as the function wizard shows them, they give what it says."""
    typed = [example_text(one).replace(";", ",") for one in FUNCTIONS.values()]
    formulas = [Formula(text.replace("{0}", "{{0}}"), ()) for text in typed]
    path = tmp_path / "examples.xlsx"
    write_xlsx(path, formulas)
    (worked,) = office.work_out([path], "xlsx")
    for entry, (cell,) in zip(FUNCTIONS.values(), shown(worked, formulas), strict=True):
        ours = answer(entry.name, entry.example)
        assert same(_shown(ours, False), cell), entry.name


def test_a_file_keeps_the_spelling(office: Calc, tmp_path: Path) -> None:
    """``RIGXL.LEGTENSION(`` in both kinds of file, so that either opens where the other was saved."""
    formulas = [Formula("RIGXL.LEGTENSION({0},{1},{2})", (10, 2, 30))]
    write_xlsx(tmp_path / "spelling.xlsx", formulas)
    (ods,) = office.work_out([tmp_path / "spelling.xlsx"], "ods")
    (again,) = office.work_out([ods], "xlsx")
    assert shown(again, formulas) == [[10]]
    sheet = load_workbook(again).active
    assert sheet is not None
    assert sheet["L1"].value == "=RIGXL.LEGTENSION(A1,B1,C1)"


def test_taken_out_again(tmp_path: Path) -> None:
    """Its formulas then name a function that is not there; nothing is left of a value."""
    formulas = [Formula("RIGXL.HOOKANGLEVERDICT({0})", (60,))]
    write_xlsx(tmp_path / "book.xlsx", formulas)
    (oxt,) = write(tmp_path)
    with calc(oxt) as office:
        (before,) = office.work_out([tmp_path / "book.xlsx"], "xlsx")
        office.remove(IDENTIFIER)
        (after,) = office.work_out([before], "xlsx")
        assert shown(before, formulas) == [["PASS"]]
        assert shown(after, formulas) == [["#NAME?"]]
        office.install(oxt)
        (back,) = office.work_out([tmp_path / "book.xlsx"], "xlsx")
        assert shown(back, formulas) == [["PASS"]]
