"""What a heading names, looked up in the reviewable list of spellings.

A heading is known only if it is in the list once case, accents, punctuation, spaces, abbreviations and its
unit are out of the way. What merely looks like one of the list is proposed to a person and never taken.

>>> hear("W.L.L. (t)").field, hear("Sling Angle (from vertical)").field, hear("Weight").proposals
('rated_load', 'angle_from_vertical', ('load', 'rigging'))
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from typing import NamedTuple

from rigxl.errors import AmbiguousUnitError, RigxlError
from rigxl.schedule.fields import FIELD
from rigxl.schedule.other_headings import ABBREVIATIONS, GROUP_WORDS, MORE_THAN_ONE, NOT_READ
from rigxl.schedule.spellings import SPELLINGS
from rigxl.schedule.worked_headings import FIGURES, RESULT, WORKED
from rigxl.units import read_angle, read_force, read_length, read_temperature, read_torque, split_header


class Heard(NamedTuple):
    """What a heading says: the field it names if it is in the list, its unit, and what it may have meant."""

    field: str | None = None
    unit: str | None = None
    proposals: tuple[str, ...] = ()
    why: str = ""
    """What to say of a heading that is known and names no field."""
    chosen: bool = False
    """Whether a person decided it in a mapping."""
    worked: str = ""
    """The figure or verdict that the sheet works out in the column, where it is a known one."""


LONGEST = 100
"""A longer text is no heading."""

NEAR = 10.0
"""Proposals are within so many points of the best one, of 100."""

MEASURED = {
    "force": read_force,
    "length": read_length,
    "angle": read_angle,
    "temperature": read_temperature,
    "torque": read_torque,
}

_FIRST_WORD = re.compile(r"\w+")
_ACRONYM = re.compile(r"\b(\w)\.(?=\w\b)")
_NOT_WORD = re.compile(r"[^\w]+|_+")
_QUIET = frozenset({"the", "of", "a", "an"})
_DEGREES = frozenset({"deg", "degs", "degree", "degrees"})
_YES_NO = re.compile(
    r"[(\[]\s*(?:y\s*/\s*n|yes\s*/\s*no|y\s+or\s+n|yes\s+or\s+no)\s*\??\s*[)\]]|\?\s*$", re.IGNORECASE
)


def plain(text: str) -> str:
    """A heading without case, accents, punctuation and abbreviations.

    >>> plain("No. of Leg(s)"), plain("Mfr's  name"), plain("Cert. №")
    ('no legs', 'maker name', 'certificate no')
    """
    text = (
        text.replace("°", " ")
        .replace("º", " ")
        .replace("(s)", "s")
        .replace("#", " no ")
        .replace("&", " and ")
    )
    text = _YES_NO.sub(" ", text)
    text = "".join(mark for mark in unicodedata.normalize("NFKD", text) if not unicodedata.combining(mark))
    text = text.casefold().replace("'", "").replace("’", "").replace("%", " percent ")
    words = _NOT_WORD.sub(" ", _ACRONYM.sub(r"\1", text)).split()
    if len(words) > 1:
        words = [word for word in words if word not in _DEGREES] or words
    full = _full_words()
    last = len(words) - 1
    return " ".join(
        full.get(word, word) for place, word in enumerate(words) if word not in _QUIET or place in (0, last)
    )


@lru_cache(maxsize=4096)
def hear(heading: str) -> Heard:
    """What a heading names, by the list alone.

    Args:
        heading: As typed, with its unit: ``WLL (t)``, ``No. of legs``, ``Angle from vertical [deg]``.
    """
    first = _FIRST_WORD.search(heading)
    if len(heading) > LONGEST or first is None or not _may_begin(first[0]):
        return Heard()
    if heading.lower().startswith(WORKED):
        return _worked(heading)
    label, unit = split_header(heading)
    known = _known()
    found = known.get(plain(label))
    if found is None and unit is not None:
        found, unit = known.get(plain(heading)), None
    if found is None:
        return Heard()
    if found.field is None and unit is not None:
        fitting = [name for name in found.proposals if _fits(unit, name)]
        if len(fitting) == 1 < len(found.proposals):
            return Heard(fitting[0], unit)
    return found._replace(unit=unit)


def _worked(heading: str) -> Heard:
    """A column of formulas of our own template: its heading may be known, with its first word or without."""
    label, unit = split_header(heading)
    known = _known()
    found = known.get(plain(label)) or known.get(plain(label[len(WORKED) :]))
    return Heard(None, unit, why=RESULT, worked=found.worked if found else "")


def propose(heading: str, most: int = 3) -> tuple[str, ...]:
    """The fields whose spellings look most like an unknown heading, best first; a person decides.

    >>> propose("Raetd load")
    ('rated_load',)
    """
    from rapidfuzz import fuzz, process

    spellings = {spelling: heard.field for spelling, heard in _known().items() if heard.field}
    close = process.extract(
        plain(split_header(heading)[0]), spellings.keys(), scorer=fuzz.ratio, score_cutoff=80, limit=12
    )
    near = (spelling for spelling, score, _ in close if score > close[0][1] - NEAR)
    return tuple(dict.fromkeys(name for spelling in near if (name := spellings[spelling])))[:most]


def field_named(text: str) -> str | None:
    """The field a person names in a mapping: by its name, its title or any known spelling."""
    name = text.strip().lower().replace(" ", "_")
    return name if name in FIELD else hear(text).field


def is_neutral(group: str) -> bool:
    """Whether a heading over others adds nothing to what they say, as 'Hardware details' over 'Size'."""
    return plain(group) in _neutral() or ":" in group or len(group.split()) > 4


@cache
def _neutral() -> frozenset[str]:
    return frozenset(plain(word) for word in GROUP_WORDS.split(","))


def _may_begin(word: str) -> bool:
    """Whether a heading that is known may begin with a word: a quick look before the long one."""
    return len(word) == 1 or not word.isascii() or word.lower() in _beginnings()


@cache
def _beginnings() -> frozenset[str]:
    words = {spelling.partition(" ")[0] for spelling in _known()}
    return frozenset(words | _full_words().keys() | _QUIET | {WORKED.rstrip(":")})


@cache
def _known() -> dict[str, Heard]:
    """Every spelling in its plain form; the tests see to it that none has two meanings."""
    known = {plain(split_header(field.title)[0]): Heard(name) for name, field in FIELD.items()}
    for name, said in SPELLINGS.items():
        known.update((plain(spelling), Heard(name)) for spelling in said.split(","))
    for said, proposals in MORE_THAN_ONE.items():
        why = f"could be {' or '.join(FIELD[name].plain for name in proposals)}"
        known.update((plain(spelling), Heard(None, None, proposals, why)) for spelling in said.split(","))
    for name, said in FIGURES.items():
        known.update((plain(spelling), Heard(why=RESULT, worked=name)) for spelling in said.split(","))
    for why, said in NOT_READ.items():
        known.update((plain(spelling), Heard(why=why)) for spelling in said.split(","))
    return known


@cache
def _full_words() -> dict[str, str]:
    return {short.strip(): word for word, said in ABBREVIATIONS.items() for short in said.split(",")}


def _fits(unit: str, name: str) -> bool:
    """Whether a unit is one that a field could be in."""
    read = MEASURED.get(FIELD[name].read)
    if read is None:
        return False
    try:
        read(1.0, unit)
    except AmbiguousUnitError:
        return True
    except RigxlError:
        return False
    return True
