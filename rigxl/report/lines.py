"""The working of a row as lines of text, for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from rigxl.checks.judge import reasons
from rigxl.items import NOTE
from rigxl.report.explain import Explained, Line, value_of
from rigxl.schedule.report import remedies

INDENT = 26
"""Where the text beside a step's name begins."""


def told(explained: Explained, width: int) -> Iterator[str]:
    """The working, the verdict and what was assumed, in lines of at most ``width`` characters.

    Args:
        explained: The working.
        width: Characters there is room for.
    """
    row, item = explained.row, explained.row.judged.item
    parts = [item.kind or "kind not known", item.position and f"at {item.position}", item.lift]
    named = ", ".join(part for part in parts if part)
    yield from _block("", [f"{row.sheet}!{row.row}, {row.name}, {named}: {row.verdict}"], width, 0)
    for line in explained.lines:
        yield ""
        yield from _block(line.step.name, _of(line), width)
    yield ""
    yield from _block("verdict", _verdict(explained), width)
    if explained.assumed:
        yield ""
        yield from _block("taken and noted", list(explained.assumed), width)


def _of(line: Line) -> list[str]:
    step = line.step
    equals = " = " if step.unit else ": "
    bare = step.numbers in ("", step.shown.partition(" = ")[0])
    told = [step.formula, step.shown if bare else f"{step.numbers}{equals}{step.shown}"]
    behind = [cell.told for cell in line.cells]
    behind += [f"{one.name} {value_of(one)} by {one.chosen_by}" for one in line.settings]
    behind += step.remarks
    return [*told, f"{'; '.join(behind)} [{step.source.cited}]".lstrip()]


def _verdict(explained: Explained) -> list[str]:
    judged = explained.row.judged
    told = [explained.row.verdict]
    for one in reasons(judged):
        if one.outcome != NOTE:
            told.append(f"{one.outcome}, {one.rule.name}: {one.sentence} [{one.rule.source.cited}]")
            told += [one.waiver.signed] if one.waiver else []
    return told + [f"→ {remedy}" for remedy in remedies(judged).split("\n") if remedy]


def _block(name: str, texts: list[str], width: int, indent: int = INDENT) -> Iterator[str]:
    """A name and the texts beside it; a name too long for its column stands on a line of its own."""
    margin = " " * indent
    first = f"{name:<{indent}}"
    if indent and len(name) > indent - 2:
        yield name
        first = margin
    for text in texts:
        plain = "".join(one if one.isprintable() else " " for one in text)
        for line in textwrap.wrap(plain, max(20, width - indent), subsequent_indent="  ") or [""]:
            yield (first + line).rstrip()
            first = margin
