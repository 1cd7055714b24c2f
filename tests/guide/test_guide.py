"""The guide as a command: to be read in any terminal, in a pipe and by programs."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

import pytest

from readiness import guide
from readiness.cli.main import run
from readiness.guide import TOPICS, contents
from readiness.guide.paint import topic_text
from readiness.system.width import cells
from tests.promises import stated

MARKS = set("■□●→·")


def test_every_file_of_the_guide_is_offered() -> None:
    stored = Path(guide.__file__).parent.glob("topics/*.md")
    assert sorted(path.stem for path in stored) == sorted(TOPICS)


@pytest.mark.parametrize("topic", contents(), ids=lambda topic: topic.name)
def test_a_topic_begins_with_its_title_and_shows_in_any_terminal(topic: guide.Topic) -> None:
    assert topic.text.startswith(f"# {topic.title}\n\n")
    assert {char for char in topic.text if not char.isascii()} <= MARKS


@pytest.mark.parametrize("topic", contents(), ids=lambda topic: topic.name)
def test_no_line_is_wider_than_the_terminal_and_no_word_is_lost(topic: guide.Topic) -> None:
    for width in (60, 80, 120):
        laid = topic_text(topic.text, width, colour=False)
        assert max(map(cells, laid.splitlines())) <= width
    assert words(topic.text) == words(laid)


def words(text: str) -> Counter[str]:
    """How often each word is said."""
    return Counter(re.findall(r"\w+", re.sub(r"^```.*$", "", text.lower(), flags=re.MULTILINE)))


def test_what_is_typed_and_goes_on_in_the_next_line_stands_in_quotes_as_a_whole() -> None:
    text = "# T\n\nSay `normal\nsperm`, or `libido`.\n\n    a `b\n"
    shown = topic_text(text, 60, colour=False)
    assert "Say `normal sperm`, or `libido`." in " ".join(shown.split())
    assert "a `b" in shown and "``" not in shown


@pytest.mark.parametrize("topic", contents(), ids=lambda topic: topic.name)
def test_no_topic_shows_the_marks_round_what_is_typed_twice(topic: guide.Topic) -> None:
    assert "``" not in topic_text(topic.text, 80, colour=False)


def test_in_colour_what_is_typed_is_bold_and_without_in_quotes() -> None:
    text = "# Keys\n\nPress `u` twice.\n"
    assert topic_text(text, 60, colour=False) == "KEYS\n  Press `u` twice."
    assert "Press \x1b[1mu\x1b[0m twice." in topic_text(text, 60, colour=True)


def test_where_commands_do_not_fit_what_each_does_stands_beneath_it() -> None:
    text = """# It

    readiness undo        takes back what was
                          last written
    readiness board       who can go
"""
    assert "    readiness undo        takes back what was\n" in topic_text(text, 60, colour=False)
    assert topic_text(text, 40, colour=False).splitlines()[1:] == [
        "    readiness undo",
        "          takes back what was",
        "          last written",
        "    readiness board",
        "          who can go",
    ]


def test_without_a_topic_it_offers_all(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["guide"]) == 0
    told = capsys.readouterr().out
    assert all(f"  {each.name}" in told and each.title in told for each in contents())


def test_a_topic_that_is_not_there_is_answered_with_those_that_are(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(["guide", "Crsh"]) == 2
    told = capsys.readouterr()
    assert told.out == "" and "Did you mean crush?" in told.err
    assert all(name in told.err for name in TOPICS)


def test_a_word_that_is_no_topic_leads_to_those_that_tell_of_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(["guide", "Quarantine"]) == 2
    told = capsys.readouterr().err
    assert "It is told of in roster, rules, trust, glossary." in told
    assert run(["guide", "xyzzy"]) == 2
    assert "told of" not in capsys.readouterr().err


def test_programs_get_the_list_or_one_as_it_is_written(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(["guide", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told.keys() - {"format"} == stated.keys("`guide`")
    assert told["topics"] == [{"topic": each.name, "title": each.title} for each in contents()]
    assert run(["guide", "crush", "--json"]) == 0
    crush = guide.topic("crush")
    told = json.loads(capsys.readouterr().out)
    assert told == {"format": 1, "topic": "crush", "title": crush.title, "text": crush.text}
