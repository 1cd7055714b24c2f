"""Bad input: the exit code that says so, one paragraph on stderr, and the book unchanged."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Ran, Run
from tests.cli.small_book import DAY, LAME, bull, went_out, write

WALK = {"kind": "mobility", "on": "2026-04-02", "bull": "00288", "scale": "gb0-3", "score": 0}


def refused(ran: Ran, code: int, *said: str) -> None:
    """One paragraph that names what and where, and nothing on stdout."""
    assert ran.code == code, (ran.code, ran.err)
    assert ran.out == ""
    assert ran.err.startswith("readiness: ")
    assert ran.err.count("\n") == 1
    assert "Traceback" not in ran.err
    for words in said:
        assert words in ran.err


@pytest.fixture
def unchanged(run: Run, book: Path) -> Run:
    """``run``, that afterwards checks that the book holds what it held."""
    before = run("verify", "--json").json()["counts"]

    def ran(*arguments: object) -> Ran:
        result = run(*arguments)
        assert run("verify", "--json").json()["counts"] == before
        return result

    return ran


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "line 1"),
        (b"bull,name\n00288,Rowan\n", "line 1"),
        ((json.dumps(WALK) + "\n").encode("utf-16"), "UTF-16"),
        (json.dumps({**WALK, "note": "caf\u00e9"}, ensure_ascii=False).encode("latin-1"), "UTF-8"),
        ((json.dumps(WALK) + "\n").encode() + b'{"kind": "mobility", "on": "20', "line 2"),
        (json.dumps({**WALK, "on": "31/02/2026"}).encode(), "line 1, on"),
        (json.dumps({**WALK, "on": "2026-02-31"}).encode(), "line 1, on"),
        (json.dumps({**WALK, "score": 4}).encode(), "line 1, score"),
        (json.dumps({**WALK, "scale": "five1-5"}).encode(), "line 1, score"),
        (json.dumps({**WALK, "bull": "99999"}).encode(), "line 1, bull"),
        (json.dumps({**WALK, "kind": "mobilty"}).encode(), "line 1, kind"),
        (json.dumps({**WALK, "colour": "red"}).encode(), "line 1, colour"),
        (json.dumps({"kind": "join", "on": DAY, "bull": "00288", "group": "Nobody's"}).encode(),
         "line 1, group"),
        (json.dumps({"kind": "mobility", "on": DAY, "bull": "00288", "scale": "gb0-3", "score": 0,
                     "id": LAME}).encode(), "line 1, id"),
    ],
)  # fmt: skip
def test_a_file_that_is_wrong_is_refused_whole(
    unchanged: Run, tmp_path: Path, data: bytes, said: str
) -> None:
    path = tmp_path / "wrong.jsonl"
    path.write_bytes(data)
    refused(unchanged("import", path), 65, said)
    refused(unchanged("import", "--check", path), 65, said)


def strike_of(entry: str, **more: str) -> dict[str, str]:
    return {"kind": "strike", "on": DAY, "entry": entry, **more}


def test_a_strike_of_a_strike_is_refused_with_its_line(unchanged: Run, tmp_path: Path) -> None:
    one, other = (f"0195f2a0-0000-7000-8000-00000000000{n}" for n in (1, 2))
    for lines in (
        [strike_of(LAME, id=one), strike_of(one, id=other)],
        [strike_of(LAME, id=one), strike_of(other, id=other)],
    ):
        path = write(tmp_path / "strikes.jsonl", lines)
        for options in ([], ["--check"]):
            refused(unchanged("import", path, *options), 65, "line 2, entry", "stays itself")


def test_a_hint_at_the_end_of_a_refusal_is_a_whole_sentence(unchanged: Run, tmp_path: Path) -> None:
    path = write(tmp_path / "wrong.jsonl", [{**WALK, "limb": "lf"}])
    refused(unchanged("import", path), 65, "did you mean LF? Nothing was written")


def test_hints_among_several_problems_carry_no_second_mark(unchanged: Run, tmp_path: Path) -> None:
    wrong = {**WALK, "limb": "lf"}
    path = write(tmp_path / "wrong.jsonl", [wrong, {**WALK, "score": 9}, wrong])
    ran = unchanged("import", path)
    refused(ran, 65, "did you mean LF? line 2, score: 9", "whole numbers; line 3, limb:")
    refused(ran, 65, "did you mean LF? Nothing was written")
    many = unchanged("import", write(tmp_path / "many.jsonl", [wrong] * 9))
    refused(many, 65, "did you mean LF? and 1 more. Nothing was written")


def test_a_device_without_end_is_not_read(unchanged: Run) -> None:
    refused(unchanged("import", "/dev/zero"), 65, "/dev/zero", "a device")
    refused(unchanged("rules", "--check", "/dev/zero"), 78, "/dev/zero", "a device")


def test_a_byte_order_mark_and_crlf_are_taken_as_they_come(run: Run, book: Path) -> None:
    path = book.with_name("windows.jsonl")
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps({**WALK, "on": DAY}).encode() + b"\r\n")
    assert len(run("import", "--json", path).json()["written"]) == 1


def test_one_wrong_line_keeps_all_the_others_out(unchanged: Run, tmp_path: Path) -> None:
    path = write(tmp_path / "half.jsonl", [WALK, {**WALK, "score": 9}, {**WALK, "bull": ""}])
    refused(unchanged("import", path), 65, "half.jsonl", "line 2, score", "line 3, bull")


def test_any_other_kind_of_file_is_refused(unchanged: Run, tmp_path: Path) -> None:
    path = tmp_path / "bulls.pdf"
    path.write_text("bull,name\n00288,Rowan\n", encoding="utf-8")
    refused(unchanged("import", path), 65, "only .jsonl", ".csv and .xlsx")


def test_a_file_that_is_not_there(unchanged: Run, tmp_path: Path) -> None:
    refused(unchanged("import", tmp_path / "nothing.jsonl"), 66, "nothing.jsonl")


def test_a_folder_is_no_file(unchanged: Run, tmp_path: Path) -> None:
    refused(unchanged("import", tmp_path), 65, "folder")


def test_a_file_that_cannot_be_read(unchanged: Run) -> None:
    """The process's own memory: there, and nobody may read it from its beginning."""
    refused(unchanged("import", "/proc/self/mem"), 66, "cannot be read")


