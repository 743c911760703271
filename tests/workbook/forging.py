"""How hostile workbooks are forged: a small sound workbook, changed in one place."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from tests.workbook.rawzip import Entry, repeated, write

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
DOCUMENT = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
OFFICE_DOCUMENT = f'<Relationship Id="rId1" Type="{DOCUMENT}/officeDocument" Target="xl/workbook.xml"/>'
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"

Parts = dict[str, str | bytes]


class Case(NamedTuple):
    """One hostile file. ``refused`` says what must come of it; None leaves both open, a crash never."""

    name: str
    make: Callable[[], bytes]
    refused: bool | None
    suffix: str = ".xlsx"


CASES: list[Case] = []


def case(refused: bool | None, suffix: str = ".xlsx") -> Callable[[Callable[[], bytes]], Callable[[], bytes]]:
    """Enter a maker of bytes into the list."""

    def enter(make: Callable[[], bytes]) -> Callable[[], bytes]:
        CASES.append(Case(make.__name__, make, refused, suffix))
        return make

    return enter


def sheet(rows: str, after: str = "", before: str = "") -> str:
    """A sheet part with these rows."""
    return f'{HEAD}<worksheet xmlns="{MAIN}">{before}<sheetData>{rows}</sheetData>{after}</worksheet>'


def plain_parts() -> Parts:
    """The parts of a small sound workbook: a sheet with two columns and three rows."""
    rows = "".join(
        f'<row r="{row}"><c r="A{row}" t="s"><v>{row - 1}</v></c><c r="B{row}"><v>{row}.5</v></c></row>'
        for row in (1, 2, 3)
    )
    texts = "".join(f"<si><t>{text}</t></si>" for text in ("Item", "first", "second"))
    return {
        "[Content_Types].xml": f'{HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{KIND}.worksheet+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{KIND}.styles+xml"/>'
        f'<Override PartName="/xl/sharedStrings.xml" ContentType="{KIND}.sharedStrings+xml"/></Types>',
        "_rels/.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}">{OFFICE_DOCUMENT}</Relationships>',
        "xl/workbook.xml": f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{DOCUMENT}">'
        '<sheets><sheet name="Lift" sheetId="1" r:id="rId1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}">'
        f'<Relationship Id="rId1" Type="{DOCUMENT}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="rId2" Type="{DOCUMENT}/styles" Target="styles.xml"/>'
        f'<Relationship Id="rId3" Type="{DOCUMENT}/sharedStrings" Target="sharedStrings.xml"/>'
        "</Relationships>",
        "xl/worksheets/sheet1.xml": sheet(rows),
        "xl/styles.xml": f'{HEAD}<styleSheet xmlns="{MAIN}"><fonts count="1"><font/></fonts>'
        '<fills count="2"><fill/><fill><patternFill patternType="gray125"/></fill></fills>'
        '<borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>'
        '<cellXfs count="1"><xf xfId="0"/></cellXfs></styleSheet>',
        "xl/sharedStrings.xml": f'{HEAD}<sst xmlns="{MAIN}" count="3" uniqueCount="3">{texts}</sst>',
    }


def zipped(parts: Parts, *more: Entry) -> bytes:
    """A workbook of these parts, then any odd entries."""
    entries = [Entry(name, data.encode() if isinstance(data, str) else data) for name, data in parts.items()]
    return write([*entries, *more])


def with_sheet(rows: str, after: str = "", before: str = "") -> bytes:
    """The small sound workbook with other rows."""
    return zipped({**plain_parts(), "xl/worksheets/sheet1.xml": sheet(rows, after, before)})


def with_part(name: str, data: str | bytes) -> bytes:
    """The small sound workbook with one part changed or added."""
    return zipped({**plain_parts(), name: data})


def without(name: str) -> bytes:
    """The small sound workbook less one part."""
    return zipped({part: data for part, data in plain_parts().items() if part != name})


def with_long_part(name: str, before: str, block: str, times: int, after: str) -> bytes:
    """The small sound workbook with a part that unpacks to very much."""
    packed, checksum, size = repeated(before.encode(), block.encode(), times, after.encode())
    parts = {part: data for part, data in plain_parts().items() if part != name}
    return zipped(parts, Entry(name, packed=packed, checksum=checksum, size=size))


def with_many_rows(block: str, times: int) -> bytes:
    """The small sound workbook with the same rows over and over."""
    before, after = sheet("|").split("|")
    return with_long_part("xl/worksheets/sheet1.xml", before, block, times, after)


def changed_entry(name: str, **odd: object) -> bytes:
    """The small sound workbook with one zip entry that is not what it says."""
    entries = [
        Entry(part, data.encode(), **(odd if part == name else {}))  # type: ignore[arg-type, union-attr]
        for part, data in plain_parts().items()
    ]
    return write(entries)
