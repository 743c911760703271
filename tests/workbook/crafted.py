"""Small workbooks made part by part, for tests that need a file to be just so."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from rigxl.workbook.marks import Block, Content, Look, MarkColumn, NewCell, NewSheet, SheetMarks

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
DOCUMENT = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
STYLES = (
    f'<styleSheet xmlns="{MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="dd/mm/yyyy hh:mm"/>'
    f"</numFmts>"
    '<fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill>'
    '<patternFill patternType="gray125"/>'
    '</fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="3"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    '<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    '<xf numFmtId="46" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)
TABLE_ROWS = (
    '<row r="3" spans="1:2"><c r="A3" t="inlineStr"><is><t>Item</t></is></c>'
    '<c r="B3" t="inlineStr"><is><t>Load</t></is></c></row>'
    '<row r="4" spans="1:2"><c r="A4"><v>1</v></c><c r="B4"><v>2.5</v></c></row>'
    '<row r="5" spans="1:2"><c r="A5"><v>2</v></c><c r="B5"><v>3</v></c></row>'
)


def worksheet(rows: str, after: str = "", before: str = "", space: str = MAIN) -> str:
    """A worksheet part."""
    return (
        f'<worksheet xmlns="{space}" '
        f'xmlns:r="{DOCUMENT}">{before}<sheetData>{rows}</sheetData>{after}</worksheet>'
    )


def parts(
    *sheets: str | bytes,
    names: tuple[str, ...] = (),
    properties: str = "",
    after_sheets: str = "",
    sheet_relations: str = "",
    more: dict[str, str | bytes] | None = None,
    styles: str | None = STYLES,
    shared: str | None = None,
) -> dict[str, str | bytes]:
    """The parts of a workbook with these worksheets."""
    kinds, relations, listed = [], [], []
    found: dict[str, str | bytes] = {}
    for number, sheet in enumerate(sheets, 1):
        name = names[number - 1] if names else f"Sheet{number}"
        kinds.append(
            f'<Override PartName="/xl/worksheets/sheet{number}.xml" ContentType="{KIND}.worksheet+xml"/>'
        )
        target = f"worksheets/sheet{number}.xml"
        relations.append(f'<Relationship Id="rId{number}" Type="{DOCUMENT}/worksheet" Target="{target}"/>')
        listed.append(f'<sheet name="{name}" sheetId="{number}" r:id="rId{number}"/>')
        found[f"xl/{target}"] = sheet
    for kind, text in (("styles", styles), ("sharedStrings", shared)):
        if text is not None:
            kinds.append(f'<Override PartName="/xl/{kind}.xml" ContentType="{KIND}.{kind}+xml"/>')
            relations.append(f'<Relationship Id="{kind}" Type="{DOCUMENT}/{kind}" Target="{kind}.xml"/>')
            found[f"xl/{kind}.xml"] = text
    found["xl/workbook.xml"] = (
        f'<workbook xmlns="{MAIN}" xmlns:r="{DOCUMENT}">{properties}<sheets>{"".join(listed)}</sheets>'
        f"{after_sheets}</workbook>"
    )
    found["xl/_rels/workbook.xml.rels"] = (
        f'<Relationships xmlns="{PACKAGE}/relationships">{"".join(relations)}</Relationships>'
    )
    found["_rels/.rels"] = (
        f'<Relationships xmlns="{PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{DOCUMENT}/officeDocument" '
        'Target="xl/workbook.xml"/></Relationships>'
    )
    if sheet_relations:
        found["xl/worksheets/_rels/sheet1.xml.rels"] = (
            f'<Relationships xmlns="{PACKAGE}/relationships">{sheet_relations}</Relationships>'
        )
    found["[Content_Types].xml"] = (
        f'<Types xmlns="{PACKAGE}/content-types"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>{"".join(kinds)}</Types>'
    )
    return found | (more or {})


def zipped(contents: dict[str, str | bytes]) -> bytes:
    """The parts as a zip file."""
    sink = io.BytesIO()
    with zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in contents.items():
            file.writestr(name, content)
    return sink.getvalue()


def save(folder: Path, contents: dict[str, str | bytes], name: str = "lift.xlsx") -> Path:
    """The parts as a file."""
    path = folder / name
    path.write_bytes(zipped(contents))
    return path


def content(path: Path, part: str) -> str:
    """The text of one part of a file."""
    with zipfile.ZipFile(path) as file:
        return file.read(part).decode()


RED, GREEN = Look(fill="FFC7CE"), Look(fill="C6EFCE")
COLUMNS = (
    MarkColumn("rigxl verdict", 12.0, Look(bold=True)),
    MarkColumn("rigxl reason", 40.0, Look(wrap=True)),
)


def marks(
    rows: dict[int, tuple[Content, ...]] | None = None,
    sheet: str = "Sheet1",
    header_row: int = 3,
    last_column: int = 2,
    at: int | None = None,
) -> SheetMarks:
    """Marks for the table of TABLE_ROWS."""
    given = rows if rows is not None else {4: ("PASS", "in range"), 5: ("FAIL", "over the limit")}
    return SheetMarks(
        sheet, COLUMNS, (Block(header_row, 1, last_column, given),), 0, {"FAIL": RED, "PASS": GREEN}, at
    )


SUMMARY = NewSheet(
    "Check", (20.0, 30.0), ((NewCell("Checked", Look(bold=True)),), (NewCell("rows"), NewCell(2.0)))
)