@pytest.mark.parametrize("command", [("bull",), ("log",)])
def test_a_bull_that_is_not_booked(unchanged: Run, command: tuple[str, ...]) -> None:
    refused(unchanged(*command, "99999", *(["all ok"] if command == ("log",) else [])), 66, "99999")


def test_no_tag_at_all(unchanged: Run) -> None:
    refused(unchanged("bull", " "), 66, "No tag is given")


def test_two_bulls_that_end_alike_are_never_guessed_between(run: Run, book: Path) -> None:
    twin = write(book.with_name("twin.jsonl"), bull("UK 123457 600417", "Corran's brother"))
    assert run("import", twin).code == 0
    refused(run("bull", "417"), 66, "UK 123450 600417", "UK 123457 600417")
    assert run("bull", "UK123450600417", "--on", DAY).code == 0


@pytest.mark.parametrize(
    "arguments",
    [
        ("board", "--on", "31/02"),
        ("board", "--on", "2026-02-31"),
        ("board", "--turnout", "soon"),
        ("board", "--turnout", "3/4/27"),
        ("board", "--on", "3 apr 1492"),
        ("board", "--known", "once"),
        ("board", "--json", "--csv"),
        ("board", "--jsn"),
        ("diary", "--days", "-1"),
        ("diary", "--days", "many"),
        ("group", "Late"),
        ("group", "Late", "--turnout", "2026-05-01", "--class", "sheep"),
        ("log", "00288"),
        ("import",),
        ("strike",),
        ("nonsense",),
        ("sheet", "--farn", "Low Sand"),
        ("--book",),
    ],
)
def test_a_wrong_command_line(unchanged: Run, arguments: tuple[str, ...]) -> None:
    refused(unchanged(*arguments), 2, "--help")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("lf q", "lf q"),
        ("walk 4", "walk"),
        ("cond 6", "cond"),
        ("walk 1; lf o su/4", "part 2"),
        ("join Nobodys", "group"),
    ],
)
def test_shorthand_that_cannot_be_read(unchanged: Run, text: str, said: str) -> None:
    refused(unchanged("log", "00288", text), 65, said)


