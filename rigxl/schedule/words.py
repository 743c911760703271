"""Words in cells: the kinds of hardware a text names, and texts that name no item at all."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from rigxl.hardware import kind_words

_BETWEEN = re.compile(r"[^\w✓✔]+")
_TOTAL = re.compile(
    r"(sub|grand)[ -]?totals?\b|(total|sum)s?\s*"
    r"($|[:=(-]|(of|for|per|no|lift|load|weight|mass|rigging|qty|quantity|items?)\b)",
    re.IGNORECASE,
)
_NOTE = re.compile(
    r"(notes?|n\.?b\.?|remarks?|prepared|checked|approved|issued|revision)\b|\*|\(\d", re.IGNORECASE
)
_COMES_WITH = re.compile(r"\b(?:with|incl\w*|complete|c/w)\b|\bw/(?!o\b)", re.IGNORECASE)
_NO_ITEM = re.compile(
    r"\b(hook|sheave|crane|chain) block\b|\b(c|coil|s|snap|carabiner) hook\b|\b(snap|padlock) shackle\b|"
    r"^tag ?line\b|^(no|without|spare part) |^(\w+ ){0,2}(kit|label|certificate|drawing|protector) |"
    r"\b(not|nothing) (required|req|reqd|used|needed|applicable)\b|\b(n a|deleted|omitted)$"
)
"""Other devices and denials that have the name of a kind in them, as ``singular`` has them."""
_BESIDES = (
    r"(body|bag|bin|box|cable|cap|case|certificate|cover|crate|display|drawing|gauge|handle|kit|label|latch|"
    r"paint|plug|protector|rack|seal|sleeve|stand|storage|strap|tag|tool|trolley|washer)"
)
"""What a piece is kept in, marked or fitted with."""
_PART = re.compile(
    r"\b(shackle|hook|sling|turnbuckle|link|clamp|clip|eye bolt|hoist ring|pad eye|vacuum pad|load cell|"
    rf"magnet|beam|bar) ((\w+ )?{_BESIDES}|pin|bolt|nut|cotter)( box| spare| only| set| kit)*$|"
    rf"^(\w+ ){{0,2}}({_BESIDES}|(edge|corner) pad|pin|(?<!eye )bolt|nut|cotter)( only)?"
    r" (for|of|from|to suit) "
)
"""A part of a piece, or what goes with it."""
_WRONG = re.compile(
    r"\b(missing|without|no|w o|less|minu|lacking|excl|excluding)( [^\W\d]+)? "
    r"(pin|bolt|nut|latch|tag|label)\b|"
    r"\b(pin|bolt|nut|latch|tag|label|body) (only|missing|lost|removed)\b|"
    r"\b(missing|lost|scrap|scrapped|damaged|bent|broken|cracked|condemned|quarantined?|rejected|defective|"
    r"withdrawn|replaced|do not use|not to be used|out of (service|use)|(instead|in place|in lieu) of)\b"
)
"""Something is missing or wrong, or it is another piece that is meant."""
LONGEST_NAME = 80


@lru_cache(maxsize=8192)
def kinds_in(text: str) -> tuple[str, ...]:
    """The kinds a text names, the longest phrase first; a word within a longer phrase names nothing itself.

    >>> kinds_in("Bow shackles, screw pin"), kinds_in("Tag line"), kinds_in("Shackle pin")
    (('shackle',), (), ())
    """
    said = singular(text)
    if _NO_ITEM.search(said) or _PART.search(singular(_COMES_WITH.split(text, maxsplit=1)[0])):
        return ()
    words = f" {said} "
    found = []
    for phrase, kind in _phrases():
        if phrase in words:
            found.append(kind)
            words = words.replace(phrase, " | ")
    return tuple(dict.fromkeys(found))


def the_kind_in(text: str) -> tuple[str, ...]:
    """The kind that a cell for kinds names; what it comes with is no kind of the row.

    >>> the_kind_in("Chain sling with hooks"), the_kind_in("Spreader shackle")
    (('sling',), ('spreader bar', 'shackle'))
    """
    named = kinds_in(text)
    return named if len(named) < 2 else kinds_in(_COMES_WITH.split(text, maxsplit=1)[0]) or named


@lru_cache(maxsize=8192)
def against(text: str) -> str:
    """Why the kind that a text names is not taken for that of its row; empty where nothing speaks against it.

    >>> against("Shackle, missing pin"), against("Wire rope w/ shackle"), against("Hook with latch")
    ('does not plainly say a whole and sound piece', 'is of something that comes with a shackle', '')
    """
    said = singular(text)
    if _WRONG.search(said):
        return "does not plainly say a whole and sound piece"
    before, *after = _COMES_WITH.split(text, maxsplit=1)
    if after and singular(before) and not kinds_in(before):
        return f"is of something that comes with a {' and a '.join(kinds_in(text))}"
    return ""


def singular(text: str) -> str:
    """A text in lower case, its words apart by one space and in the singular.

    >>> singular("Eye-bolts  (Shoulder)")
    'eye bolt shoulder'
    """
    words = _BETWEEN.sub(" ", text.casefold()).split()
    return " ".join(word[:-1] if len(word) > 3 and word[-1] == "s" != word[-2] else word for word in words)


def normal(text: str) -> str:
    """A word or phrase in the spelling that lists of choices use."""
    return " ".join(_BETWEEN.sub(" ", text.casefold()).split())


def is_total(text: str) -> bool:
    """Whether a text begins a row of totals; a name such as 'Total Platform' does not.

    >>> is_total("Subtotal north end"), is_total("Total Platform")
    (True, False)
    """
    return _TOTAL.match(text.strip()) is not None


def is_note(text: str) -> bool:
    """Whether a text is a note or signature under a table, not the name of an item."""
    return len(text) > LONGEST_NAME or _NOTE.match(text.strip()) is not None


@cache
def _phrases() -> tuple[tuple[str, str], ...]:
    return tuple((f" {singular(word)} ", kind) for word, kind in kind_words().items())
