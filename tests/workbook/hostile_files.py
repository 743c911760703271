"""Hostile files: zips that lie, parts that are missing, and other kinds of file."""

from __future__ import annotations

from tests.workbook.forging import (
    DOCUMENT,
    HEAD,
    MAIN,
    PACKAGE,
    case,
    changed_entry,
    plain_parts,
    with_part,
    without,
    zipped,
)
from tests.workbook.rawzip import Entry, repeated, write

# The zip container


@case(refused=True)
def a_name_that_climbs_out() -> bytes:
    return zipped(plain_parts(), Entry("../../evil.txt", b"x"))


@case(refused=True)
def a_name_from_the_root() -> bytes:
    return zipped(plain_parts(), Entry("/etc/evil.txt", b"x"))


@case(refused=None)
def a_name_with_a_drive() -> bytes:
    return zipped(plain_parts(), Entry("C:\\evil.txt", b"x"))


@case(refused=None)
def a_name_with_a_zero_byte() -> bytes:
    return zipped(plain_parts(), Entry(b"xl/evil\0.xml", b"x"))


@case(refused=True)
def names_equal_but_for_case() -> bytes:
    return zipped(plain_parts(), Entry("XL/Workbook.xml", b"x"))


@case(refused=True)
def the_same_name_twice() -> bytes:
    return zipped(plain_parts(), Entry("xl/workbook.xml", str(plain_parts()["xl/workbook.xml"]).encode()))


@case(refused=True)
def another_name_inside_the_file() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", local_name=b"xl/worksheets/other1.xml")


@case(refused=True)
def a_wrong_checksum_of_the_sheet() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", checksum=0xDEADBEEF)


@case(refused=True)
def a_size_that_is_too_small() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", size=10)


@case(refused=True)
def a_size_that_is_too_large() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", size=100_000)


@case(refused=True)
def a_packed_size_of_four_gigabytes() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", packed_size=0xFFFFFFFE)


@case(refused=True)
def an_encrypted_entry() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", flags=0x801)


@case(refused=True)
def a_packing_nobody_knows() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", method=97)


@case(refused=True)
def bytes_that_do_not_unpack() -> bytes:
    return changed_entry("xl/worksheets/sheet1.xml", packed=b"\xff" * 200)


@case(refused=True)
def overlapping_entries() -> bytes:
    parts = plain_parts()
    entries = [Entry(name, str(data).encode()) for name, data in parts.items()]
    again = Entry("xl/worksheets/sheet2.xml", entries[0].data, at=0)
    return write([*entries, again])


@case(refused=True)
def an_entry_outside_the_file() -> bytes:
    return zipped(plain_parts(), Entry("x.xml", b"x", at=0x7FFFFFFF))


@case(refused=True)
def a_directory_that_counts_wrongly() -> bytes:
    return write([Entry(name, str(data).encode()) for name, data in plain_parts().items()], count=3)


@case(refused=None)
def something_before_the_zip() -> bytes:
    return write(
        [Entry(name, str(data).encode()) for name, data in plain_parts().items()], prefix=b"MZ" * 400
    )


@case(refused=False)
def a_zip_comment() -> bytes:
    parts = plain_parts().items()
    return write([Entry(name, str(data).encode()) for name, data in parts], comment=b"made by hand")


@case(refused=None)
def a_long_zip_comment_with_false_ends() -> bytes:
    return write(
        [Entry(name, str(data).encode()) for name, data in plain_parts().items()], comment=b"PK\5\6" * 10_000
    )


