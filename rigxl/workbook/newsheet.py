"""Whole sheets of ours as XML."""

from __future__ import annotations

from itertools import zip_longest

from rigxl.workbook import written
from rigxl.workbook.areas import area_name
from rigxl.workbook.marks import Link, Look, NewSheet
from rigxl.workbook.splice import Element
from rigxl.workbook.styles import Styles
from rigxl.workbook.values import Area

MAKER = "rigxl"
_PLAIN = Look()
_FOOTER = f"&L{MAKER}&C&A&R&P / &N"


def sheet_xml(sheet: NewSheet, styles: Styles, space: str) -> bytes:
    """A worksheet part. Its footer names the maker, by which it is known again."""
    columns = max([len(sheet.widths), *(len(row) for row in sheet.rows)], default=1) or 1
    parts = [
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n',
        f'<worksheet xmlns="{space}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>',
        f'<dimension ref="{area_name(Area(1, 1, max(len(sheet.rows), 1), columns))}"/>',
        f'<sheetViews><sheetView showGridLines="0" workbookViewId="0">{_frozen(sheet)}',
        "</sheetView></sheetViews>",
    ]
    if sheet.widths:
        parts.append("<cols>")
        for at, width in enumerate(sheet.widths, 1):
            parts.append(f'<col min="{at}" max="{at}" width="{width:g}" customWidth="1"/>')
        parts.append("</cols>")
    links = []
    parts.append("<sheetData>")
    for number, (cells, height) in enumerate(zip_longest(sheet.rows, sheet.heights[: len(sheet.rows)]), 1):
        high = f' ht="{height:g}" customHeight="1"' if height else ""
        parts.append(f'<row r="{number}"{high}>')
        for column, cell in enumerate(cells, 1):
            if cell.content is None and cell.look == _PLAIN:
                continue
            writer = written.Writer(column, styles.cell(cell.look))
            parts.append(writer.xml(number, cell.content))
            if isinstance(cell.content, Link):
                links.append(written.link(number, column, cell.content))
        parts.append("</row>")
    parts.append("</sheetData>")
    wide = [number for number in sorted(sheet.wide_rows) if columns > 1 and 1 <= number <= len(sheet.rows)]
    if wide:
        merged = "".join(f'<mergeCell ref="{area_name(Area(row, 1, row, columns))}"/>' for row in wide)
        parts.append(f'<mergeCells count="{len(wide)}">{merged}</mergeCells>')
    if links:
        parts.append(f"<hyperlinks>{''.join(links)}</hyperlinks>")
    orientation = "landscape" if sheet.landscape else "portrait"
    parts.append('<pageMargins left="0.5" right="0.5" top="0.6" bottom="0.6" header="0.3" footer="0.3"/>')
    parts.append(f'<pageSetup orientation="{orientation}" fitToHeight="0"/>')
    parts.append(
        f"<headerFooter><oddFooter>{_FOOTER.replace('&', '&amp;')}</oddFooter></headerFooter></worksheet>"
    )
    return "".join(parts).encode()


def _frozen(sheet: NewSheet) -> str:
    rows = sheet.freeze_rows
    if not rows:
        return ""
    return (
        f'<pane ySplit="{rows}" topLeftCell="A{rows + 1}" activePane="bottomLeft" state="frozen"/>'
        f'<selection pane="bottomLeft" activeCell="A{rows + 1}" sqref="A{rows + 1}"/>'
    )


def is_ours(tree: Element) -> bool:
    """Is a worksheet one that rigxl made?"""
    footer = tree.find("headerFooter")
    left = footer.find("oddFooter") if footer is not None else None
    return left is not None and left.text.startswith(f"&L{MAKER}&")
