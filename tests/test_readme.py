"""README and guide against the command line: what they show exists; what exists the guide shows."""

from __future__ import annotations

import argparse
import re
import shlex
from functools import cache
from pathlib import Path

import pytest

from readiness.cli.parser import COMMANDS, built, parser
from readiness.guide import TOPICS, contents

HOME = Path(__file__).parents[1]
README = (HOME / "README.md").read_text(encoding="utf-8")
PAPERS = {"README": README} | {topic.name: topic.text for topic in contents()}
GUIDE = "\n".join(topic.text for topic in contents())
ALL = "\n".join(PAPERS.values())
BLOCK = re.compile(r"^ {4}(readiness\b.*)$", re.MULTILINE)
INLINE = re.compile(r"`(readiness(?:\s[^`]+)?)`")
OPTION = re.compile(r"(?<![\w-])--[a-z][a-z-]*")
LINES = sorted({re.split(r"\s{2,}", line)[0] for line in BLOCK.findall(ALL)})
OF_GUIDE = [re.split(r"\s{2,}", line)[0] for line in BLOCK.findall(GUIDE)]
NAMED = sorted({" ".join(named.split()) for named in INLINE.findall(ALL)})


@cache
def commands() -> dict[str, argparse.ArgumentParser]:
    """Each command's parser with all its arguments; the whole program's under no name."""
    top = parser()
    return {"": top, **built(top)}


def of_command(line: str) -> str:
    """The command that a line gives, none where it opens the screens."""
    words = shlex.split(line)[1:]
    return words[0] if words and not words[0].startswith("-") else ""


def options(of: argparse.ArgumentParser) -> list[list[str]]:
    """The spellings of each option."""
    return [list(action.option_strings) for action in of._actions if action.option_strings]


def test_commands_are_found_in_readme_and_guide() -> None:
    assert len(LINES) > 30
    assert len(NAMED) > 5


@pytest.mark.parametrize("line", LINES)
def test_a_command_line_they_show_can_be_given(line: str) -> None:
    if line == "readiness --version":
        return
    given = parser().parse_args(shlex.split(line)[1:])
    assert given.command == (of_command(line) or "screen")
    if given.command == "guide":
        assert given.topic in {None, *TOPICS}


@pytest.mark.parametrize("line", NAMED)
def test_a_command_they_speak_of_exists(line: str) -> None:
    known = commands()[of_command(line)]
    assert set(OPTION.findall(line)) <= {name for names in options(known) for name in names}
    if (words := line.split())[1:2] == ["guide"]:
        assert set(words[2:]) <= {"TOPIC", *TOPICS}


@pytest.mark.parametrize("paper", PAPERS)
def test_an_option_it_speaks_of_exists(paper: str) -> None:
    known = {name for each in commands().values() for names in options(each) for name in names}
    of_others = {"README": {"--quiet"}, "reliability": {"--long", "--rows"}}  # pip's, the tests'
    assert set(OPTION.findall(PAPERS[paper])) - known == of_others.get(paper, set())


@pytest.mark.parametrize("command", COMMANDS)
def test_the_guide_shows_every_command(command: str) -> None:
    assert command in {of_command(line) for line in OF_GUIDE}


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_the_guide_shows_every_option_of(command: str) -> None:
    shown = {*OPTION.findall(GUIDE), "-h"}
    assert [names for names in options(commands()[command]) if not shown & set(names)] == []


def test_the_readme_stays_short_and_names_every_topic_of_the_guide() -> None:
    assert len(README.splitlines()) < 200
    told = README.split("## The guide")[1]
    assert {name for name in TOPICS if f"`{name}`" in told} == set(TOPICS)
