"""The one form of an entry's content, whatever way it was written."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readiness.entries.ids import canonical
from readiness.entries.validate import validate
from readiness.system.plain import plain
from tests.entries.samples import FULL, Sample, feet, said


def content_of(entry: Sample) -> Sample:
    content, problems = validate(entry)
    assert problems == []
    assert content is not None
    return content


def test_a_number_has_one_form() -> None:
    whole = content_of(said("condition", scale="five", score=3.0))["score"]
    assert (whole, type(whole)) == (3, int)
    assert canonical(content_of(said("weight", kg=980.0))) == canonical(
        content_of(said("weight", kg=980))
    )


def test_what_says_nothing_is_left_out() -> None:
    entry = said("weight", kg=900) | {"note": "", "by": None}
    assert content_of(entry) == said("weight", kg=900)
    farm = {**FULL["group"], "farm": None, "weeks": ""}
    assert "farm" not in content_of(farm) and "weeks" not in content_of(farm)
    assert content_of(feet(findings=[], refused=[], note="\u0007")) == feet()
    finding = {"foot": "LF", "claw": "outer", "code": "SU"}
    assert content_of(feet(findings=[finding | {"zone": None}])) == feet(findings=[finding])


def test_empty_stays_where_it_means_something() -> None:
    out = said("join") | {"group": None}
    assert content_of(out) == out
    taken = {**FULL["group"], "weeks": None, "females": None, "class": None}
    assert content_of(taken) == taken
    none_up = feet(lifted=[], refused=["LF"])
    assert content_of(none_up) == none_up


def test_no_is_not_the_same_as_nothing_said() -> None:
    assert content_of(FULL["bull"])["heifer_safe"] is False
    assert content_of(FULL["incident"])["fever"] is False


def test_lists_keep_their_order() -> None:
    order = ["RH", "LF", "LH"]
    assert content_of(feet(lifted=order))["lifted"] == order


def test_text_is_plain_and_of_one_form() -> None:
    entry = said("weight", kg=900, bull=" 00\x1b417 ", note="Cafe\u0301\tred\u202e\n\x00ok ")
    assert content_of(entry) == said("weight", kg=900, bull="00417", note="Café red ok")


@pytest.mark.parametrize(
    "hostile",
    ["[red]Corran[/red]", "=1+1", "<b>", '"; DROP', "%s{0}", "\ud800x", "x" * 100, "👨‍🌾", "ボブ"],
)
def test_hostile_text_is_kept_as_plain_text(hostile: str) -> None:
    name = content_of(said("bull", name=hostile))["name"]
    assert name == plain(hostile)
    name.encode("utf-8")


@given(st.text())
def test_plain_text_has_no_controls_and_is_stable(text: str) -> None:
    made = plain(text)
    assert plain(made) == made
    assert not any(ord(c) < 32 or 127 <= ord(c) < 160 or c in "\u202a\u202e\u2066" for c in made)


@pytest.mark.parametrize("kind", FULL)
def test_validating_twice_changes_nothing(kind: str) -> None:
    once = content_of(FULL[kind])
    assert content_of(once) == once
    assert content_of(json.loads(canonical(once))) == once


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=8,
)


@given(st.sampled_from(sorted(FULL)), st.data())
def test_any_value_anywhere_is_taken_in_or_refused_with_its_field(
    kind: str, data: st.DataObject
) -> None:
    key = data.draw(st.sampled_from(sorted(FULL[kind])))
    content, problems = validate(FULL[kind] | {key: data.draw(JUNK)})
    assert (content is None) == bool(problems)
    assert all(problem.field and problem.text for problem in problems)
