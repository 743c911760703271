"""The parts of README.md that come from the code."""

from __future__ import annotations

import re
from pathlib import Path

from rigxl.criteria import Criteria
from rigxl.criteria.ready import READY
from rigxl.criteria.settings import SETTINGS
from rigxl.functions import FUNCTIONS
from rigxl.hardware import kinds
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
    """Every kind, what it may be called, its rules, and the tables it has."""
    rows = [_row("kind", "also called", "what is checked of it", "published sizes"), _row(*["---"] * 4)]
    for name, kind in kinds().items():
        called = [word for word in kind.WORDS if word != name][:4]
        rules = [one.name for one in kind.RULES if not one.name.startswith("taken-as")]
        sources = dict.fromkeys(one.source.title + _trust(one.source) for one in kind.TABLES)
        rows.append(_row(name, ", ".join(called), ", ".join(rules), "; ".join(sources) or "none at hand"))
    return "\n".join(rows)


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
