"""A small workbook with calls of our functions in every place where a formula can stand."""

from __future__ import annotations

from pathlib import Path

from tests.workbook import crafted

CALL = "_xldudf_RIGXL_LEGTENSION"
ROWS = (
    '<row r="1"><c r="A1"><v>10</v></c><c r="B1"><v>2</v></c>'
    f'<c r="C1" s="1"><f>{CALL}(A1,B1,60)*1&amp;"é_x0041_ {CALL}("</f><v>5.77</v></c>'
    "<c r=\"D1\"><f t='shared' ref='D1:D3' si='0'>[2]!_xldudf_rigxl_utilisation(A1,$A$4)</f>"
    '<v>0.5</v></c></row><row r="2"><c r="A2"><v>20</v></c><c r="D2"><f t="shared" si="0"/><v>1</v></c></row>'
    '<row r="3"><c r="D3"><f t="shared" si="0"/></c>'
    f'<c r="E3" cm="1"><f t="array" ref="E3:E4">{CALL}(A1:A2,2,60)</f><v>5.77</v></c></row>'
    '<row r="4"><c r="A4"><v>20</v></c><c r="E4"><v>11.5</v></c>'
    f'<c r="F4" t="str"><f>"{CALL}("</f><v>x</v></c></row>'
)
AFTER = (
    f'<conditionalFormatting sqref="A1"><cfRule type="expression" priority="1"><formula>{CALL}(A1,2,60)&gt;5'
    "</formula></cfRule></conditionalFormatting>"
    '<dataValidations count="1"><dataValidation type="custom" sqref="A2">'
    f"<formula1>{CALL}(A2,2,60)&lt;9</formula1></dataValidation></dataValidations>"
)
TABLE = (
    f'<table xmlns="{crafted.MAIN}" id="1" name="T" displayName="T" ref="H1:H2"><tableColumns count="1">'
    f'<tableColumn id="1" name="tension"><calculatedColumnFormula>{CALL}(1,2,60)</calculatedColumnFormula>'
    "</tableColumn></tableColumns></table>"
)
NAMES = f'<definedNames><definedName name="tension">{CALL}(Sheet1!$A$1,2,60)</definedName></definedNames>'
PLACES = 7
"""Formulas that call us and are written out: three in cells and four elsewhere."""


def everywhere(folder: Path, name: str = "everywhere.xlsx") -> Path:
    """The workbook, written."""
    contents = crafted.parts(
        crafted.worksheet(ROWS, after=AFTER),
        crafted.worksheet('<row r="1"><c r="A1"><f>Sheet1!C1&amp;""</f><v>5</v></c></row>'),
        after_sheets=NAMES,
        sheet_relations=f'<Relationship Id="t" Type="{crafted.DOCUMENT}/table" '
        f'Target="/xl/tables/table1.xml"/>',
        more={"xl/tables/table1.xml": TABLE},
    )
    return crafted.save(folder, contents).rename(folder / name)
