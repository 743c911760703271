"""``rigxl check``: every workbook asked for, checked, marked and reported."""

from __future__ import annotations

import gc
import sys
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from rigxl import terminal
from rigxl.criteria import Criteria
from rigxl.errors import InputError, RigxlError
from rigxl.machines.baseline import read as read_baseline
from rigxl.machines.baseline import refuse_to_replace
from rigxl.machines.baseline import write as write_baseline
from rigxl.machines.outcome import Refusal, Run
from rigxl.schedule import report
from rigxl.schedule.check import Checked, check_book
from rigxl.schedule.map import Mapping, read_mapping
from rigxl.terminal import results
from rigxl.workbook.book import read_book
from rigxl.workbook.contents import Book
from rigxl.workbook.guard import Limits, replaced
from rigxl.workbook.values import column_number

READABLE = frozenset({".xlsx", ".xlsm", ".xltx", ".xltm", ".csv", ".xls", ".xlsb", ".ods"})
MARKABLE = frozenset({".xlsx", ".xlsm", ".xltx", ".xltm"})


@dataclass(frozen=True)
class Options:
    """What the command line asked for."""

    criteria: str | None = None
    overrides: dict[str, str] = field(default_factory=dict)
    map_file: Path | None = None
    ratings: Path | None = None
    goods_in: Path | None = None
    sheets: tuple[str, ...] = ()
    mark: bool = True
    out: Path | None = None
    in_place: bool = False
    marks_at: str | None = None
    untrusted: bool = False
    limits: dict[str, str] = field(default_factory=dict)
    baseline: Path | None = None
    write_baseline: Path | None = None


def limits_from(given: dict[str, str]) -> Limits:
    """The limits with some replaced, as typed.

    Raises:
        InputError: A limit that does not exist, or a value that is no number above 0.
    """
    return replaced(Limits(), given)


def found_in(paths: tuple[Path, ...]) -> Iterator[Path]:
    """The workbooks meant: files as named; of a folder all it holds but lock files and our own results."""
    for path in paths:
        if not path.is_dir():
            yield path
            continue
        for inside in sorted(path.rglob("*")):
            ours = ".marked" in inside.name or ".backup" in inside.name or inside.name.startswith("~$")
            if inside.suffix.lower() in READABLE and not ours:
                yield inside


def target_for(path: Path, options: Options) -> Path:
    """Where the marked workbook goes."""
    if options.in_place:
        return path
    suffix = path.suffix if path.suffix.lower() in MARKABLE else ".xlsx"
    name = f"{path.stem}.marked{suffix}"
    if options.out is None:
        return path.with_name(name)
    return options.out / name if options.out.is_dir() else options.out


def run(paths: tuple[Path, ...], options: Options, form: str) -> int:
    """Check, mark and report; the exit code.

    Raises:
        InputError: Options that are not understood.
    """
    criteria = Criteria.ready(options.criteria) if options.criteria else None
    (criteria or Criteria.ready()).override(options.overrides, "the command line")  # refused before any file
    mapping = read_mapping(options.map_file) if options.map_file else None
    limits = limits_from(options.limits)
    ratings = read_book(options.ratings, limits) if options.ratings else None
    goods = read_book(options.goods_in, limits) if options.goods_in else None
    at = _column(options.marks_at)
    workbooks = list(dict.fromkeys(found_in(paths)))
    if not workbooks:
        raise InputError(
            f"there is no workbook in {', '.join(map(str, paths))}: {', '.join(sorted(READABLE))} are read"
        )
    if options.out is not None and len(workbooks) > 1 and not options.out.is_dir():
        raise InputError(f"--out {options.out}: with several workbooks it must be a folder that is there")
    if options.mark:
        _refuse_one_copy_of_two(workbooks, options)
    if options.write_baseline:
        refuse_to_replace(options.write_baseline)
    if options.out is not None and not options.out.is_dir():
        _refuse_to_replace_unmarked(options.out)
    baseline = read_baseline(options.baseline) if options.baseline else None
    gc.disable()  # a check makes many small things and no cycles: the collector would walk them in vain
    outcome = Run(baseline=baseline)
    for path in terminal.progress(workbooks):
        try:
            checked = _check(path, options, criteria, mapping, ratings, goods, limits, spend=True)
            marked = _mark(checked, options, at, limits)
        except RigxlError as error:
            outcome.refused.append(Refusal.of(path, error))
            sys.stderr.write(f"rigxl: {path}{_of_the_file(path, str(error))}\n")
            continue
        done = outcome.add(checked, marked)
        if form == "table":
            results.checked(checked, marked)
            results.against(done.against)
    outcome.refuse_without_rows(paths)
    _print(outcome, form)
    return _write_baseline(options.write_baseline, outcome) if options.write_baseline else outcome.exit_code


