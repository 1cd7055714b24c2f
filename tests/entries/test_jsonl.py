"""Files of entries: what is taken as it comes, and what is refused with its line."""

from __future__ import annotations

import json

import pytest

from readiness.entries.jsonl import read_jsonl
from tests.entries.samples import FULL, ID, Sample, said

OTHER_ID = "0196a1f0-0000-7000-8000-000000000002"


def lines(*entries: Sample) -> bytes:
    return "".join(json.dumps(entry) + "\n" for entry in entries).encode()


def only_problem(data: bytes) -> tuple[int | None, str, str]:
    problems = read_jsonl(data, "crush.jsonl").problems
    assert len(problems) == 1
    return problems[0]


def test_every_kind_is_read_with_its_line() -> None:
    reading = read_jsonl(lines(*FULL.values()), "all.jsonl")
    assert reading.problems == []
    assert [entry.content for entry in reading.entries] == list(FULL.values())
    assert [entry.line for entry in reading.entries] == list(range(1, 18))


def test_byte_order_mark_crlf_and_blank_lines_are_taken_as_they_come() -> None:
    plain = read_jsonl(lines(FULL["weight"], FULL["join"]), "a")
    dressed = b"\xef\xbb\xbf\r\n" + lines(FULL["weight"], FULL["join"]).replace(b"\n", b"\r\n \n")
    reading = read_jsonl(dressed, "b")
    assert reading.problems == []
    assert [entry.id for entry in reading.entries] == [entry.id for entry in plain.entries]
    assert [entry.line for entry in reading.entries] == [2, 4]


