"""Text in columns, whatever the letters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readiness.report.look import Look, can_show, wrapped
from readiness.system.width import cells


def test_cells_of_wide_and_combining_letters() -> None:
    assert [cells(text) for text in ("abc", "牛", "e\u0301", "É")] == [3, 2, 1, 1]


@given(st.text(), st.integers(1, 40), st.booleans(), st.booleans())
def test_fit_is_exactly_as_wide_as_asked(text: str, width: int, right: bool, marks: bool) -> None:
    fitted = Look(marks=marks).fit(text, width, right=right)
    assert cells(fitted) == width
    assert fitted.isprintable() or not fitted.isascii()


def test_fit_says_that_something_was_lost() -> None:
    assert Look().fit("Fenwick", 5) == "Fenw…"
    assert Look(marks=False).fit("Fenwick", 5) == "Fenw~"
    assert Look().fit("12", 4, right=True) == "  12"


@given(st.text(alphabet="ab 牛", max_size=200), st.integers(4, 40))
def test_wrapping_loses_no_word_and_runs_over_no_edge(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    if all(cells(word) <= width for word in text.split()):
        assert " ".join(lines).split() == text.split()
    assert all(cells(line) <= width for line in lines)


@pytest.mark.parametrize(
    ("encoding", "shows"),
    [("utf-8", True), ("ascii", False), ("latin-1", False), (None, False), ("no-such", False)],
)
def test_marks_only_where_the_stream_shows_them(encoding: str | None, shows: bool) -> None:
    assert can_show(encoding) is shows