def test_values_out_of_range_on_the_command_line(unchanged: Run) -> None:
    refused(unchanged("group", "Late", "--turnout", "2026-05-01", "--weeks", "5000"), 65, "weeks")


@pytest.mark.parametrize("command", ["board", "diary", "undo", "verify", "backup"])
def test_no_book_yet(run: Run, tmp_path: Path, command: str) -> None:
    refused(run(command), 66, str(tmp_path / "bulls.duckdb"))
    assert not (tmp_path / "bulls.duckdb").exists()


@pytest.mark.parametrize("arguments", [("bull", "1"), ("log", "1", "all ok"), ("board",)])
def test_no_book_yet_says_how_to_begin(run: Run, arguments: tuple[str, ...]) -> None:
    refused(run(*arguments), 66, "readiness import", "readiness demo")


def test_a_wrong_first_import_leaves_no_book(run: Run, tmp_path: Path) -> None:
    refused(run("import", write(tmp_path / "walk.jsonl", [WALK])), 65, "line 1, bull")
    assert not (tmp_path / "bulls.duckdb").exists()


@pytest.mark.parametrize("command", [("board",), ("import", "farm.jsonl"), ("verify",)])
@pytest.mark.parametrize("content", [b"", b"not a book", b"SQLite format 3\x00" + bytes(5000)])
def test_a_book_that_is_no_book(
    run: Run,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    command: tuple[str, ...],
    content: bytes,
) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "farm.jsonl")
    other = tmp_path / "other.duckdb"
    other.write_bytes(content)
    ran = run(*command, "--book", other)
    refused(ran, 65, "other.duckdb")
    assert other.read_bytes() == content


def test_a_folder_is_no_book(run: Run, tmp_path: Path) -> None:
    refused(run("board", "--book", tmp_path), 65, "folder")


@pytest.mark.parametrize("place", ["/sys/bulls.duckdb", "/proc/version/bulls.duckdb"])
def test_a_place_where_no_book_can_be_written(run: Run, tmp_path: Path, place: str) -> None:
    refused(run("import", write(tmp_path / "farm.jsonl"), "--book", place), 73, place[:5])


def test_a_folder_that_takes_no_file_is_not_a_book_that_is_missing(
    unchanged: Run, book: Path
) -> None:
    """``/proc`` is a folder in which nothing can be made, whoever asks."""
    refused(unchanged("backup", "/proc/b.duckdb"), 73, "/proc/b.duckdb", "Name another place")
    refused(unchanged("demo", "--book", "/proc/b.duckdb"), 73, "/proc/b.toml")
    refused(unchanged("restore", book, "--book", "/proc/b.duckdb"), 73, "/proc/b.duckdb")


def test_a_link_to_nowhere_is_called_so(run: Run, tmp_path: Path) -> None:
    (tmp_path / "bulls.duckdb").symlink_to(tmp_path / "moved away")
    farm = write(tmp_path / "farm.jsonl")
    refused(run("board"), 66, "a link to a file that is not there")
    refused(run("import", farm), 66, "a link to a file that is not there")


def test_a_name_too_long_for_the_disk(run: Run) -> None:
    refused(run("board", "--book", "x" * 300), 66, "cannot be opened")


