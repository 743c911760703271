"""The report as one page of HTML: nothing is fetched, no script is needed, every text is escaped."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import rigxl
from rigxl.checks.judge import CAPACITY, MARGIN
from rigxl.errors import InputError
from rigxl.items import PASS, WAIVED
from rigxl.report.explain import value_of
from rigxl.report.lifts import data_uri, lifts, placed
from rigxl.schedule.check import Checked, CheckedRow
from rigxl.schedule.report import CAUTIONS, covered, left_out
from rigxl.workbook.pictures import Picture

if TYPE_CHECKING:
    from jinja2 import Environment

PAPERS = {"a4": "A4", "letter": "letter"}
LONGEST_NAME = 60
HERE = Path(__file__).parent


def page(
    checked: Checked,
    pictures: Sequence[Picture] = (),
    *,
    paper: str = "a4",
    brief: bool = False,
    today: dt.date | None = None,
) -> str:
    """The report on a checked workbook, as HTML.

    Args:
        checked: The workbook, not spent.
        pictures: Those that stand over its cells.
        paper: What it is printed on: a4 or letter.
        brief: Leave out the workings of the rows.
        today: The day of the report; the clock's unless stated.

    Raises:
        InputError: There is no row to report on, or Jinja2 is not installed.
    """
    if not checked.rows:
        raise InputError(
            f"no row of a rigging schedule was found in {checked.book.path.name}: nothing to report"
        )
    of_lift = placed_by_lift(checked, pictures)
    placed_ones = {id(picture) for found in of_lift.values() for picture in found}
    day = today or dt.date.today()
    parts = lifts(checked, of_lift)
    counts = {word: count for word, count in checked.counts.items() if count or word != WAIVED}
    return (
        _environment()
        .get_template("page.html")
        .render(
            checked=checked,
            counts=counts,
            lifts=parts,
            to_settle=[part for one in parts for part in one.rows if part.row.verdict != PASS],
            others=[(data_uri(one), placed(one)) for one in pictures if id(one) not in placed_ones],
            left_out=list(left_out(checked)),
            cautions=CAUTIONS,
            capacity=CAPACITY.source.cited,
            margin=MARGIN.source.cited,
            brief=brief,
            today=day.isoformat(),
            version=rigxl.__version__,
            paper=PAPERS[paper],
            footer=css_text(footer(checked, day)),
            style=(HERE / "page.css").read_text(encoding="utf-8"),
        )
    )


def _environment() -> Environment:
    try:
        from jinja2 import Environment, FileSystemLoader, StrictUndefined
    except ImportError:
        raise InputError(
            "a report needs Jinja2, which is not installed: pip install 'rigxl[report]' would do"
        ) from None
    environment = Environment(
        loader=FileSystemLoader(HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["value_of"] = value_of
    environment.filters["covered"] = covered
    return environment


def target_for(file: Path, out: Path | None) -> Path:
    """Where the page goes: beside the workbook as ``NAME.report.html``, unless ``out`` says where.

    Raises:
        InputError: ``out`` is no folder and does not end in .html.

    >>> target_for(Path("jobs/lift.xlsx"), None).as_posix()
    'jobs/lift.report.html'
    """
    if out is None or out.is_dir():
        return (out or file.parent) / f"{file.stem}.report.html"
    if out.suffix.lower() not in (".html", ".htm"):
        raise InputError(f"--out {out}: name a file that ends in .html, or a folder that is there")
    return out


def footer(checked: Checked, day: dt.date) -> str:
    """What stands under each page: the file, the day, and the file's SHA-256."""
    name = checked.book.path.name
    name = name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…"
    return f"{name}   {day.isoformat()}   SHA-256 {checked.book.sha256}"


def css_text(text: str) -> str:
    r"""Text as a string of CSS, with all but letters, digits and spaces written by number.

    >>> css_text('a"}</style>')
    '"a\\22 \\7d \\3c \\2f style\\3e "'
    """
    plain = (one if (one.isascii() and one.isalnum()) or one == " " else f"\\{ord(one):x} " for one in text)
    return f'"{"".join(plain)}"'


def placed_by_lift(checked: Checked, pictures: Iterable[Picture]) -> Mapping[str, list[Picture]]:
    """The pictures that stand beside the rows of one lift and no other, by the lift's name.

    A picture that reaches over rows of several lifts belongs to the one in whose row it begins; one that
    stands beside no row of a lift belongs to the sheet's only lift, if it has but one.
    """
    rows = {name: _rows_of(members) for name, members in checked.lifts.items()}
    found: dict[str, list[Picture]] = {}
    for picture in pictures:
        over = {(picture.sheet, row) for row in range(picture.first_row, picture.last_row + 1)}
        beside = [name for name, own in rows.items() if over & own]
        if len(beside) > 1:
            beside = [name for name in beside if (picture.sheet, picture.first_row) in rows[name]]
        elif not beside:
            beside = [name for name, own in rows.items() if any(sheet == picture.sheet for sheet, _ in own)]
        if len(beside) == 1:
            found.setdefault(beside[0], []).append(picture)
    return found


def _rows_of(members: Iterable[CheckedRow]) -> set[tuple[str, int]]:
    """The rows of a lift by sheet and number, that of a table of lifts included."""
    found = set()
    for row in members:
        found.add((row.sheet, row.row))
        sheet, _, cell = row.cell_of("load").rpartition("!")
        found.add((sheet, int(cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))))
    return found
