"""What is typed: lines, days, births, tags, forms, command lines, and what the environment says."""

from __future__ import annotations

from contextlib import suppress
from datetime import date
from functools import cache
from typing import Any

from hypothesis import strategies as st

from readiness.cli.parser import COMMANDS, built, parser
from readiness.entries.validate import validate
from readiness.forms.first import is_roster, pasted, tags_in, tags_words
from readiness.forms.forms import FORMS
from readiness.forms.typed import content_of, day_typed, problem_in
from readiness.shorthand import WRITABLE, Scales, read, words, write
from readiness.shorthand import lexicon as lex
from readiness.shorthand.complete import complete
from readiness.system.errors import DataError
from readiness.trade.births import is_when, read_birth
from readiness.trade.days import Reading, read_day
from readiness.trade.tags import match_tag, tag_and_name, tag_problem
from tests.crush.yard import Yard
from tests.entries.samples import FULL
from tests.hostile.attacks import TEXTS, bent_text, numbers, texts
from tests.hostile.readers import Reader
from tests.hostile.watch import Box, Ran

TODAY = date(2026, 4, 3)
SCALES = Scales("gb0-3", "five")
SAID = tuple(
    write([{**FULL[kind], **more}])
    for kind in sorted(WRITABLE & set(FULL))
    for more in ({}, {"note": 'said "so" [bold]x[/]; and more'})
)
LEXICON = (
    *lex.HEADS,
    *lex.FEET_HEADS,
    *lex.FEET_WORDS,
    *lex.BODY_PARTS,
    "no",
    "until",
    "3 may",
    ";",
    ",",
    '"',
    "2",
    "3.5",
)
DAYS = (
    "3 apr 2026", "2026-04-03", "14/3/22", "today", "fri 3 apr", "3rd of april 2026", "april 3, 2026", "20260403",
    "mar 2022", "2022", "3 years", "18 months", "3/2022", "1 jan 2021 to 3 mar 2021", "2026-04-03T10:05:00.5+01:00",
)  # fmt: skip
TAGS = (
    "UK 123456 700002",
    "00417",
    "XI 0 123456 0001 2",
    "982 000123456789",
    "UK 123456 700002 Sorrel",
    "r.csv",
)

line = st.one_of(
    st.sampled_from(SAID).flatmap(bent_text),
    st.lists(st.sampled_from((*LEXICON, *TEXTS)), max_size=10).map(" ".join),
    texts,
)
day = st.one_of(st.sampled_from(DAYS).flatmap(bent_text), texts)
tags = st.lists(st.sampled_from(TAGS).flatmap(bent_text) | texts, max_size=6)


def argument(text: str) -> str:
    """As a shell hands it over: it holds no NUL, and half a letter only as bytes that are no UTF-8."""
    return text.replace("\0", "").encode("utf-8", "replace").decode()


# ---- lines ---------------------------------------------------------------------------------------


def read_line(box: Box, text: str) -> Ran:
    """Read, said in words, written again; completed where it stands."""

    def said() -> str:
        complete(text, groups=("Heifers", "[bold]x[/]"), checks=("bvd",))
        contents = read(text, bull="00417", on=TODAY, by="sam", scales=SCALES)
        for content in contents:
            assert validate(content) == (content, []), content
        return " ".join(map(words, contents))

    return box.ask(said)


def log_line(box: Box, text: str) -> Ran:
    return box.run("log", "00417", argument(text), "--on", "2026-04-03")


def at_the_crush(box: Box, text: str) -> Ran:
    """Typed into the line of the bull in the crush, letter by letter, completed and saved."""

    def said() -> str:
        here = Yard()
        here.press("n", "l")
        for key in [*text[:40], "tab", "enter"]:
            here.press(key)
        typing = here.session.typing
        return f"{typing.asks} {typing.below} {typing.why}" if typing else ""

    return box.ask(said)


# ---- fields of forms -----------------------------------------------------------------------------

FIELDS = {id_: tuple(field.key for field in form.fields) for id_, form in FORMS.items()}


@st.composite
def a_form(draw: st.DrawFn) -> tuple[str, dict[str, str]]:
    id_ = draw(st.sampled_from(sorted(FORMS)))
    answer = st.one_of(
        day, texts, numbers.map(_number), st.sampled_from(("y", "2", "none", "eyes seen"))
    )
    return id_, draw(st.dictionaries(st.sampled_from(FIELDS[id_]), answer, max_size=4))


def _number(value: Any) -> str:
    return (
        str(value)
        if abs(value) < 10**300
        else f"{value:.6g}"
        if isinstance(value, float)
        else "9" * 400
    )


