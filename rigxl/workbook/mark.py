"""Marking a workbook: the steps from the source to a proven file in its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO

from rigxl.errors import WorkbookError
from rigxl.workbook import cells, container, policy, save, sheet, verify
from rigxl.workbook.frame import frame_of
from rigxl.workbook.gathering import Gathering
from rigxl.workbook.guard import Budget, Limits
from rigxl.workbook.marks import Content, Link, NewSheet, SheetMarks
from rigxl.workbook.package import SheetPart, Workbook, truth
from rigxl.workbook.parts import Parts
from rigxl.workbook.rewrite import check_unsigned
from rigxl.workbook.rows import RowIndex
from rigxl.workbook.shared import Sharing
from rigxl.workbook.touched import Formulas, touches
from rigxl.workbook.values import Value, column_letters


@dataclass
class Marking:
    """One workbook being marked."""

    workbook: Workbook
    parts: Parts
    placed: dict[str, str] = field(default_factory=dict)
    warnings: list[str] = field(default_factory=list)
    ours: dict[str, frozenset[int]] = field(default_factory=dict)
    """For each marked sheet's entry, the columns in which the proof allows a change."""


def mark(workbook: Workbook, all_marks: Sequence[SheetMarks], new_sheets: Sequence[NewSheet]) -> Marking:
    """Work out everything that marking changes, without writing anything.

    Raises WorkbookError for a workbook that must not be altered, NoPlaceError for one that cannot take the
    marks without loss.
    """
    check_unsigned(workbook)
    marking = Marking(workbook, Parts(workbook))
    names = _new_sheet_names(marking, new_sheets)
    if len({marks.sheet for marks in all_marks}) < len(all_marks):
        raise ValueError("the marks of one sheet must come together, since its blocks share their columns")
    known = [found.name for found in workbook.sheets]
    wanted = [marks for marks in all_marks if marks.blocks and marks.columns]
    formulas = Formulas(workbook) if wanted else None
    for marks in wanted:
        assert formulas is not None
        _mark_sheet(marking, _relinked_marks(marks, names, known), formulas)
    for new_sheet in new_sheets:
        if new_sheet.name in names:
            marking.parts.put_sheet(_relinked_sheet(new_sheet, names, known), names[new_sheet.name])
    marking.parts.finish()
    return marking


def _new_sheet_names(marking: Marking, new_sheets: Sequence[NewSheet]) -> dict[str, str]:
    """The name that each new sheet gets, for those that can be put into the workbook."""
    parts, names = marking.parts, {}
    protection = marking.workbook.tree.find("workbookProtection")
    locked = protection is not None and truth(protection.attributes.get("lockStructure"))
    taken = list(parts.sheet_names)
    for new_sheet in new_sheets:
        wanted = policy.sheet_name(new_sheet.name, ())
        if parts.our_sheet(wanted):
            names[new_sheet.name] = wanted
            continue
        if locked:
            marking.warnings.append(
                f"the structure of the workbook is locked, so the sheet {new_sheet.name} was not added"
            )
            continue
        name = policy.sheet_name(wanted, taken)
        if name != wanted:
            name = next((other for other in _numbered(wanted, taken) if parts.our_sheet(other)), name)
            marking.warnings.append(
                f"the workbook has a sheet {wanted} of its own, so the new one is called {name}"
            )
        taken.append(name)
        names[new_sheet.name] = name
    return names


def _numbered(wanted: str, taken: Sequence[str]) -> list[str]:
    """The sheets that an earlier run had to call otherwise."""
    return [name for name in taken if name.startswith(wanted[:20]) and name.endswith(")")]


def _relinked(content: Content, names: dict[str, str], known: Sequence[str]) -> Content:
    """A jump to a sheet under the name it got; plain text where there is no such sheet."""
    if not isinstance(content, Link):
        return content
    name = names.get(content.sheet, content.sheet)
    return content._replace(sheet=name) if name in known or name in names.values() else content.text


def _relinked_sheet(new_sheet: NewSheet, names: dict[str, str], known: Sequence[str]) -> NewSheet:
    rows = tuple(
        tuple(cell._replace(content=_relinked(cell.content, names, known)) for cell in row)
        for row in new_sheet.rows
    )
    return new_sheet._replace(rows=rows)


def _relinked_marks(marks: SheetMarks, names: dict[str, str], known: Sequence[str]) -> SheetMarks:
    contents = (content for block in marks.blocks for row in block.rows.values() for content in row)
    if not any(isinstance(content, Link) for content in contents):
        return marks
    blocks = tuple(
        block._replace(
            rows={
                row: tuple(_relinked(content, names, known) for content in contents)
                for row, contents in block.rows.items()
            }
        )
        for block in marks.blocks
    )
    return marks._replace(blocks=blocks)


def _mark_sheet(marking: Marking, marks: SheetMarks, formulas: Formulas) -> None:
    """Work out the marks of one sheet."""
    workbook = marking.workbook
    found = _sheet(workbook, marks.sheet)
    encoded = workbook.package.text(found.part)
    frame = frame_of(encoded.text, found.part)
    rows = RowIndex(frame, found.part)
    headings = _headings(workbook, rows, marks, found.name)
    earlier = policy.earlier_marks(marks, headings, rows.last_row)
    place = policy.choose(marks, rows, touches(workbook, found, frame, formulas), earlier)
    marked = sheet.Marked(frame, rows, marks, place.first, earlier, marking.parts.styles)
    marking.parts.change(found.part, encoded, sheet.mark_sheet(marked))
    marking.warnings += [*place.warnings, *marked.warnings]
    marking.ours[workbook.package.entry_name(found.part)] = frozenset(marked.columns) | frozenset(
        earlier.stretches
    )
    first, last = marked.columns[0], marked.columns[-1]
    marking.placed[found.name] = column_letters(first) + (f":{column_letters(last)}" if last > first else "")


def _sheet(workbook: Workbook, name: str) -> SheetPart:
    for found in workbook.sheets:
        if found.name == name and found.kind == "worksheet":
            return found
    raise WorkbookError("no-such-sheet", f"the workbook has no worksheet {name!r}")


def _headings(
    workbook: Workbook, rows: RowIndex, marks: SheetMarks, name: str
) -> dict[int, dict[int, Value]]:
    """The cells of the heading rows, typed."""
    found: dict[int, dict[int, Value]] = {}
    typing = None
    for block in marks.blocks:
        row = rows.get(block.header_row)
        if row is None or row.opened == row.end:
            continue
        if typing is None:
            typing = cells.typing_of(workbook)
        alone = rows.alone(row)
        for read in Gathering(name, typing, Budget(Limits()), Sharing()).run(alone):
            found[block.header_row] = read.cells
    return found


def write(workbook: Workbook, marking: Marking, target: Path) -> tuple[str, ...]:
    """Write a marked workbook, prove it and put it in its place; say which entries changed."""
    parts = marking.parts
    changed = dict(parts.changed)

    def write_file(file: BinaryIO) -> None:
        container.write_container(file, workbook.package.data, workbook.package.entries, changed, parts.added)

    def prove(written: Path) -> None:
        verify.prove(written, workbook, marking.ours, set(changed) - set(marking.ours), list(parts.added))

    save.save(target, write_file, prove)
    return (*changed, *parts.added)
