"""The report workbook for a source that cannot be marked: the same marks, by sheet and row."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from pathlib import Path

from rigxl.workbook import container, mark
from rigxl.workbook.frame import MAIN_SPACES
from rigxl.workbook.guard import Limits
from rigxl.workbook.marks import Look, NewCell, NewSheet, Outcome, SheetMarks
from rigxl.workbook.package import Package, Workbook
from rigxl.workbook.policy import HEADING

_HEADING = Look(bold=True, wrap=True, border=True)
_RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_START = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_BLANK = {
    "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="xml" ContentType="application/xml"/>'
    f'<Override PartName="/xl/workbook.xml" ContentType="{_KIND}.sheet.main+xml"/>'
    f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{_KIND}.worksheet+xml"/></Types>',
    "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">'
    f'<Relationship Id="rId1" Type="{_RELATIONS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    "xl/workbook.xml": f'<workbook xmlns="{MAIN_SPACES[0]}" xmlns:r="{_RELATIONS}">'
    '<sheets><sheet name="Why" sheetId="1" r:id="rId1"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">'
    f'<Relationship Id="rId1" Type="{_RELATIONS}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
    "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{MAIN_SPACES[0]}"><sheetData/><headerFooter><oddFooter>'
    "&amp;Lrigxl&amp;C</oddFooter></headerFooter></worksheet>",
}


def blank_workbook() -> Workbook:
    """A workbook with one empty sheet called Why."""
    sink = io.BytesIO()
    parts = {name: container.pack([(_START + xml).encode()]) for name, xml in _BLANK.items()}
    container.write_container(sink, b"", [], {}, parts)
    return Workbook(Package(sink.getvalue(), Limits()))


def write_report(
    target: Path, source: str, reason: str, all_marks: Sequence[SheetMarks], new_sheets: Sequence[NewSheet]
) -> Outcome:
    """Write the report workbook.

    Args:
        target: The file to write.
        source: The name of the workbook that was checked.
        reason: Why it was not marked itself.
        all_marks: The marks it would have got.
        new_sheets: The sheets it would have got.
    """
    why = NewSheet(
        "Why",
        (100.0,),
        (
            (NewCell(f"Marks for {source}", Look(bold=True, size=14.0)),),
            (NewCell(f"They stand in this workbook of their own because {reason}.", Look(wrap=True)),),
            (NewCell("Row numbers are those of the workbook that was checked.", Look(wrap=True)),),
        ),
    )
    workbook = blank_workbook()
    marking = mark.mark(workbook, (), (why, *_mark_sheets(all_marks), *new_sheets))
    changed = mark.write(workbook, marking, target)
    warnings = (f"{source} was not marked itself: {reason}", *marking.warnings)
    return Outcome({}, warnings, changed, separate=True)


def _mark_sheets(all_marks: Sequence[SheetMarks]) -> Iterator[NewSheet]:
    """One sheet for the marks of each sheet."""
    for marks in all_marks:
        rows = [tuple(NewCell(heading, _HEADING) for heading in ("Row", *_headings(marks)))]
        for block in marks.blocks:
            for number, contents in sorted(block.rows.items()):
                cells = [NewCell(float(number))]
                for at, content in enumerate(contents):
                    look = marks.columns[at].look
                    if at == marks.word_column and isinstance(content, str):
                        look = _coloured(look, marks.rows_look.get(content))
                    cells.append(NewCell(content, look))
                rows.append(tuple(cells))
        yield NewSheet(
            marks.sheet, (8.0, *(column.width for column in marks.columns)), tuple(rows), freeze_rows=1
        )


def _headings(marks: SheetMarks) -> Iterator[str]:
    for column in marks.columns:
        yield column.heading.removeprefix(HEADING)


def _coloured(look: Look, row_look: Look | None) -> Look:
    """The look of a word's cell with the colours its whole row would have had."""
    if row_look is None:
        return look
    return look._replace(fill=row_look.fill, ink=row_look.ink, bold=look.bold or row_look.bold)
