"""Two people's copies of a book, put together by command lines."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import write

ON = "2026-04-24"
TAG = "UK 700900 000001"
SPOT = {"foot": "LF", "claw": "outer", "code": "SU"}


@pytest.fixture
def copies(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, Path]:
    """One bull with an ulcer and a block, in two copies; each is written to as another device."""
    here, there = tmp_path / "bulls.duckdb", tmp_path / "ann.duckdb"
    lines: list[dict[str, Any]] = [
        {"kind": "bull", "on": "2026-01-01", "bull": TAG, "name": "Alder", "farm": "Low Fell"},
        {"kind": "group", "on": "2026-01-01", "group": "Top", "turnout": "2026-06-01",
         "farm": "Low Fell"},
        {"kind": "feet", "on": "2026-03-01", "bull": TAG, "lifted": ["LF"],
         "findings": [{**SPOT, "severity": 2}]},
        {"kind": "block-on", "on": "2026-03-01", "bull": TAG, "foot": "LF", "claw": "inner"},
    ]  # fmt: skip
    assert run("import", write(tmp_path / "first.jsonl", lines)).code == 0
    shutil.copyfile(here, there)
    return here, there


def as_ann(run: Run, there: Path, monkeypatch: pytest.MonkeyPatch, *lines: tuple[str, ...]) -> None:
    with monkeypatch.context() as hers:
        hers.setenv("XDG_DATA_HOME", str(there.parent / "ann"))
        for line in lines:
            ran = run(*line, "--book", there, "--by", "Ann")
            assert ran.code == 0, ran.err


def test_what_comes_in_and_what_disagrees_is_said_before_and_after_in_the_same_words(
    run: Run, copies: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    here, there = copies
    mine = (
        ("group", "Top", "--farm", "Low Fell", "--turnout", "2026-06-08", "--on", ON),
        ("log", "1", "walk 1; lf o su healed; block lf i off", "--on", ON),
    )
    for line in mine:
        assert run(*line).code == 0
    as_ann(
        run, there, monkeypatch,
        ("group", "Top", "--farm", "Low Fell", "--turnout", "2026-06-15", "--on", ON),
        ("log", "1", "walk 3; lf o su healed; block lf i off", "--on", "2026-04-25"),
        ("log", "1", "walk 0", "--on", ON),
        ("book-in", "9", "--on", ON),
    )  # fmt: skip
    before = here.read_bytes()
    look = run("merge", there, "--check")
    assert here.read_bytes() == before
    told = run("merge", there, "--check", "--json").json()
    assert [(each["bull"], each["group"], each["entries"]) for each in told["comes_in"]] == [
        ("9", None, 1), (TAG, None, 4), (None, "Top", 1),
    ]  # fmt: skip
    assert [each["text"] for each in told["disagreements"]] == [
        "Top (Low Fell): turnout, here Mon 8 Jun 2026, there Mon 15 Jun 2026",
        f"{TAG}: LF inner block taken off twice, here on Fri 24 Apr 2026, there on Sat 25 Apr 2026",
        f"{TAG}: LF outer SU healed twice, here on Fri 24 Apr 2026, there on Sat 25 Apr 2026",
        f"{TAG}, Fri 24 Apr 2026: here Walk 1 (GB scale 0-3), there Walk 0 (GB scale 0-3)",
    ]
    assert told["written"] == [] and len(told["would_write"]) == 6
    done = run("merge", there)
    assert done.code == 0, done.err
    assert done.out == look.out.replace("would come in", "come in")
    assert run("merge", there).out == "Nothing new: all that it says is here already.\n"


@pytest.mark.parametrize("way", ["merge", "import"])
def test_one_undo_strikes_nothing_of_a_colleagues_day_and_leaves_the_board_as_it_was(
    run: Run, copies: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    _, there = copies
    as_ann(run, there, monkeypatch, ("log", "1", "walk 3; lf o su/3", "--on", ON))
    assert run("export", tmp_path / "x", "--book", there).code == 0
    other = there if way == "merge" else tmp_path / "x" / "entries.jsonl"
    before = run("board", "--json", "--on", ON).json()
    assert run(way, other).code == 0
    assert run("board", "--json", "--on", ON).json() != before
    undone = run("undo", "--json").json()
    assert (undone["struck"], undone["again"], len(undone["put_out"])) == ([], [], 2)
    assert run("board", "--json", "--on", ON).json() == before
    assert run("export", tmp_path / "y").code == 0
    assert "strike" not in (tmp_path / "y" / "entries.jsonl").read_text()
    assert run(way, other).code == 0
    said = run("undo").out
    assert said.startswith("put out again, as it was before: 2 entries") and TAG in said


def test_a_booking_taken_back_here_and_used_there_is_told_and_he_is_held_on_both_boards(
    run: Run, copies: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By exports, as by merging: he never vanishes."""
    here, there = copies
    assert run("undo").code == 0  # the whole first import, his booking too
    assert run("board", "--json", "--on", ON).json()["bulls"] == []
    as_ann(run, there, monkeypatch, ("log", "1", "walk 3", "--on", ON))
    look = run("merge", there, "--check", "--json").json()
    told = [each["text"] for each in look["disagreements"] if each["about"] == "taken-back"]
    assert told[0].startswith(f"{TAG}: booking taken back here on ")
    for name, book in (("x", here), ("y", there)):
        assert run("export", tmp_path / name, "--book", book).code == 0
    back = run("import", tmp_path / "y" / "entries.jsonl")
    assert "booking taken back here" in back.err
    assert run("import", tmp_path / "x" / "entries.jsonl", "--book", there).code == 0
    for book in (here, there):
        [bull] = run("board", "--json", "--on", ON, "--book", book).json()["bulls"]
        assert (bull["status"], bull["outlook"], bull["farm"]) == ("HOLD", "not-booked", "Low Fell")
        assert bull["reasons"][0]["rule"] == "booking.stands"
        assert "booking taken back" in run("board", "--on", ON, "--book", book).out
    assert run("book-in", TAG, "--on", ON).code == 0
    [bull] = run("board", "--json", "--on", ON).json()["bulls"]
    assert bull["outlook"] != "not-booked"


