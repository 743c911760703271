"""README.md says what the code does: its examples run, its generated parts are fresh, its files are there."""

from __future__ import annotations

import doctest
import re
import shlex
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from rigxl.cli import main
from tests.readme import README, written

PAGE = README.read_text(encoding="utf-8")
CONSOLE = [
    (command, answer)
    for block in re.findall(r"```console\n(.*?)```", PAGE, re.S)
    for command, answer in re.findall(r"^\$ (.+)\n((?:(?!\$ ).*\n)*)", block, re.M)
]


def test_generated_parts_are_fresh() -> None:
    """If this fails: python -m tests.regenerate"""
    assert written(PAGE) == PAGE


@pytest.mark.parametrize(("command", "answer"), CONSOLE, ids=[command for command, _ in CONSOLE])
def test_console_examples(command: str, answer: str) -> None:
    """What is typed, and exactly what is printed."""
    program, *arguments = shlex.split(command)
    assert program == "rigxl"
    assert CliRunner().invoke(main, arguments).stdout == answer


def test_python_examples(monkeypatch: pytest.MonkeyPatch) -> None:
    """Run from the project's root, as a reader would."""
    monkeypatch.chdir(README.parent)
    failed, tried = doctest.testfile(str(README), module_relative=False, optionflags=doctest.ELLIPSIS)
    assert tried > 2
    assert failed == 0


def test_every_command_is_mentioned() -> None:
    """With its name as it is typed."""
    assert isinstance(main, click.Group)
    for name in main.list_commands(click.Context(main)):
        assert f"rigxl {name}" in PAGE, name


def test_linked_files_are_there() -> None:
    """And the sample of the first command."""
    named = re.findall(r"\]\((\S+?)\)", PAGE) + re.findall(r"sample_workbooks/\S+?\.xlsx", PAGE)
    for name in named:
        if not name.startswith(("http", "#")):
            assert (README.parent / name).exists(), name


def test_links_within_the_page_lead_somewhere() -> None:
    """To a heading, spelt as its anchor is."""
    headings = re.findall(r"^#+ (.+)$", PAGE, re.M)
    anchors = {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}
    named = re.findall(r"\]\(#([^)]+)\)", PAGE)
    assert len(named) > 10
    assert set(named) <= anchors


def test_the_build_runs_the_test_command() -> None:
    """.ci/run takes it from the page."""
    command = re.search(r"<!-- test command -->\s*```sh\n(.+?)\n```", PAGE, re.S)
    assert command is not None
    assert "pytest" in command[1]
    assert "test command" in (Path(README.parent) / ".ci" / "run").read_text(encoding="utf-8")
