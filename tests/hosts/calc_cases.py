"""The cases of the contract as formulas of Calc, and what their cells have to show.

Calc itself decides three things before we are asked. A cell in error gives its error. A single blank cell
comes as 0, so a single 0 is never answered. TRUE comes as 1, and cannot be told from it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from rigxl.errors import CellError
from rigxl.functions.columns import Refused, answer
from tests.hosts.calc_office import Calc
from tests.hosts.calc_sheets import WRITERS, Formula, shown
from tests.hosts.cases import CASES, TOLERANCE, Case


def differing(office: Calc, folder: Path, ending: str) -> list[str]:
    """Every case that LibreOffice shows otherwise, from a file of that kind."""
    formulas = [formula(case) for case in CASES]
    path = folder / f"cases.{ending}"
    WRITERS[ending](path, formulas)
    (worked,) = office.work_out([path], "xlsx")
    found = zip(CASES, map(expected, CASES), shown(worked, formulas), strict=True)
    return [
        f"{case}: {case.arguments} is {ours} and shows {theirs}"
        for case, ours, theirs in found
        if len(ours) != len(theirs) or not all(map(same, ours, theirs))
    ]


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
    return [cell_shown(cell, doubted) for cell in cells]


def cell_shown(cell: Any, doubted: bool) -> Any:
    if isinstance(cell, Refused):
        return {"VALUE": "#VALUE!", "NA": "#N/A"}[cell.code]
    return "#VALUE!" if doubted else float(cell) if isinstance(cell, bool | int) else cell


def same(ours: Any, theirs: Any) -> bool:
    """Equal texts and errors, and numbers within the tolerance of the contract."""
    if isinstance(ours, float) and isinstance(theirs, int | float) and not isinstance(theirs, bool):
        return math.isclose(ours, theirs, rel_tol=TOLERANCE, abs_tol=0.0)
    return type(ours) is type(theirs) and bool(ours == theirs)