def test_a_backup_is_never_written_over_a_book(run: Run, book: Path) -> None:
    refused(run("backup", book), 73, "bulls.duckdb")
    saved = book.with_name("saved.duckdb")
    assert run("backup", saved).code == 0
    refused(run("restore", saved), 73, "bulls.duckdb")


def test_a_backup_that_is_not_there(run: Run, book: Path) -> None:
    refused(run("restore", book.with_name("no.duckdb"), "--book", book.with_name("new.duckdb")), 66)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[rules]\nfeet.oldest = 'old'\n", "feet.oldest"),
        ("[rules]\nfeet.oldset = 3\n", "feet.oldset"),
        ("[rules\n", "TOML"),
    ],
)
def test_rules_that_are_wrong(run: Run, book: Path, text: str, said: str) -> None:
    own = book.with_name("own.toml")
    own.write_text(text, encoding="utf-8")
    for arguments in (
        ("board", "--rules", own),
        ("rules", "--check", own),
        ("rules", "--rules", own),
    ):
        refused(run(*arguments), 78, said)


def test_rules_that_are_not_there(run: Run, book: Path) -> None:
    refused(run("board", "--rules", book.with_name("no.toml")), 66, "no.toml")
    refused(run("rules", "--check", book.with_name("no.toml")), 66, "no.toml")


@pytest.mark.parametrize(
    "arguments",
    [
        ("board", "--book", ""),
        ("board", "--rules", ""),
        ("rules", "--check", ""),
        ("import", ""),
        ("backup", ""),
        ("restore", ""),
        ("salvage", ""),
        ("demo", "--book", ""),
    ],
)
def test_an_empty_path_is_refused_and_not_taken_for_another(
    unchanged: Run, arguments: tuple[str, ...]
) -> None:
    """As a variable that is not set leaves it: the command was meant for some other file."""
    refused(unchanged(*arguments), 2, "no file is named")


@pytest.mark.parametrize("day", ["2009-12-31", "2099-01-01"])
def test_the_demo_of_a_day_too_far_off(unchanged: Run, day: str) -> None:
    refused(unchanged("demo", "--on", day), 2, "of the years 2010 to 2098")


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-30"])
@pytest.mark.parametrize("command", ["board", "diary", "visits", "demo"])
def test_a_day_from_which_nothing_can_be_counted(unchanged: Run, command: str, day: str) -> None:
    refused(unchanged(command, "--on", day), 2, "too far off")


def test_two_rules_files_beside_the_book(run: Run, book: Path) -> None:
    for name in ("bulls.toml", "bulls.duckdb.toml"):
        book.with_name(name).write_text("", encoding="utf-8")
    refused(run("board"), 78, "bulls.toml", "--rules")


@pytest.mark.parametrize("option", ["--farm", "--group"])
def test_a_farm_or_group_that_nobody_named_is_a_slip_not_an_empty_board(
    run: Run, book: Path, option: str
) -> None:
    refused(run("board", "--fail-on-hold", option, "Heifrs"), 66, "Heifrs")


def test_an_entry_that_is_not_there_cannot_be_withdrawn(unchanged: Run) -> None:
    refused(unchanged("strike", "0195f2a0-0000-7000-8000-00000000dead"), 66, "dead")


def test_fail_on_hold(run: Run, book: Path) -> None:
    assert run("board", "--fail-on-hold", "--on", DAY).code == 1
    assert run("board", "--fail-on-hold", "--on", DAY, "--farm", "Sallow Fell").code == 1


def test_fail_on_hold_passes_where_all_may_go(run: Run, tmp_path: Path) -> None:
    only = [{"kind": "bull", "on": "2026-01-10", "bull": "7"}, *went_out("7")]
    assert run("import", write(tmp_path / "one.jsonl", only)).code == 0
    assert run("board", "--fail-on-hold", "--on", DAY).code == 0
