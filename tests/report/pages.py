"""Reports as tests look at them: what elements a page has, and what they fetch."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from rigxl.report.page import page
from rigxl.schedule.check import Checked, check_workbook
from rigxl.workbook.guard import Limits
from rigxl.workbook.pictures import pictures

FOLDER = Path(__file__).parents[2] / "sample_workbooks"
TODAY = dt.date(2026, 11, 25)


def sample(name: str) -> Checked:
    return check_workbook(FOLDER / f"{name}.xlsx", today=TODAY)


def report(checked: Checked, **options: Any) -> str:
    """The page on a workbook, with the pictures that are in it."""
    found = pictures(checked.book.path, checked.book.sha256, Limits())
    return page(checked, found, today=TODAY, **options)


class Read(HTMLParser):
    """Every element of a page with its attributes, and the text outside styles."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self._style = False
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        self._style = tag == "style"

    def handle_endtag(self, _: str) -> None:
        self._style = False

    def handle_data(self, data: str) -> None:
        if not self._style:
            self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())

    def values(self, *names: str) -> list[str]:
        """The values of some attributes, wherever they stand."""
        return [given[name] or "" for _, given in self.elements for name in names if name in given]