@case(refused=True)
def the_first_half_of_a_file() -> bytes:
    data = zipped(plain_parts())
    return data[: len(data) // 2]


@case(refused=True)
def all_but_the_last_ten_bytes() -> bytes:
    return zipped(plain_parts())[:-10]


# No workbook at all


@case(refused=True)
def an_empty_file() -> bytes:
    return b""


@case(refused=True)
def an_empty_zip() -> bytes:
    return write([])


@case(refused=True)
def text_under_a_false_name() -> bytes:
    return b"Item,Load\nShackle,5 t\n"


@case(refused=True)
def a_web_page_under_a_false_name() -> bytes:
    return b"<html><table><tr><td>Item</td></tr></table></html>"


@case(refused=True)
def a_zip_of_something_else() -> bytes:
    return write([Entry("readme.txt", b"hello"), Entry("word/document.xml", b"<w/>")])


@case(refused=True)
def the_head_of_an_old_office_file() -> bytes:
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600


@case(refused=True)
def the_head_of_an_old_office_file_and_noise() -> bytes:
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(i * 37 % 251 for i in range(4096))


@case(refused=True)
def zero_bytes() -> bytes:
    return b"\0" * 100_000


# Parts that are missing, or point at the wrong thing


@case(refused=True)
def no_workbook_part() -> bytes:
    return without("xl/workbook.xml")


@case(refused=True)
def no_sheet_part() -> bytes:
    return without("xl/worksheets/sheet1.xml")


@case(refused=True)
def no_content_types() -> bytes:
    return without("[Content_Types].xml")


@case(refused=True)
def no_package_relations() -> bytes:
    return without("_rels/.rels")


@case(refused=True)
def no_workbook_relations() -> bytes:
    return without("xl/_rels/workbook.xml.rels")


@case(refused=False)
def no_styles_part() -> bytes:
    return without("xl/styles.xml")


@case(refused=True)
def no_texts_part_though_the_sheet_needs_it() -> bytes:
    return without("xl/sharedStrings.xml")


def _related(target: str, extra: str = "") -> bytes:
    relations = str(plain_parts()["xl/_rels/workbook.xml.rels"])
    return with_part(
        "xl/_rels/workbook.xml.rels", relations.replace("worksheets/sheet1.xml", target, 1) + extra
    )


@case(refused=True)
def a_sheet_that_is_the_workbook() -> bytes:
    return _related("workbook.xml")


@case(refused=True)
def a_sheet_outside_the_package() -> bytes:
    return _related("../../../../etc/passwd")


@case(refused=True)
def relations_of_the_relations() -> bytes:
    return _related("_rels/workbook.xml.rels")


@case(refused=True)
def a_sheet_at_an_address_on_the_web() -> bytes:
    return with_part(
        "xl/_rels/workbook.xml.rels",
        f'{HEAD}<Relationships xmlns="{PACKAGE}"><Relationship Id="rId1" Type="{DOCUMENT}/worksheet" '
        'Target="http://localhost/sheet1.xml" TargetMode="External"/></Relationships>',
    )


@case(refused=True)
def two_sheets_of_one_name() -> bytes:
    return with_part(
        "xl/workbook.xml",
        f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{DOCUMENT}"><sheets>'
        '<sheet name="Lift" sheetId="1" r:id="rId1"/>'
        '<sheet name="LIFT" sheetId="2" r:id="rId1"/></sheets></workbook>',
    )


@case(refused=True)
def styles_that_are_another_part() -> bytes:
    relations = str(plain_parts()["xl/_rels/workbook.xml.rels"])
    return with_part("xl/_rels/workbook.xml.rels", relations.replace('"styles.xml"', '"sharedStrings.xml"'))


@case(refused=None)
def a_workbook_without_sheets() -> bytes:
    return with_part("xl/workbook.xml", f'{HEAD}<workbook xmlns="{MAIN}"><sheets/></workbook>')


@case(refused=True)
def two_relations_of_one_id() -> bytes:
    return with_part(
        "xl/_rels/workbook.xml.rels",
        f'{HEAD}<Relationships xmlns="{PACKAGE}">'
        f'<Relationship Id="rId1" Type="{DOCUMENT}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="rId1" Type="{DOCUMENT}/styles" Target="styles.xml"/></Relationships>',
    )


# Other kinds of file


@case(refused=True, suffix=".xls")
def noise_named_as_an_old_workbook() -> bytes:
    return bytes(i * 37 % 251 for i in range(4096))


@case(refused=True, suffix=".xlsb")
def a_sound_workbook_named_as_a_binary_one() -> bytes:
    return write([Entry("xl/workbook.bin", b"\x9c\x01\xff\xff\xff\xff")])


@case(refused=True, suffix=".ods")
def an_open_document_of_too_many_rows() -> bytes:
    return _open_document(
        '<table:table-row table:number-rows-repeated="99999999"><table:table-cell/></table:table-row>'
    )


@case(refused=True, suffix=".ods")
def an_open_document_with_a_cell_repeated_for_ever() -> bytes:
    cell = (
        '<table:table-cell office:value-type="float" office:value="1" table:number-columns-repeated="16384"/>'
    )
    return _open_document(f'<table:table-row table:number-rows-repeated="1048576">{cell}</table:table-row>')


@case(refused=True, suffix=".ods")
def an_open_document_with_a_doctype() -> bytes:
    return _open_document("", "<!DOCTYPE x>")


@case(refused=True, suffix=".ods")
def an_open_document_of_a_gibibyte() -> bytes:
    packed, checksum, size = repeated(b"<a>", b" " * (1 << 20), 1024, b"</a>")
    return write([Entry("content.xml", packed=packed, checksum=checksum, size=size)])


@case(refused=True, suffix=".csv")
def noise_named_as_text() -> bytes:
    return bytes(i * 37 % 251 for i in range(4096))


@case(refused=True, suffix=".csv")
def a_quote_that_never_closes() -> bytes:
    return b'Item,Load\n"Shackle,5\n' + b"x,1\n" * 1000


@case(refused=True, suffix=".csv")
def a_text_of_millions_of_cells() -> bytes:
    return b"1,2,3,4,5,6,7,8,9,0\n" * 260_000


@case(refused=True, suffix=".pdf")
def a_kind_of_file_nobody_asked_for() -> bytes:
    return b"%PDF-1.4"


def _open_document(rows: str, doctype: str = "") -> bytes:
    names = "urn:oasis:names:tc:opendocument:xmlns"
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?>{doctype}'
        f'<office:document-content xmlns:office="{names}:office:1.0" '
        f'xmlns:table="{names}:table:1.0"><office:body><office:spreadsheet><table:table table:name="Lift">'
        f"{rows}</table:table></office:spreadsheet></office:body></office:document-content>"
    )
    kind = Entry("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", method=0)
    return write([kind, Entry("content.xml", content.encode())])
