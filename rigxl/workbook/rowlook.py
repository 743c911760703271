"""The one conditional format that colours a row by the word in it."""

from __future__ import annotations

from rigxl.workbook import splice
from rigxl.workbook.areas import area_name
from rigxl.workbook.marks import SheetMarks
from rigxl.workbook.splice import Element
from rigxl.workbook.styles import Styles
from rigxl.workbook.values import Area, column_letters

OURS = 'N("rigxl")=0'
"""Always true; it tells our rules from those of others, also after another program has saved them."""


def is_ours(element: Element) -> bool:
    """Is a conditional format the one that rigxl gave the rows?"""
    rules = [rule for rule in element.children if rule.name == "cfRule"]
    return bool(rules) and all(any(OURS in inner.text for inner in rule.children) for rule in rules)


def row_look(marks: SheetMarks, first: int, styles: Styles, tree: Element) -> str:
    """The conditional format for the marked rows, from each table's first column to our last.

    Args:
        marks: The marks.
        first: The first column of ours.
        styles: Receives the looks.
        tree: The sheet, for the priorities that are taken.
    """
    areas = [
        Area(min(block.rows), block.first_column, max(block.rows), first + len(marks.columns) - 1)
        for block in sorted(marks.blocks, key=lambda block: block.header_row)
        if block.rows
    ]
    if not areas or not marks.rows_look:
        return ""
    taken = [
        splice.whole(rule.attributes.get("priority"))
        for rule in tree.walk()
        if rule.name == "cfRule" and not _made_by_us(rule)
    ]
    word_cell = f"${column_letters(first + marks.word_column)}{min(area.first_row for area in areas)}"
    rules = []
    for priority, (word, look) in enumerate(marks.rows_look.items(), max(taken, default=0) + 1):
        quoted = word.replace('"', '""')
        formula = splice.escaped(f'AND({word_cell}="{quoted}",{OURS})')
        rules.append(
            f'<cfRule type="expression" dxfId="{styles.row_look(look)}" priority="{priority}">'
            f"<formula>{formula}</formula></cfRule>"
        )
    places = " ".join(area_name(area) for area in areas)
    return f'<conditionalFormatting sqref="{places}">{"".join(rules)}</conditionalFormatting>'


def _made_by_us(rule: Element) -> bool:
    return any(OURS in inner.text for inner in rule.children)
