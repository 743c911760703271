"""The contract, in the real LibreOffice with the real add-in: every case, from .xlsx and from .ods."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from rigxl.errors import CellError
from rigxl.functions import FUNCTIONS
from rigxl.functions.columns import answer
from rigxl.hosts.calc import IDENTIFIER, write
from rigxl.hosts.calc.registered import example_text
from tests.hosts.calc_cases import call_text, cell_shown, differing, same
from tests.hosts.calc_office import Calc, calc
from tests.hosts.calc_sheets import WRITERS, Formula, shown, write_xlsx
from tests.hosts.cases import CASES

ERRORS = ("#VALUE!", "#N/A", "#NUM!", "#DIV/0!", "#NAME?", "#REF!", "Err:502", "Err:504")


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:
    """LibreOffice with the add-in."""
    (oxt,) = write(tmp_path_factory.mktemp("oxt"))
    with calc(oxt) as found:
        yield found


@pytest.mark.parametrize("ending", WRITERS)
def test_every_case(office: Calc, tmp_path: Path, ending: str) -> None:
    """Values to 1e-12, error by error."""
    differ = differing(office, tmp_path, ending)
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
        assert same(cell_shown(ours, False), cell), entry.name


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


def test_installed_for_everybody(tmp_path: Path) -> None:
    """By an administrator without a word of complaint; another user finds it and is asked nothing."""
    formulas = [Formula("RIGXL.HOOKANGLEVERDICT({0})", (60,))]
    write_xlsx(tmp_path / "book.xlsx", formulas)
    (oxt,) = write(tmp_path)
    with calc(None) as office:
        office.install_for_all(oxt)
        (worked,) = office.work_out([tmp_path / "book.xlsx"], "xlsx")
        assert shown(worked, formulas) == [["PASS"]]


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
