"""The parts of README.md that come from the code."""

from __future__ import annotations

import re
from pathlib import Path

from rigxl.criteria import Criteria
from rigxl.criteria.ready import READY
from rigxl.criteria.settings import SETTINGS
from rigxl.functions import FUNCTIONS
from rigxl.hardware import Kind, device, kinds
from rigxl.tables import FROM_MEMORY, Source

README = Path(__file__).parents[1] / "README.md"


def _row(*cells: str) -> str:
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |"


def _shown(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(map(str, value)) or "none"
    return f"{value:g}" if isinstance(value, float) else str(value or "today")


def settings() -> str:
    """Every setting, with its value in each ready set."""
    sets = [Criteria.ready(name) for name in READY]
    rows = [_row("setting", *READY, "meaning"), _row(*["---"] * (len(READY) + 2))]
    rows += [
        _row(one.name, *(_shown(ready.chosen[one.name].value) for ready in sets), one.meaning)
        for one in SETTINGS
    ]
    return "\n".join(rows)


def functions() -> str:
    """Every worksheet function, with its help and an example."""
    rows = [_row("function", "help", "example"), _row("---", "---", "---")]
    rows += [
        _row(f"`{one.signature}`", one.help, f"`{one.example_text}` = {one.answer}")
        for one in FUNCTIONS.values()
    ]
    return "\n".join(rows)


def hardware() -> str:
    """Every kind, what it may be called, what is checked of it by its own first line, and its tables."""
    rows = [_row("kind", "may be called", "what is checked of it", "published sizes"), _row(*["---"] * 4)]
    for name, kind in kinds().items():
        called = [word for word in kind.WORDS if word.replace("-", " ") != name][:3]
        tables = dict.fromkeys(f"{one.source.title}{_trust(one.source)}" for one in kind.TABLES)
        none = "none: the rating on the piece must be stated"
        rows.append(_row(name, ", ".join(called), _checked(kind), "; ".join(tables) or none))
    return "\n".join(rows)


def _checked(kind: Kind) -> str:
    summary = (kind.__doc__ or "").splitlines()[0].rstrip(".").partition(": ")[2]
    assert summary, f"the first line of {kind.KIND} says what is checked of it, after a colon"
    return f"{summary}; and as every device" if set(device.RULES) <= set(kind.RULES) else summary


def _trust(source: Source) -> str:
    return f" ({FROM_MEMORY})" if FROM_MEMORY in source.note else ""


PARTS = {"kinds": hardware, "settings": settings, "functions": functions}


def written(page: str) -> str:
    """The page with its generated parts as the code has them now."""
    for name, make in PARTS.items():
        part = f"<!-- {name} -->\n{make()}\n<!-- end of {name} -->"
        page, found = re.subn(
            rf"<!-- {name} -->(.*?<!-- end of {name} -->)?",
            lambda _, part=part: part,
            page,
            count=1,
            flags=re.S,
        )
        assert found == 1, f"README.md has no place for {name}"
    return page
