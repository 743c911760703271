"""What several kinds read from a row in the same way: its words, and the legs collected at the top."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from rigxl.items import FAIL, Finding, Item, Rule
from rigxl.mechanics.legs import VERTICAL_WITHIN_DEG
from rigxl.mechanics.limits import at_most
from rigxl.tables import COMMON_PRACTICE

LEGS_AT_TOP = Rule(
    "legs-at-top", "The number of legs that an item at the top collects must be known.", COMMON_PRACTICE
)
IN_LINE = Rule(
    "taken-as-in-line", "With no loading angle stated, an item aligns with its line.", COMMON_PRACTICE
)

_WORD = re.compile(r"[^\W_]+")


@lru_cache(maxsize=4096)
def words(*cells: str | None) -> str:
    """The words of some cells in lower case, one space around each, other marks dropped.

    >>> words("Bow-shackle, 3/4", None)
    ' bow shackle 3 4 '
    """
    said = " ".join(cell.lower() for cell in cells if cell)
    return f" {' '.join(_WORD.findall(said))} "


def called(item: Item) -> str:
    """All that the row calls the item: its type, kind and description."""
    return words(item.type, item.kind, item.description)


@lru_cache(maxsize=16384)
def says(text: str, *phrases: str) -> bool:
    """Whether any of the phrases occurs in ``words``, whole words only.

    >>> says(words("Wire rope sling"), "rope sling"), says(words("Wire rope sling"), "rope s")
    (True, False)
    """
    return any(f" {phrase} " in text for phrase in phrases)


@lru_cache(maxsize=1024)
def grade_of(text: str | None) -> str:
    """A grade without its trimmings: ``Grade 80``, ``G8`` and ``T(8)`` are 80.

    >>> grade_of("Grade 80"), grade_of("T(8)"), grade_of("gr. A"), grade_of(None)
    ('80', '80', 'A', '')
    """
    plain = re.sub(r"\b(grade|gr|class)\b\.?|[().\s-]", "", (text or "").lower())
    number = re.fullmatch(r"[gtv]?(\d+)", plain)
    if number:
        return {"8": "80", "10": "100"}.get(number[1], number[1])
    return plain.upper()


def in_line(angle_deg: float) -> bool:
    """Whether a load this far off an axis, to either side, counts as in line with it."""
    return at_most(abs(angle_deg), VERTICAL_WITHIN_DEG)


def collects(item: Item) -> bool:
    """Whether the item collects several legs at the top."""
    return item.position == "top" and (item.legs or 1) > 1


def legs_known(item: Item) -> Iterator[Finding]:
    """Holds an item at the top of which nobody says how many legs it collects."""
    if item.position == "top" and item.legs is None and "legs" not in item.problems:
        yield LEGS_AT_TOP.holds(
            "it hangs at the top and the number of legs it collects is not given",
            "fill in the number of legs, 1 for a single line",
        )


def included_deg(item: Item) -> float | None:
    """The angle that two opposite legs include, as far as the sling angle is known."""
    return None if item.angle_deg is None else 180 - 2 * item.angle_deg


def refuses(findings: Iterable[Finding]) -> bool:
    """Whether any of the findings is a fail."""
    return any(finding.outcome == FAIL for finding in findings)


def along_its_axis(rule: Rule, item: Item, remedy: str) -> Iterator[Finding]:
    """Fails what is loaded off its axis, by a rule that allows nothing but in line."""
    angle = item.loading_angle_deg
    if angle is None:
        if "loading_angle_deg" not in item.problems:
            yield IN_LINE.notes("no loading angle is stated: taken as in line with its line")
    elif angle < 0:
        yield rule.holds(f"loaded {angle:.4g}° off its axis, below 0", "fill in an angle of 0° or more")
    elif not in_line(angle):
        yield rule.fails(f"loaded {angle:.4g}° off its axis", remedy)


def show_degrees(celsius: float, unit: str) -> str:
    """A temperature as text, in degrees Fahrenheit where it was given so.

    >>> show_degrees(100, "degF"), show_degrees(100, "degC")
    ('212 °F', '100 °C')
    """
    return f"{celsius * 1.8 + 32:.4g} °F" if unit == "degF" else f"{celsius:.4g} °C"
