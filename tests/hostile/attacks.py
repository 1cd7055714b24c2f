"""Hostile pieces, and valid input with such pieces put into it at a place that means something."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st

TEXTS = (
    "", " ", "\t", "[bold]x[/]", "[@click=app.quit]x[/]", "[/nothing] [[ ] \\[", "$accent %s {0} {{7*7}}",
    "\x1b[2J\x1b]0;owned\x07", "\x1b]8;;http://example.invalid\x1b\\x\x1b]8;;\x1b\\", "\x9b31m\x90q\x9c",
    "\x00", "a\x00b", "\u202egnorw\u2066", "a\u200bb\u00ad\ufeff", "\ud800", "\U000e0041", "e\u0301" * 40,
    "🐂👨\u200d👩\u200d👧", "שור גדול", "牛" * 30, "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>",
    "&lt;b&gt;", "'; DROP TABLE entry; --", "x' UNION SELECT * FROM read_csv('/etc/passwd') --",
    "'); COPY (SELECT 1) TO '../outside/sql'; --", "../../outside/x", "/etc/passwd", "~/x", "..", ".", "a/b\\c",
    "CON", "-", "--", "--help", "-0", "$(touch ../outside/x)", "`touch ../outside/x`", "${HOME}", "=1+1", "@SUM(A1)",
    '="00417"', "'00417", "nan", "inf", "1e999", "-1e999", "1e-999", "0x10", "1_000", "９９", "٣", "²", "9" * 400,
    "1." + "1" * 400, "1/0", "2026-02-30", "29 feb 2027", "0000-00-00", "9999-12-31", "9999-12-31T23:59:59Z",
    "1 apr 99999", "3/4/22", "mar 2022", "-3 years", "999 years", "today", "tomorrow", "none", "null", "true",
    "00417", "417", "BO" * 61, "x" * 300, "x" * 5000, "a b " * 300, ";" * 50, '"', '""', '"' * 51, "a\nb\r\nc\u2028d",
    "BEGIN:VEVENT\r\nEND:VCALENDAR", "\\n\\,\\;", "kind", "__proto__", "constructor", "id", "UK 123456 700002",
)  # fmt: skip

texts = st.one_of(
    st.sampled_from(TEXTS),
    st.text(max_size=20),
    st.lists(st.sampled_from(TEXTS), min_size=2, max_size=3).map("".join),
)
numbers: st.SearchStrategy[Any] = st.one_of(
    st.integers(-3, 400), st.integers(), st.sampled_from([10**30, -(10**30), 2**63, 2**53 + 1, 10**400]),
    st.floats(), st.sampled_from([1e308, 5e-324, -0.0, 0.1 + 0.2, 3.25]),
)  # fmt: skip
values: st.SearchStrategy[Any] = st.recursive(
    st.none() | st.booleans() | numbers | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=6,
)
CODINGS = (
    "utf-8", "utf-8", "utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "latin-1",
    "cp437", "utf-7", "shift-jis", "koi8-r", "cp037",
)  # fmt: skip
encoded = st.integers(0, 7).flatmap(
    lambda n: st.sampled_from(CODINGS) if n == 7 else st.just("utf-8")
)


def as_bytes(text: str, coding: str) -> bytes:
    """In this coding, half a letter and all where it can hold it."""
    wrong = "surrogatepass" if coding.startswith("utf-") and coding != "utf-7" else "replace"
    return text.encode(coding, wrong)


# ---- one piece of something valid exchanged ------------------------------------------------------


@st.composite
def bent_object(draw: st.DrawFn, valid: dict[str, Any]) -> dict[str, Any]:
    """An object with one or two of its values, or keys, made something else."""
    made: dict[str, Any] = json.loads(json.dumps(valid))
    for _ in range(draw(st.integers(0, 2))):
        place: Any = made
        while True:
            keys = list(place) if isinstance(place, dict) else range(len(place))
            if not keys:
                break
            key = draw(st.sampled_from(keys))
            if isinstance(place[key], dict | list) and draw(st.booleans()):
                place = place[key]
                continue
            how = draw(st.integers(0, 5))
            if how == 0 and isinstance(place, dict):
                del place[key]
            elif how == 1 and isinstance(place, dict):
                place[draw(texts)] = place.pop(key)
            elif how == 2:
                place[key] = [place[key]] * draw(st.integers(0, 40))
            else:
                place[key] = draw(values)
            break
    return made


@st.composite
def bent_text(draw: st.DrawFn, valid: str) -> str:
    """A text with a piece taken out, put in, said twice, or another in its place."""
    for _ in range(draw(st.integers(0, 2))):
        first, last = sorted(draw(st.tuples(*[st.integers(0, len(valid))] * 2)))
        how, middle = draw(st.integers(0, 3)), valid[first : min(last, first + 12)]
        new = ("", draw(texts), middle * 2, draw(texts) + middle)[how]
        valid = valid[:first] + new + valid[first + len(middle) :]
    return valid


@st.composite
def bent_bytes(draw: st.DrawFn, valid: bytes) -> bytes:
    """Bytes cut off, flipped, put in or doubled, or left as they are."""
    made = bytearray(valid)
    for _ in range(draw(st.sampled_from((0, 0, 0, 1, 2)))):
        at = draw(st.integers(0, len(made)))
        match draw(st.integers(0, 3)):
            case 0:
                del made[at:]
            case 1:
                made[at : at + 1] = bytes([draw(st.integers(0, 255))])
            case 2:
                made[at:at] = draw(st.binary(max_size=6))
            case _:
                made[at:at] = made[at : at + 40]
    return bytes(made)


@st.composite
def bent_grid(draw: st.DrawFn, head: Sequence[object], rows: Sequence[Sequence[object]],
              cells: st.SearchStrategy[Any]) -> list[list[Any]]:  # fmt: skip
    """A table with some cells, a heading, or the width of a row made something else."""
    made = [
        list(head),
        *(list(row) for row in draw(st.lists(st.sampled_from(rows), max_size=12, unique_by=id))),
    ]
    for _ in range(draw(st.sampled_from((0, 1, 1, 1, 2, 3)))):
        row = draw(st.sampled_from(made))
        at = draw(st.integers(0, len(row)))
        row[at : at + draw(st.sampled_from((0, 1, 1, 1, 1)))] = draw(
            st.lists(cells, min_size=0 if at < len(row) else 1, max_size=2)
            if draw(st.integers(0, 4)) == 0
            else cells.map(lambda cell: [cell])
        )
    if draw(st.integers(0, 9)) == 0:
        made = draw(st.permutations(made))
    return made
