"""Every file made to break readers. ``python -m tests.workbook.hostile FOLDER`` writes them into a folder."""

from __future__ import annotations

import sys
from pathlib import Path

from tests.workbook import hostile_cells, hostile_files
from tests.workbook.forging import CASES, Case

__all__ = ["CASES", "Case", "hostile_cells", "hostile_files"]

if __name__ == "__main__":
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    for each in CASES:
        (folder / (each.name + each.suffix)).write_bytes(each.make())