def _refuse_one_copy_of_two(workbooks: list[Path], options: Options) -> None:
    """Refuse two workbooks whose marked copies would have one name: the later would stand for both.

    Raises:
        InputError: There are two such workbooks.
    """
    first: dict[Path, Path] = {}
    for path in workbooks:
        target = target_for(path, options)
        other = first.setdefault(target, path)
        if other is not path:
            raise InputError(
                f"{other} and {path} would both be marked as {target}: check them apart, or with --no-marks"
            )


def _refuse_to_replace_unmarked(target: Path) -> None:
    """Leave alone a file that is no marked copy, for it is somebody's.

    Raises:
        InputError: There is such a file.
    """
    from rigxl.schedule.summary import SUMMARY

    try:
        with zipfile.ZipFile(target) as file:
            is_marked = SUMMARY.encode() in file.read("xl/workbook.xml")
    except FileNotFoundError:
        return
    except (OSError, KeyError, zipfile.BadZipFile):
        is_marked = False
    if not is_marked:
        raise InputError(f"--out {target} is there and is no marked copy: name another file")


def _of_the_file(path: Path, sentence: str) -> str:
    """What is said of a file after its path, without its name once more."""
    return sentence.removeprefix(path.name) if sentence.startswith(f"{path.name} ") else f": {sentence}"


def _print(outcome: Run, form: str) -> None:
    """What machines read; people were told workbook by workbook."""
    if form == "json":
        from rigxl.machines.document import document

        terminal.json_text(document(outcome))
    elif form == "csv":
        rows = (row for done in outcome.done for row in report.flat(done.checked))
        terminal.csv_text(report.COLUMNS, rows)
    elif form == "sarif":
        from rigxl.machines.sarif import log

        terminal.json_text(log(outcome))
    elif form == "junit":
        from rigxl.machines.junit import xml

        sys.stdout.write(xml(outcome))


def _write_baseline(path: Path, outcome: Run) -> int:
    """Write what is known now, unless something could not be checked; the exit code."""
    if outcome.exit_code == 2:
        sys.stderr.write(f"rigxl: no baseline was written to {path}, for not all could be checked\n")
        return 2
    count, nameless = write_baseline(path, (done.checked for done in outcome.done))
    sys.stderr.write(f"baseline: {path}, {count} finding{'' if count == 1 else 's'}\n")
    if nameless:
        sys.stderr.write(
            f"rigxl: {nameless} findings are of rows without a tag or serial number, which cannot be told "
            "from others: they are new every time\n"
        )
    return 0


def check_file(path: Path, options: Options) -> Checked:
    """Check one workbook and keep what its cells say.

    Raises:
        InputError: Options that are not understood.
        WorkbookError: The file cannot be read.
    """
    limits = limits_from(options.limits)
    return _check(
        path,
        options,
        Criteria.ready(options.criteria) if options.criteria else None,
        read_mapping(options.map_file) if options.map_file else None,
        read_book(options.ratings, limits) if options.ratings else None,
        read_book(options.goods_in, limits) if options.goods_in else None,
        limits,
        spend=False,
    )


def _column(letters: str | None) -> int | None:
    if letters is None:
        return None
    if (
        not (letters.isascii() and letters.isalpha() and 1 <= len(letters) <= 3)
        or column_number(letters) > 16384
    ):
        raise InputError(f"--marks-at {letters}: a column such as Z or AB is needed")
    return column_number(letters)


def _check(
    path: Path,
    options: Options,
    criteria: Criteria | None,
    mapping: Mapping | None,
    ratings: Book | None,
    goods: Book | None,
    limits: Limits,
    *,
    spend: bool,
) -> Checked:
    if options.untrusted:
        from rigxl.workbook.sandbox import read_apart

        book = read_apart(path, limits)
    else:
        book = read_book(path, limits)
    return check_book(
        book,
        criteria=criteria,
        overrides=options.overrides,
        mapping=mapping,
        sheets=options.sheets,
        ratings=ratings,
        goods=goods,
        spend=spend,
    )


def _mark(checked: Checked, options: Options, at: int | None, limits: Limits) -> str | None:
    if not options.mark or not checked.rows:
        return None
    from rigxl.schedule.mark import mark_checked

    path = checked.book.path
    target = target_for(path, options)
    outcome = mark_checked(checked, target, in_place=options.in_place, at=at, limits=limits)
    checked.said.extend(outcome.warnings)
    return str(target)
