"""What shorthand can say, it reads back to the same entries."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from readiness.entries import models
from readiness.entries.columns import columns_of
from readiness.entries.validate import validate
from readiness.shorthand import WRITABLE, Scales, ShorthandError, read, words, write
from readiness.shorthand import lexicon as lex
from readiness.system.plain import plain
from tests.shorthand.contents import KINDS, ON, SCALES, any_contents, contents
from tests.volume import examples

DAY = date.fromisoformat(ON)
OTHER_SCALES = Scales("five1-5", "nine")


def read_back(text: str, by: str | None = None, scales: Scales = SCALES) -> list[dict[str, Any]]:
    return read(text, bull="00417", on=DAY, by=by, scales=scales)


def test_every_writable_kind_is_drawn() -> None:
    of_bull = {kind for kind, shape in models.KINDS.items() if "bull" in columns_of(shape)}
    assert set(KINDS) == WRITABLE == of_bull - {"bull"}


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_reads_back(kind: str) -> None:
    @settings(max_examples=examples(60), suppress_health_check=[HealthCheck.too_slow])
    @given(contents(kind))
    def reads_back(content: dict[str, Any]) -> None:
        text = write([content])
        assert read_back(text, scales=OTHER_SCALES) == [content]
        assert write(read_back(text)) == text

    reads_back()


@settings(max_examples=examples(100), suppress_health_check=[HealthCheck.too_slow])
@given(any_contents("R. Hale"))
def test_a_line_of_several_entries_reads_back(said: list[dict[str, Any]]) -> None:
    assert read_back(write(said), by="R. Hale", scales=OTHER_SCALES) == said
    assert read_back(write(said, SCALES), by="R. Hale") == said


@settings(max_examples=examples(60), suppress_health_check=[HealthCheck.too_slow])
@given(any_contents())
def test_case_is_free_outside_of_free_text(said: list[dict[str, Any]]) -> None:
    fixed = [
        {key: value for key, value in content.items() if key not in ("note", "examiner")}
        for content in said
        if content["kind"] not in ("treatment", "join", "check")
    ]
    if fixed:
        assert read_back(write(fixed).upper().replace(" ", "  ")) == fixed


LEXICON = (
    *lex.HEADS, *lex.FEET_HEADS, *lex.FEET_WORDS, *lex.ABOUT, *lex.LOOKS, *lex.BODY_PARTS,
    *lex.BODY_STATES, "no", "pain", "stands", "3 may", ";", "@", "/", ":", '"', "2", "3.5", "mm",
)  # fmt: skip


@settings(max_examples=examples(300))
@given(st.lists(st.sampled_from(LEXICON), max_size=8).map(" ".join) | st.text(max_size=30))
def test_any_line_is_read_or_refused(text: str) -> None:
    """Whatever is typed gives valid entries, or an error that says what to do."""
    try:
        said = read_back(text)
    except ShorthandError as error:
        assert error.why
        return
    assert said
    for content in said:
        assert validate(content) == (content, [])
        assert words(content)
    assert read_back(write(said)) == said


@settings(max_examples=examples(100))
@given(any_contents())
def test_every_content_has_words(said: list[dict[str, Any]]) -> None:
    for content in said:
        text = words(content)
        assert text.strip()
        assert plain(text) == text
