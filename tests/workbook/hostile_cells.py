"""Hostile workbooks whose sheets say what cannot be, or far too much of it."""

from __future__ import annotations

from tests.workbook.forging import (
    DOCUMENT,
    HEAD,
    MAIN,
    case,
    plain_parts,
    sheet,
    with_long_part,
    with_many_rows,
    with_part,
    with_sheet,
    zipped,
)
from tests.workbook.rawzip import Entry


@case(refused=False)
def sound() -> bytes:
    return zipped(plain_parts())


# Cells and rows where none can be, or far too many


@case(refused=None)
def one_cell_at_the_far_corner() -> bytes:
    return with_sheet('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')


@case(refused=True)
def row_number_of_two_to_the_64() -> bytes:
    return with_sheet(f'<row r="{2**64}"><c r="A{2**64}"><v>1</v></c></row>')


@case(refused=True)
def row_number_past_the_last() -> bytes:
    return with_sheet('<row r="1048577"><c r="A1048577"><v>1</v></c></row>')


@case(refused=True)
def column_past_the_last() -> bytes:
    return with_sheet('<row r="1"><c r="XFE1"><v>1</v></c></row>')


@case(refused=True)
def column_of_many_letters() -> bytes:
    return with_sheet(f'<row r="1"><c r="{"Z" * 5000}1"><v>1</v></c></row>')


@case(refused=True)
def row_number_that_is_no_number() -> bytes:
    return with_sheet('<row r="-1"><c r="A1"><v>1</v></c></row>')


@case(refused=True)
def cell_named_in_another_script() -> bytes:
    return with_sheet('<row r="1"><c r="A٣"><v>1</v></c></row>')


@case(refused=None)
def row_zero() -> bytes:
    return with_sheet('<row r="0"><c r="A0"><v>1</v></c></row>')


@case(refused=None)
def rows_that_go_backwards() -> bytes:
    return with_sheet('<row r="5"><c r="A5"><v>1</v></c></row><row r="2"><c r="A2"><v>2</v></c></row>')


@case(refused=False)
def rows_closed_with_a_space() -> bytes:
    rows = "".join(f'<row r="{n}"><c r="A{n}"><v>{n}</v></c></row{" " * (n % 2)}>' for n in range(1, 6))
    return with_sheet(rows)


@case(refused=False)
def sheet_numbers_that_are_none() -> bytes:
    workbook = str(plain_parts()["xl/workbook.xml"])
    return with_part("xl/workbook.xml", workbook.replace('sheetId="1"', 'sheetId="first"'))


@case(refused=None)
def the_same_row_twice() -> bytes:
    return with_sheet('<row r="2"><c r="A2"><v>1</v></c></row><row r="2"><c r="A2"><v>2</v></c></row>')


@case(refused=None)
def the_same_cell_twice() -> bytes:
    return with_sheet('<row r="2"><c r="A2"><v>1</v></c><c r="A2"><v>2</v></c></row>')


@case(refused=None)
def a_cell_of_another_row() -> bytes:
    return with_sheet('<row r="2"><c r="A9"><v>1</v></c></row>')


@case(refused=None)
def used_range_of_the_whole_sheet() -> bytes:
    return with_sheet('<row r="1"><c r="A1"><v>1</v></c></row>', before='<dimension ref="A1:XFD1048576"/>')


@case(refused=None)
def merge_of_the_whole_sheet() -> bytes:
    return with_sheet(
        '<row r="1"><c r="A1"><v>1</v></c></row>',
        '<mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>',
    )


@case(refused=None)
def merge_written_wrongly() -> bytes:
    return with_sheet("", '<mergeCells count="1"><mergeCell ref="A1:??"/></mergeCells>')


@case(refused=None)
def many_merges() -> bytes:
    merges = "".join(f'<mergeCell ref="A{row}:B{row}"/>' for row in range(1, 100_001))
    return with_sheet("", f'<mergeCells count="100000">{merges}</mergeCells>')


@case(refused=None)
def columns_element_over_everything() -> bytes:
    return with_sheet("", before='<cols><col min="1" max="16384" width="9" hidden="1"/></cols>')


@case(refused=None)
def columns_element_past_the_last() -> bytes:
    return with_sheet("", before='<cols><col min="1" max="4294967295" hidden="1"/></cols>')


@case(refused=False)
def styled_empty_cells_by_the_hundred_thousand() -> bytes:
    return with_many_rows(("<row>" + '<c s="0"/>' * 100 + "</row>") * 4, 500)


@case(refused=True)
def styled_empty_cells_past_the_limit() -> bytes:
    return with_many_rows(("<row>" + '<c s="0"/>' * 100 + "</row>") * 4, 1_500)