def fill_form(box: Box, case: tuple[str, dict[str, str]]) -> Ran:
    id_, answers = case

    def said() -> str:
        form = FORMS[id_]
        content = content_of(form, answers, TODAY)
        if form.kind and (problem := problem_in(form, content, TODAY)):
            raise problem
        return ""

    return box.ask(said)


def say_day(box: Box, text: str) -> Ran:
    def said() -> str:
        is_when(text)
        for read_one in (
            lambda: day_typed(text, TODAY, past=True),
            lambda: read_day(text, Reading(TODAY, "said")),
        ):
            read_or_refused(read_one)
        return day_typed(text, TODAY).isoformat()

    return box.ask(said)


def read_or_refused(read_one: Any) -> None:
    """Read, or refused as what people write is: anything else is a fault."""
    with suppress(DataError):
        read_one()


def say_birth(box: Box, text: str) -> Ran:
    return box.ask(lambda: read_birth(text, TODAY).words)


def paste_tags(box: Box, lines: list[str]) -> Ran:
    def said() -> str:
        text = pasted("\n".join(lines))
        is_roster(text)
        found = tags_in(text)
        for tag in found:
            tag_problem(tag), tag_and_name(tag), match_tag(tag, ("00417", "UK123456700002"))
        return tags_words(found)

    return box.ask(said)


# ---- command lines, environment ------------------------------------------------------------------

NEVER = {
    "demo",
    "screen",
    "restore",
    "salvage",
}  # they make files where they are told, or open a screen


@cache
def options() -> dict[str, tuple[str, ...]]:
    """Command → its options, and what it takes in their places."""
    return {
        name: tuple(option for action in each._actions for option in action.option_strings)
        for name, each in built(parser()).items()
    }


VALUES = (
    "00417",
    "Heifers",
    "2026-04-03",
    "3 apr",
    "bulls.duckdb",
    "farm.jsonl",
    "c.ics",
    "p.html",
    "-",
    "30",
    "walk 0",
    "SU",
)


@st.composite
def command_line(draw: st.DrawFn) -> list[str]:
    name = draw(st.sampled_from(sorted(set(COMMANDS) - NEVER)))
    word = st.one_of(
        st.sampled_from(options()[name]), st.sampled_from(VALUES), st.sampled_from(VALUES), texts
    )
    said = [name, *draw(st.lists(word, max_size=5))]
    if draw(st.integers(0, 9)) == 0:
        said = draw(st.permutations(said))
    return [argument(each) for each in said]


def run_line(box: Box, said: list[str]) -> Ran:
    """A command line with what it writes thrown away: files of such names stand in its folder."""
    ran = box.run(*said, "--seconds", "0") if said and said[0] == "visits" else box.run(*said)
    return ran


ENVIRONMENT = (
    "READINESS_BOOK", "READINESS_RULES", "READINESS_SETTINGS", "COLUMNS", "LINES", "TZ", "NO_COLOR", "TERM", "USER",
    "LOGNAME", "HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "LANG", "LC_ALL", "PYTHONIOENCODING",
)  # fmt: skip
OF_ENVIRONMENT = (
    "Europe/London", "Etc/GMT+14", "../../etc/passwd", ":/etc/passwd", "XXX-99:99", "UTC0", "AAA0BBB,M13.9.9", "0", "1",
    "-5", "80", "99999999999", "xterm", "dumb", "bulls.duckdb", "mine.toml", "work", "/dev/null", "/proc/self/environ", "/",
    "md:bulls", ":memory:", "https://example.invalid/b.duckdb", "s3://b/b", "postgres:dbname=x", "nobody", "root", "~x/b",
)  # fmt: skip


@st.composite
def environment(draw: st.DrawFn) -> dict[str, str]:
    value = st.one_of(st.sampled_from(OF_ENVIRONMENT), texts).map(argument)
    return draw(st.dictionaries(st.sampled_from(ENVIRONMENT), value, min_size=1, max_size=3))


def in_environment(box: Box, said: dict[str, str]) -> Ran:
    import time

    command = (("board",), ("bull", "00417"), ("log", "00417", "walk 1"), ("settings", "--json"))[
        len(str(said)) % 4
    ]
    try:
        ran = box.run(*command, env=said)
    finally:
        time.tzset()
    return ran


TYPED = (
    Reader("a line of shorthand", 7, line, read_line),
    Reader("log", 1, line, log_line),
    Reader("a line at the crush", 1.5, line, at_the_crush),
    Reader("forms' fields", 11, a_form(), fill_form, lambda case: max(len(case[1]), 1)),
    Reader("days typed", 8, day, say_day),
    Reader("births typed", 7, day, say_birth),
    Reader("tags pasted", 14.1, tags, paste_tags, lambda lines: max(len(lines), 1)),
    Reader("command lines", 2, command_line(), run_line),
    Reader("environment", 0.5, environment(), in_environment),
)
