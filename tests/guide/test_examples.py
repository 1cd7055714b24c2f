"""What the guide shows can be done as it shows it: keys, lines, files and rules."""

from __future__ import annotations

import re
from datetime import date
from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

from readiness.crush.keys import OWN
from readiness.entries.columns import columns_of
from readiness.entries.jsonl import read_jsonl
from readiness.entries.models import Bull, Group
from readiness.guide import contents, topic
from readiness.rules.load import load_rules, values_table
from readiness.settings.read import read_settings
from readiness.shorthand import Scales, read
from readiness.system.errors import DataError
from readiness.trade.births import read_birth
from readiness.trade.codes import CODES
from readiness.trade.days import Reading, read_day
from readiness.trade.feet import AS_HE_STANDS
from readiness.trade.scales import SCALES
from readiness.tui.shared.keymap import bindings_of, long_words
from tests.crush.pads import found, said, stands
from tests.promises.stated import exit_codes
from tests.test_readme import README

CODE = re.compile(r"`([^`]+)`")
KNOWN = stands(found("LH", "inner", "SU"), blocks=(("LH", "outer"),))
NAMES = {"Enter": "enter"}
_SHOWN = {
    "enter": "Enter",
    "escape": "Esc",
    "space": "Space",
    "slash": "/",
    "plus": "+",
    "minus": "-",
    "asterisk": "*",
}


def rows(name: str, first: str = "`") -> list[list[str]]:
    """The cells of each row of a topic's tables that begins so."""
    lines = re.findall(rf"^\| ({first}.*) \|$", topic(name).text, re.MULTILINE)
    return [line.split(" | ") for line in lines]


KEYS = [(CODE.findall(keys), line.strip("`")) for keys, _, line in
        (row for row in rows("crush") if len(row) == 3)]  # fmt: skip


@pytest.mark.parametrize(("keys", "line"), KEYS, ids=[" ".join(keys) for keys, _ in KEYS])
def test_keys_at_the_crush_say_the_line_that_stands_beside_them(keys: list[str], line: str) -> None:
    pressed = " ".join(NAMES.get(key, key) for key in " ".join(keys).split())
    assert said(pressed, KNOWN if "lh" in line else None) == line


def test_the_readmes_keys_are_the_guides() -> None:
    steps = README.split("six steps")[1].split("##")[0]
    told = {" ".join(keys) for keys, _ in KEYS}
    long = [keys for keys in CODE.findall(steps) if " " in keys]
    assert len(long) > 2
    assert all(any(keys in each for each in told) for keys in long)


def test_every_key_of_the_crush_itself_is_told() -> None:
    told = {key.lower() for row in rows("crush") if len(row) == 2 for key in CODE.findall(row[0])}
    assert {"esc" if key == "escape" else key for key in OWN} <= told


SCREENS = [
    import_module(f"readiness.tui.{name}.screen")
    for name in ("board", "bull", "diary", "figures", "cover", "turnout")
]
ARROWS = {"up", "down", "left", "right"}


@pytest.mark.parametrize("module", SCREENS, ids=lambda module: module.__name__.split(".")[2])
def test_what_the_line_of_keys_offers_on_a_screen_its_topic_tells(module: ModuleType) -> None:
    (screen,) = [
        each for each in vars(module).values()
        if getattr(each, "__module__", "") == module.__name__ and getattr(each, "TOPIC", "")
    ]  # fmt: skip
    text = topic(screen.TOPIC).text
    told = set(CODE.findall(text)) | (ARROWS if "arrows" in text.lower() else set())
    for binding in bindings_of(screen.BINDINGS):
        shown = {_SHOWN.get(key, key) for key in binding.key.split(",")}
        assert not binding.show or shown & told, f"{binding.key}: {long_words(binding)}"


LINES = [line for row in rows("shorthand") if len(row) == 2 for line in CODE.findall(row[0])]


@pytest.mark.parametrize("line", LINES)
def test_a_line_of_shorthand_that_it_shows_can_be_read(line: str) -> None:
    assert read(line, bull="00417", on=date(2026, 4, 3), by=None, scales=Scales("gb0-3", "five"))


