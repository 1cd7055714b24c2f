"""The README against the command line: what it shows exists, and what exists it shows."""

from __future__ import annotations

import argparse
import re
import shlex
from functools import cache
from pathlib import Path

import pytest

from readiness.cli.parser import COMMANDS, parser

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"^ {4}(readiness\b.*)$", re.MULTILINE)
INLINE = re.compile(r"`(readiness(?:\s[^`]+)?)`")
OPTION = re.compile(r"(?<![\w-])--[a-z][a-z-]*")
LINES = [re.split(r"\s{2,}", line)[0] for line in BLOCK.findall(README)]
NAMED = INLINE.findall(README)


@cache
def commands() -> dict[str, argparse.ArgumentParser]:
    """Each command's parser with all its arguments; the whole program's under no name."""
    top = parser()
    [subs] = [a for a in top._actions if isinstance(a, argparse._SubParsersAction)]
    made: dict[str, argparse.ArgumentParser] = {"": top}
    for name, sub in subs.choices.items():
        sub.build()
        made[name] = sub
    return made


def of_command(line: str) -> str:
    """The command that a line gives, none where it opens the screens."""
    words = shlex.split(line)[1:]
    return words[0] if words and not words[0].startswith("-") else ""


def options(of: argparse.ArgumentParser) -> list[list[str]]:
    """The spellings of each option."""
    return [list(action.option_strings) for action in of._actions if action.option_strings]


def test_commands_are_found_in_the_readme() -> None:
    assert len(LINES) > 30
    assert len(NAMED) > 5


@pytest.mark.parametrize("line", LINES)
def test_a_command_line_it_shows_can_be_given(line: str) -> None:
    given = parser().parse_args(shlex.split(line)[1:])
    assert given.command == (of_command(line) or "screen")


@pytest.mark.parametrize("line", NAMED)
def test_a_command_it_speaks_of_exists(line: str) -> None:
    known = commands()[of_command(line)]
    assert set(OPTION.findall(line)) <= {name for names in options(known) for name in names}


def test_an_option_it_speaks_of_exists() -> None:
    """``pip`` is given --quiet."""
    known = {name for each in commands().values() for names in options(each) for name in names}
    assert set(OPTION.findall(README)) - known == {"--quiet"}


@pytest.mark.parametrize("command", COMMANDS)
def test_it_shows_every_command(command: str) -> None:
    shown = {of_command(line) for line in LINES}
    assert command in shown | ({"demo"} if "bin/readiness demo" in README else set())


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_it_shows_every_option_of(command: str) -> None:
    shown = {*OPTION.findall(README), "-h"}
    assert [names for names in options(commands()[command]) if not shown & set(names)] == []
