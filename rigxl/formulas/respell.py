"""The calls of our functions in a workbook spelt as another program spells them; nothing else changes."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from rigxl.errors import InputError, WorkbookError
from rigxl.formulas.spelling import HOSTS, UnreadableFormulaError, calls, mentions, respellings, respelt
from rigxl.workbook import rewrite, splice, strings, verify
from rigxl.workbook.formulas import Span, cell_formulas
from rigxl.workbook.frame import frame_of
from rigxl.workbook.guard import Limits
from rigxl.workbook.package import Workbook
from rigxl.workbook.parts import Parts
from rigxl.workbook.places import formula_places
from rigxl.workbook.sameness import fingerprint
from rigxl.workbook.splice import Edit
from rigxl.workbook.values import cell_name


@dataclass
class Respelt:
    """What respelling did: how many formulas and calls it changed, and what it had to leave, in sentences."""

    formulas: int = 0
    calls: int = 0
    left: list[str] = field(default_factory=list)


def respell(
    source: Path, target: Path, host: str, *, limits: Limits | None = None, in_place: bool = False
) -> Respelt:
    """Respell every call of ours in a workbook, be it in a cell, a name, a format, a validation or a table.

    Nothing is written where nothing has to change.

    Args:
        source: The workbook.
        target: The file to write; the source itself only with ``in_place``, which keeps a backup beside it.
        host: Whose spelling, one of ``HOSTS``.
        limits: How large the source may be.
        in_place: Allow the target to be the source.

    Raises:
        InputError: There is no such host.
        WorkbookError: The workbook cannot be read or altered, or the written file fails its proof.
    """
    if host not in HOSTS:
        raise InputError(f"there is no spelling '{host}'; there is {', '.join(HOSTS)}")
    workbook = rewrite.open_to_rewrite(source, limits or Limits())
    rewrite.is_itself(source, target, in_place)
    done = Respelt()
    edits = _edits(workbook, host, done)
    if not edits:
        return done
    parts = Parts(workbook)
    for part, found in edits.items():
        parts.change(part, workbook.package.text(part), splice.in_order(found))

    def prove(written: Path) -> None:
        package = verify.prove_entries(written, workbook, parts.changed)
        for part in edits:
            before = fingerprint(workbook.package.text(part).text, part, change=partial(_respelt, host=host))
            if before != fingerprint(package.text(part).text, part):
                raise WorkbookError(
                    "proof-failed", f"{part} differs in more than the spelling: nothing was written"
                )

    rewrite.write(source, target, parts, prove, in_place=in_place)
    return done


def _edits(workbook: Workbook, host: str, done: Respelt) -> dict[str, list[Edit]]:
    """What has to change, part by part; what cannot be changed is noted."""
    edits: dict[str, list[Edit]] = defaultdict(list)
    for sheet in workbook.sheets:
        if sheet.kind == "worksheet":
            text = workbook.package.text(sheet.part).text
            for one in cell_formulas(frame_of(text, sheet.part), sheet.part):
                if one.content is not None and mentions(one.told.text) and one.told.moved == (0, 0):
                    where = f"{sheet.name}!{cell_name(one.row, one.column)}"
                    edits[sheet.part] += _of_one(text, one.told.text, one.content, where, host, done)
    for place in formula_places(workbook):
        if mentions(place.text):
            text = workbook.package.text(place.part).text
            written = strings.unescaped(place.text)
            edits[place.part] += _of_one(text, written, place.content, place.what, host, done)
    return {part: found for part, found in edits.items() if found}


def _of_one(part: bytes, formula: str, content: Span, where: str, host: str, done: Respelt) -> list[Edit]:
    """The edits of one formula, which is given without its equals sign."""
    try:
        changes = respellings(f"={formula}", host)
        unknown = [call for call in calls(f"={formula}") if not call.name]
    except UnreadableFormulaError as error:
        done.left.append(f"{where} cannot be read and was left as it is: {error}")
        return []
    if unknown:
        spelt = f"={formula}"[unknown[0].start : unknown[0].end]
        done.left.append(f"{where}: '{spelt}' is no spelling of a function of rigxl and was left as it is")
    if not changes:
        return []
    done.formulas += 1
    done.calls += len(changes)
    starts = strings.places(part[slice(*content)], formula)
    if starts is None:  # such as a CDATA section
        return [Edit(*content, splice.escaped(respelt(f"={formula}", host)[1:]).encode())]
    return [
        Edit(content.start + starts[start - 1], content.start + starts[end - 1], new.encode())
        for start, end, new in changes
    ]


def _respelt(formula: str, host: str) -> str:
    """A formula without equals sign respelt; one that cannot be read stays as it is."""
    try:
        return respelt(f"={formula}", host)[1:]
    except UnreadableFormulaError:
        return formula