@pytest.mark.parametrize("data", [b"", b"\n\r\n  \n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_a_problem(data: bytes) -> None:
    line, _, text = only_problem(data)
    assert line is None
    assert "crush.jsonl is empty" in text


@pytest.mark.parametrize(
    ("bad", "why"),
    [
        (b'{"kind": "weight", "on": "2026-04', "column 26: not JSON"),
        (b"not json", "column 1: not JSON"),
        (b"[1, 2]", "is not an object"),
        (b'"text"', "is not an object"),
        (b'{"kg": 1, "kg": 2}', 'key "kg" stands twice'),
        (b'{"a": {"b": 1, "b": 1}}', 'key "b" stands twice'),
        (b'{"kg": NaN}', "NaN is not a number"),
        (b'{"kg": -Infinity}', "-Infinity is not a number"),
        (b'{"kg": ' + b"9" * 5000 + b"}", "too many digits"),
        (b'{"a": ' + b"[" * 100_000, "nested too deeply"),
        (b'{"note": "' + b"x" * 1_000_001 + b'"}', "bytes long"),
        (b'{"note": "caf\xe9"}', "byte 14 (0xe9) is not UTF-8"),
        (b"\xff\xfe{\x00}\x00", "UTF-16"),
    ],
)
def test_a_line_that_is_no_entry_is_refused_with_its_line(bad: bytes, why: str) -> None:
    line, _, text = only_problem(lines(FULL["weight"]) + bad)
    assert line == 2
    assert why in text


@pytest.mark.parametrize("form", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_in_utf_16_is_one_problem_not_one_a_line(form: str) -> None:
    data = lines(*FULL.values()).decode().encode(form)
    assert only_problem(data) == (1, "", "the file is UTF-16; save it as UTF-8")


def test_a_file_that_is_no_text_is_one_problem() -> None:
    assert "not text" in only_problem(b"DUCK data \x00 and more\n" + b"\xff\n" * 50)[2]


def test_one_json_list_is_told_from_one_object_a_line() -> None:
    entries = ",\n".join(json.dumps(entry) for entry in FULL.values())
    assert "one JSON list" in only_problem(f"[\n{entries}\n]".encode())[2]


def test_lines_that_end_in_cr_alone_are_taken() -> None:
    data = lines(FULL["weight"], FULL["join"])
    reading = read_jsonl(data.replace(b"\n", b"\r"), "old.jsonl")
    assert [entry.line for entry in reading.entries] == [1, 2]
    assert reading.entries[0].id == read_jsonl(data, "new.jsonl").entries[0].id


@pytest.mark.parametrize(("key", "shown"), [("", '""'), ("k" * 5000, "k" * 40 + "…")])
def test_an_odd_key_is_named_and_cut_short(key: str, shown: str) -> None:
    _, field, text = only_problem(lines(FULL["weight"] | {key: 1}))
    assert field == shown and text.startswith("is not a key here")


def test_a_range_is_said_in_whole_numbers() -> None:
    assert "0 to 2147483647" in only_problem(lines(FULL["weight"] | {"position": -1}))[2]


@pytest.mark.parametrize("year", ["0001", "0999", "9999"])
def test_a_recording_outside_every_life_is_refused(year: str) -> None:
    """Such a year would not have four digits, and text order would not be time order."""
    recorded = f"{year}-06-01T00:00:00+00:00"
    assert only_problem(lines(FULL["weight"] | {"recorded": recorded}))[1] == "recorded"


def test_a_check_s_name_has_an_end() -> None:
    assert only_problem(lines(FULL["check"] | {"check": "x" * 121}))[1] == "check"


def test_a_wrong_field_is_refused_with_line_and_field() -> None:
    wrong = said("mobility", scale="gb0-3", score=4)
    line, field, text = only_problem(lines(FULL["weight"], wrong))
    assert (line, field) == (2, "score")
    assert "0 to 3" in text


@pytest.mark.parametrize(
    ("wrong", "field", "why"),
    [
        (said("vet-look", about="foot", foot="LF"), "outcome", "write one of fit, unfit, again"),
        (said("vet-look", about="foot", outcome="fit", part="eyes"), "part", "leave it out"),
        (said("body", part="eyes", state="bad"), "state", "write one of wrong, watch, right"),
        (said("body", part="eyes", state="wrong", limb="LF"), "limb", "leave it out"),
        (said("bull", origin="hired"), "arrived", "needs the day he arrived"),
        (said("moved", act="out", reason="lent"), "reason", "write one of sold, culled,"),
    ],
)
def test_a_look_part_or_hire_said_wrongly_is_refused_by_line_and_field(
    wrong: Sample, field: str, why: str
) -> None:
    line, told, text = only_problem(lines(FULL["weight"], FULL["body"], wrong))
    assert (line, told) == (3, field)
    assert why in text


@pytest.mark.parametrize("number", ["1e999", "-1e999", "1" + "0" * 400])
def test_a_number_beyond_every_float_is_refused(number: str) -> None:
    entry = b'{"kind":"weight","on":"2026-04-03","bull":"1","kg":%s}' % number.encode()
    line, field, _ = only_problem(entry)
    assert (line, field) == (1, "kg")


def test_the_wrong_file_altogether_gives_up_soon() -> None:
    problems = read_jsonl(bytes(range(128, 256)) * 10 + b"\n" + b"\x00\n" * 5000, "x").problems
    assert len(problems) == 101
    assert "too many problems" in problems[-1].text


def test_an_id_with_other_content_in_the_same_file_is_refused() -> None:
    first, other = FULL["weight"] | {"id": ID}, FULL["weight"] | {"id": ID, "kg": 5e2}
    line, field, text = only_problem(lines(first, other))
    assert (line, field) == (2, "id")
    assert "line 1" in text


def test_an_id_with_the_same_content_counts_once() -> None:
    reading = read_jsonl(lines(FULL["weight"] | {"id": ID}, FULL["weight"] | {"id": ID}), "x")
    assert reading.problems == []
    assert [(entry.id, entry.line) for entry in reading.entries] == [(ID, 1)]


def test_lines_without_id_get_one_from_their_text_and_count() -> None:
    """The same file read twice doubles nothing; the same line twice in a file is two entries."""
    data = lines(FULL["weight"], FULL["weight"], FULL["join"])
    ids = [entry.id for entry in read_jsonl(data, "a").entries]
    assert len(set(ids)) == 3
    assert [entry.id for entry in read_jsonl(data, "b").entries] == ids
    spaced = b"\n".join(json.dumps(FULL[k], indent=None).encode() for k in ("join", "weight"))
    assert [entry.id for entry in read_jsonl(spaced, "c").entries] == [ids[2], ids[0]]


def test_an_export_s_receipt_is_taken_over() -> None:
    receipt = {
        "recorded": "2026-04-03T10:44:00.25+01:00",
        "position": 2,
        "batch": "b1",
        "device": "shed",
    }
    (entry,) = read_jsonl(lines(FULL["weight"] | {"id": ID} | receipt), "x").entries
    assert entry.content == FULL["weight"]
    assert (entry.id, entry.recorded) == (ID, "2026-04-03T09:44:00.250000Z")
    assert (entry.position, entry.batch, entry.device) == (2, "b1", "shed")