def test_ids_that_stand_for_other_things_are_all_named_and_nothing_is_written(
    run: Run, copies: tuple[Path, Path], tmp_path: Path
) -> None:
    here, there = copies
    of_id = {"kind": "weight", "on": ON, "bull": TAG}
    ids = [f"00000000-0000-4000-8000-{number:012}" for number in range(12)]
    for book, kg in ((here, 900), (there, 901)):
        lines = [{**of_id, "kg": kg, "id": id_} for id_ in ids]
        assert run("import", write(tmp_path / f"{kg}.jsonl", lines), "--book", book).code == 0
    before = here.read_bytes()
    for check in ([], ["--check"]):
        ran = run("merge", there, *check)
        assert ran.code == 65
        assert all(id_ in ran.err for id_ in ids)
        assert here.read_bytes() == before


@pytest.mark.parametrize(
    ("name", "code", "words"),
    [
        ("nowhere.duckdb", 66, "there is no such file or folder"),
        ("bulls.duckdb", 65, "is the book itself"),
        ("empty", 65, "neither an export nor the journal"),
        ("first.jsonl", 65, "line 1, recorded: has none"),
        ("text.duckdb", 65, "not a book"),
    ],
)
def test_what_is_no_other_copy_is_refused_in_one_sentence(
    run: Run, copies: tuple[Path, Path], tmp_path: Path, name: str, code: int, words: str
) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "text.duckdb").write_text("some text\n" * 2000)
    ran = run("merge", tmp_path / name)
    assert (ran.code, words in ran.err) == (code, True), ran.err


def test_a_first_book_can_begin_with_anothers(run: Run, copies: tuple[Path, Path]) -> None:
    _, there = copies
    new = there.with_name("new.duckdb")
    look = run("merge", there, "--check", "--book", new)
    assert (look.code, new.exists()) == (0, False), look.err
    assert run("merge", there, "--book", new).code == 0
    assert run("verify", "--book", new).code == 0