@case(refused=True)
def empty_cells_packed_too_densely() -> bytes:
    return with_many_rows(("<row>" + '<c s="0"/>' * 100 + "</row>") * 100, 100)


@case(refused=False)
def a_quarter_of_a_million_empty_rows() -> bytes:
    return with_many_rows("<row/>" * 1000, 250)


@case(refused=True)
def more_rows_than_a_sheet_has() -> bytes:
    return with_sheet('<row r="1048570"/>' + "<row/>" * 10)


# Too much of something


@case(refused=True)
def a_gibibyte_of_spaces() -> bytes:
    return with_long_part("xl/worksheets/sheet1.xml", HEAD, " " * (1 << 20), 1024, sheet(""))


@case(refused=True)
def a_hundredfold_bomb_in_the_texts() -> bytes:
    return with_long_part(
        "xl/sharedStrings.xml", f'{HEAD}<sst xmlns="{MAIN}"><si><t>', "A" * (1 << 20), 300, "</t></si></sst>"
    )


@case(refused=None)
def an_attribute_of_fifty_megabytes() -> bytes:
    return with_long_part(
        "xl/worksheets/sheet1.xml", f'{HEAD}<worksheet xmlns="{MAIN}" a="', "y" * (1 << 20), 50, '"/>'
    )


