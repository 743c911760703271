"""``python -m tests.regenerate``: write again all that is kept in the tree but made by code."""

from __future__ import annotations

from pathlib import Path

from rigxl.samples import write_all
from rigxl.templates import write_blank
from tests.readme import README, written

ROOT = Path(__file__).parents[1]


def main() -> None:
    """README's generated parts, the blank schedule, the sample workbooks."""
    README.write_text(written(README.read_text(encoding="utf-8")), encoding="utf-8")
    write_blank(ROOT / "templates" / "rigging-schedule.xlsx")
    write_all(ROOT / "sample_workbooks")


if __name__ == "__main__":
    main()
