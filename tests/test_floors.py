"""Each floor imports from the floors below it, never from above; the table here is the architecture."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "rigxl"

WORDS = {"errors", "units", "tables", "firm", "items", "worksheet"}
MAY_IMPORT = {
    "errors": set(),
    "units": {"errors"},
    "tables": {"errors", "units"},
    "firm": set(),
    "items": {"firm", "tables", "units"},
    "worksheet": {"tables"},
    "mechanics": WORDS,
    "criteria": WORDS,
    "hardware": WORDS | {"mechanics", "criteria"},
    "functions": WORDS | {"mechanics", "hardware"},
    "checks": WORDS | {"mechanics", "criteria", "hardware"},
    "opinion": WORDS | {"mechanics", "criteria", "checks"},
    "rules": WORDS | {"hardware", "checks", "opinion"},
    "workbook": {"errors"},
    "formulas": {"errors", "functions", "workbook"},
    "schedule": WORDS
    | {"mechanics", "criteria", "hardware", "checks", "opinion", "rules", "formulas", "workbook"},
    "templates": WORDS | {"mechanics", "criteria", "hardware", "checks", "rules", "schedule", "workbook"},
    "order": WORDS | {"criteria", "hardware", "checks", "schedule", "templates", "workbook"},
    "samples": WORDS | {"criteria", "schedule", "templates", "formulas", "workbook"},
    "hosts": WORDS | {"functions", "criteria", "schedule", "workbook"},
    "machines": WORDS | {"checks", "formulas", "rules", "schedule", "workbook"},
    "terminal": WORDS | {"machines", "functions", "formulas", "rules", "schedule", "order", "workbook"},
    "report": WORDS | {"mechanics", "criteria", "hardware", "checks", "workbook", "schedule"},
    "batch": WORDS | {"machines", "criteria", "schedule", "workbook", "terminal"},
    "changes": WORDS | {"criteria", "checks", "schedule", "templates", "terminal", "workbook", "batch"},
}
ANYTHING = {"cli", "commands", "__init__", "__main__"}


def rooms() -> dict[str, list[Path]]:
    """The modules of each room: a folder, or a file of its own."""
    found: dict[str, list[Path]] = {}
    for path in PACKAGE.rglob("*.py"):
        inside = path.relative_to(PACKAGE)
        found.setdefault(inside.parts[0].removesuffix(".py"), []).append(path)
    return found


def imported(path: Path) -> set[str]:
    """The rooms a module imports from, for running as for typing."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            assert node.level == 0, f"{path}: imports are written in full"
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return {name.split(".")[1] for name in names if name.startswith("rigxl.")} - {"__version__"}


def test_every_room_has_its_floor() -> None:
    """A new folder or file is given its place before it lands."""
    assert set(rooms()) == set(MAY_IMPORT) | ANYTHING


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_from_below(room: str) -> None:
    """Floor by floor."""
    for path in rooms()[room]:
        assert imported(path) <= MAY_IMPORT[room] | {room}, path


def test_kinds_do_not_know_each_other() -> None:
    """One file a kind; what they share has no KIND."""
    files = {path.stem: path.read_text(encoding="utf-8") for path in (PACKAGE / "hardware").glob("*.py")}
    kinds = {stem for stem, text in files.items() if "\nKIND = " in text}
    assert len(kinds) >= 5
    for kind in kinds:
        for other in kinds - {kind}:
            assert f"rigxl.hardware.{other} " not in files[kind], f"{kind} imports {other}"


def test_hosts_do_not_know_each_other() -> None:
    """One folder a program; what two of them share belongs to the registry."""
    homes = [path for path in (PACKAGE / "hosts").iterdir() if (path / "__init__.py").exists()]
    assert len(homes) >= 2
    for home in homes:
        text = "".join(path.read_text(encoding="utf-8") for path in home.rglob("*.py"))
        for other in homes:
            assert other == home or f"rigxl.hosts.{other.name}" not in text, f"{home.name} knows {other.name}"