TODAY = date(2026, 11, 28)


def test_days_and_births_are_read_as_it_says() -> None:
    (whole, _), (named, _), (short, meaning), (weekday, _), _, (far, _), *births = rows("days")
    days = [code for cell in (whole, named, short, weekday) for code in CODE.findall(cell)]
    assert {read_day(day, Reading(TODAY)) for day in days} == {date(2027, 1, 16)}
    with pytest.raises(DataError, match="two ways"):
        read_day(CODE.findall(meaning)[0], Reading(TODAY))
    far_off = [read_day(day, Reading(TODAY)) for day in CODE.findall(far)]
    assert far_off == [date(2027, 1, 23), date(2026, 11, 25)]
    told = [read_birth(CODE.findall(cell)[0], TODAY) for cell, _ in births]
    assert [birth.known for birth in told] == [True] + [False] * 6
    assert [birth.words for birth in told[:3]] == ["14 Mar 2022", "Mar 2022", "2022"]


def test_words_that_it_takes_for_others_are_taken_for_them() -> None:
    called = [*columns_of(Bull).values(), *columns_of(Group).values()]
    told = rows("days", "(?!for |a )[a-z]")
    for value, words in told:
        meant = {column.meant(word) for word in words.split(", ") for column in called}
        assert meant == {value, None}, value
    assert len(told) == 8


def test_every_code_of_a_finding_and_every_scale_is_told_as_it_is_named() -> None:
    told = [row for row in map(tuple, rows("shorthand", "")) if len(row) == 3]
    assert [row for row in told if row[0] in CODES] == [
        (code.code, code.name, code.claw) for code in CODES.values()
    ]
    assert [row for row in told if row[0].strip("`") in SCALES] == [
        (f"`{scale.id}`", scale.name, scale.range_words) for scale in SCALES.values()
    ]


def blocks(name: str, of: str) -> list[str]:
    return re.findall(rf"^```{of}\n(.*?)^```$", topic(name).text, re.MULTILINE | re.DOTALL)


def test_the_file_of_entries_that_it_shows_is_taken_in() -> None:
    (lines,) = blocks("entries", "json")
    reading = read_jsonl(lines.encode(), "shown")
    assert not reading.problems and len(reading.entries) == len(lines.splitlines())


def test_the_rules_that_it_shows_are_right(tmp_path: Path) -> None:
    (text,) = blocks("rules", "toml")
    path = tmp_path / "bulls.toml"
    path.write_text(text, encoding="utf-8")
    own = load_rules(path)
    assert own.farms.keys() == {"Low Sandwath"}
    assert {check.name for check in own.common.checks} == {"paperwork"}


def test_the_settings_that_it_shows_are_right(tmp_path: Path) -> None:
    (text,) = blocks("settings", "toml")
    path = tmp_path / "readiness.toml"
    path.write_text(text, encoding="utf-8")
    assert read_settings(path).keys["board"] == {"c": "f2"}


def test_every_rule_that_it_names_exists() -> None:
    known = {rule.id for rule in values_table(load_rules(None).common)}
    rooms = {rule.partition(".")[0] for rule in known}
    named = {
        word
        for each in contents()
        for word in CODE.findall(each.text)
        if re.fullmatch(r"[a-z]+\.[a-z_]+", word) and word.partition(".")[0] in rooms
    }
    assert named and named <= known


def test_every_exit_code_that_is_promised_is_told() -> None:
    told = {int(code) for code in re.findall(r"^\| (\d+) \|", topic("files").text, re.MULTILINE)}
    assert exit_codes() == told


def test_the_feet_are_seen_as_they_are_drawn() -> None:
    """It said that they are drawn as seen from below, where left and right change places."""
    words = " ".join(topic("bull").text.split())
    assert AS_HE_STANDS.removeprefix("Feet ") in words and "below" not in words


def test_a_turnout_that_it_shows_is_to_come_whenever_it_is_read() -> None:
    shown = [each.text for each in contents()] + [README]
    turnouts = re.findall(r"--turnout (\S+)", "\n".join(shown))
    assert turnouts and not [day for day in turnouts if re.match(r"\d{4}-", day)]