@case(refused=True)
def an_attribute_of_fifty_megabytes_poorly_packed() -> bytes:
    noise = "".join(chr(97 + (i * i * 31 + i // 7) % 26) for i in range(1 << 16)) * 16
    return with_long_part(
        "xl/worksheets/sheet1.xml", f'{HEAD}<worksheet xmlns="{MAIN}" a="', noise, 50, '"/>'
    )


@case(refused=True)
def two_hundred_thousand_entries() -> bytes:
    parts = plain_parts()
    more = [Entry(f"x/{number}.txt", method=0) for number in range(200_000)]
    return zipped(parts, *more)


@case(refused=None)
def a_text_longer_than_a_cell_holds() -> bytes:
    return with_sheet(f'<row r="1"><c r="A1" t="inlineStr"><is><t>{"x" * 40_000}</t></is></c></row>')


@case(refused=True)
def elements_nested_ten_thousand_deep() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", sheet("<a>" * 10_000 + "</a>" * 10_000))


@case(refused=True)
def elements_nested_without_end() -> bytes:
    return with_part("xl/workbook.xml", f'{HEAD}<workbook xmlns="{MAIN}">' + "<a>" * 500_000)


@case(refused=True)
def a_thousand_sheets_of_one_part() -> bytes:
    sheets = "".join(f'<sheet name="S{n}" sheetId="{n}" r:id="rId1"/>' for n in range(1, 1_001))
    return with_part(
        "xl/workbook.xml",
        f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{DOCUMENT}"><sheets>{sheets}</sheets></workbook>',
    )


# Document types and entities


def _with_doctype(part: str, doctype: str) -> bytes:
    parts = plain_parts()
    return zipped({**parts, part: str(parts[part]).replace(HEAD, HEAD + doctype)})


@case(refused=True)
def laughs_by_the_billion() -> bytes:
    levels = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    parts = plain_parts()
    text = f'{HEAD}<!DOCTYPE sst [<!ENTITY l0 "ha">{levels}]><sst xmlns="{MAIN}"><si><t>&l9;</t></si></sst>'
    return zipped({**parts, "xl/sharedStrings.xml": text})


@case(refused=True)
def an_outside_entity() -> bytes:
    rows = '<row r="1"><c r="A1" t="inlineStr"><is><t>&x;</t></is></c></row>'
    doctype = '<!DOCTYPE worksheet [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
    return with_part("xl/worksheets/sheet1.xml", sheet(rows).replace(HEAD, HEAD + doctype))


@case(refused=True)
def doctype_in_the_sheet() -> bytes:
    return _with_doctype("xl/worksheets/sheet1.xml", "<!DOCTYPE worksheet>")


@case(refused=True)
def doctype_in_the_workbook() -> bytes:
    return _with_doctype("xl/workbook.xml", '<!DOCTYPE workbook SYSTEM "http://localhost/x.dtd">')


@case(refused=True)
def doctype_in_the_content_types() -> bytes:
    return _with_doctype("[Content_Types].xml", "<!DOCTYPE Types>")


@case(refused=True)
def doctype_in_the_relations() -> bytes:
    return _with_doctype("xl/_rels/workbook.xml.rels", "<!DOCTYPE Relationships>")


@case(refused=True)
def doctype_in_utf_16() -> bytes:
    text = sheet("").replace(HEAD, '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE worksheet>')
    return with_part("xl/worksheets/sheet1.xml", text.encode("utf-16"))


# Content that makes no sense


@case(refused=True)
def a_text_number_past_the_last() -> bytes:
    return with_sheet('<row r="1"><c r="A1" t="s"><v>99</v></c></row>')


@case(refused=True)
def a_text_number_below_zero() -> bytes:
    return with_sheet('<row r="1"><c r="A1" t="s"><v>-1</v></c></row>')


@case(refused=True)
def a_text_number_that_is_no_number() -> bytes:
    return with_sheet('<row r="1"><c r="A1" t="s"><v>first</v></c></row>')


@case(refused=None)
def a_style_number_past_the_last() -> bytes:
    return with_sheet('<row r="1"><c r="A1" s="4000"><v>1</v></c></row>')


@case(refused=None)
def a_style_number_that_is_no_number() -> bytes:
    return with_sheet('<row r="1"><c r="A1" s="bold"><v>1</v></c></row>')


@case(refused=None)
def a_number_that_is_none() -> bytes:
    return with_sheet(
        '<row r="1"><c r="A1"><v>twelve</v></c><c r="B1"><v>NaN</v></c><c r="C1"><v>1e999</v></c></row>'
    )


@case(refused=None)
def a_number_of_a_million_digits() -> bytes:
    return with_sheet(f'<row r="1"><c r="A1"><v>{"9" * 1_000_000}</v></c></row>')


@case(refused=None)
def a_date_that_is_none() -> bytes:
    return with_sheet('<row r="1"><c r="A1" t="d"><v>2024-99-99</v></c></row>')


@case(refused=None)
def a_type_nobody_knows() -> bytes:
    return with_sheet('<row r="1"><c r="A1" t="zz"><v>1</v></c></row>')


@case(refused=None)
def a_yes_or_no_that_is_neither() -> bytes:
    return with_sheet('<row r="1"><c r="A1" t="b"><v>maybe</v></c></row>')


@case(refused=True)
def bytes_that_are_not_utf_8() -> bytes:
    data = sheet('<row r="1"><c r="A1" t="inlineStr"><is><t>|</t></is></c></row>').encode()
    return with_part("xl/worksheets/sheet1.xml", data.replace(b"|", b"\xff\xfe\xc3\x28"))


@case(refused=True)
def an_encoding_nobody_knows() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", sheet("").replace("UTF-8", "KLINGON"))


@case(refused=True)
def a_character_xml_forbids() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", sheet('<row r="1"><c r="A1" t="str"><v>\x01</v></c></row>'))


@case(refused=True)
def tags_that_do_not_close() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", sheet("").replace("</worksheet>", ""))


@case(refused=True)
def something_after_the_last_tag() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", sheet("") + "<more/>")


@case(refused=True)
def an_empty_sheet_part() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", b"")


@case(refused=True)
def a_sheet_of_another_language() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", "<html><body>no sheet</body></html>")


@case(refused=None)
def a_sheet_without_rows_element() -> bytes:
    return with_part("xl/worksheets/sheet1.xml", f'{HEAD}<worksheet xmlns="{MAIN}"/>')


@case(refused=None)
def two_rows_elements() -> bytes:
    return with_sheet("", "<sheetData/>")


@case(refused=None)
def a_shared_formula_without_its_master() -> bytes:
    return with_sheet('<row r="1"><c r="A1"><f t="shared" si="7"/><v>1</v></c></row>')


@case(refused=None)
def an_array_formula_over_the_whole_sheet() -> bytes:
    return with_sheet('<row r="1"><c r="A1"><f t="array" ref="A1:XFD1048576">1</f><v>1</v></c></row>')


@case(refused=None)
def a_styles_part_of_nonsense() -> bytes:
    return with_part("xl/styles.xml", "<styleSheet><cellXfs><xf numFmtId='x'/></cellXfs></styleSheet>")


@case(refused=None)
def a_styles_part_that_is_broken() -> bytes:
    return with_part("xl/styles.xml", "<styleSheet")


@case(refused=None)
def a_conditional_format_of_the_last_priority() -> bytes:
    return with_sheet(
        '<row r="1"><c r="A1"><v>1</v></c></row>',
        '<conditionalFormatting sqref="A1"><cfRule type="expression" priority="2147483647">'
        "<formula>1</formula></cfRule></conditionalFormatting>",
    )


@case(refused=None)
def a_hidden_row_flag_of_nonsense() -> bytes:
    return with_sheet('<row r="1" hidden="perhaps"><c r="A1"><v>1</v></c></row>')
