"""The commands that write: what goes in, what is said, what is refused and what is warned of."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.book import Book
from readiness.book.faults import Damaged
from readiness.entries.entry import Entry
from tests.cli.conftest import Run
from tests.cli.small_book import DAY, LAME, bull, sound, write

FARM = "Sallow Fell"


def warnings(run: Run, path: Path, entries: list[dict[str, Any]]) -> list[str]:
    ran = run("import", "--json", write(path, entries))
    assert ran.code == 0, ran.err
    return [warning["text"] for warning in ran.json()["warnings"]]


# ---- import ------------------------------------------------------------------------------------


def test_the_same_file_twice_doubles_nothing(run: Run, book: Path) -> None:
    again = run("import", "--json", book.with_name("farm.jsonl")).json()
    assert again["written"] == [] and len(again["skipped"]) == 36


def test_check_only_checks(run: Run, tmp_path: Path) -> None:
    farm = write(tmp_path / "farm.jsonl")
    said = run("import", "--check", "--json", farm).json()
    assert said["written"] == [] and len(said["would_write"]) == 36
    assert not (tmp_path / "bulls.duckdb").exists()
    assert run("import", "--check", farm).out == "farm.jsonl: 36 entries would be written\n"


def test_a_bull_may_be_named_before_the_line_that_books_him(run: Run, tmp_path: Path) -> None:
    group = {"kind": "group", "on": "2026-01-01", "group": "Late", "turnout": "2026-06-01"}
    entries = [*reversed(bull("8", "Early", "Late", farm=None)), group]
    assert run("import", write(tmp_path / "a.jsonl", entries)).code == 0


def test_a_group_of_another_farm_is_not_his(run: Run, book: Path, tmp_path: Path) -> None:
    ran = run("import", write(tmp_path / "a.jsonl", bull("8", "Stranger", "Heifers", "Low Sand")))
    assert ran.code == 65
    assert "line 2, group" in ran.err and "Low Sand" in ran.err


def test_out_of_every_group_needs_no_group(run: Run, book: Path, board: Any) -> None:
    leave = {"kind": "join", "on": "2026-04-01", "bull": "00288", "group": None}
    assert run("import", write(book.with_name("a.jsonl"), [leave])).code == 0
    assert board()["Rowan"]["group"] is None


def test_files_before_the_refused_one_are_in(run: Run, tmp_path: Path) -> None:
    good = write(tmp_path / "farm.jsonl")
    bad = write(tmp_path / "bad.jsonl", [{"kind": "weight", "on": DAY, "bull": "x", "kg": 1}])
    ran = run("import", "--json", good, bad)
    assert ran.code == 65 and len(ran.json()["written"]) == 36
    assert run("board").code == 0


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ({"kind": "bull", "on": DAY, "bull": "UK 700915 500015"}, "6"),
        ({"kind": "block-on", "on": DAY, "bull": "00093", "foot": "LH", "claw": "inner"},
         "carries an open finding"),
        ({"kind": "block-off", "on": DAY, "bull": "00093", "foot": "RF", "claw": "inner"},
         "no block on RF inner was written down"),
        ({"kind": "feet", "on": DAY, "bull": "00093", "lifted": ["LH"],
          "healed": [{"foot": "LH", "claw": "inner", "code": "SU"}]}, "6 Apr"),
        ({"kind": "feet", "on": DAY, "bull": "00288", "lifted": ["LH"],
          "healed": [{"foot": "LH", "claw": "inner", "code": "SU"}]}, "no such finding"),
        ({"kind": "check", "on": DAY, "bull": "00288", "check": "dung-sample", "result": "pass"},
         "dung-sample"),
        ({"kind": "weight", "on": "2090-04-03", "bull": "00288", "kg": 900}, "still to come"),
        ({"kind": "group", "on": "2090-04-03", "group": "Far", "turnout": "2091-04-03"},
         "still to come"),
        ({"kind": "strike", "on": DAY, "entry": "0195f2a0-0000-7000-8000-00000000dead"},
         "no entry"),
    ],
)  # fmt: skip
def test_what_is_odd_is_kept_and_warned_of(
    run: Run, book: Path, entry: dict[str, Any], said: str
) -> None:
    found = warnings(run, book.with_name("odd.jsonl"), [entry])
    assert len(found) == 1 and said in found[0]


def test_what_is_not_odd_is_not_warned_of(run: Run, tmp_path: Path) -> None:
    entries = [*bull("UK 700915 600015", "Right", farm=None), *sound("UK 700915 600015")]
    assert warnings(run, tmp_path / "a.jsonl", entries) == []


def test_an_entry_after_he_left_is_kept(run: Run, book: Path) -> None:
    left = {"kind": "moved", "on": "2026-03-30", "bull": "00288", "act": "left", "reason": "sold"}
    later = {"kind": "weight", "on": "2026-04-01", "bull": "00288", "kg": 900}
    found = warnings(run, book.with_name("left.jsonl"), [left, later])
    assert len(found) == 1 and "he has left" in found[0]
    ran = run("bull", "288", "--json", "--on", DAY)
    assert ran.json()["left"] is True


# ---- log ---------------------------------------------------------------------------------------


def test_log_reads_back_in_words_with_the_ids(run: Run, book: Path) -> None:
    ran = run("log", "288", "rf o wlf@2 1 pare dress; walk 1; cond 3.25; kg 980", "--on", DAY)
    assert ran.code == 0, ran.err
    words, *saved = ran.out.splitlines()
    assert "RF outer: white line fissure, slight, zone 2; pared, dressed." in words
    assert "Walk 1 (GB scale 0-3). Condition 3.25 (scale 1-5)." in words
    assert len(saved) == 4 and all(line.startswith("saved 01") for line in saved)
    for line in saved:
        assert line.removeprefix("saved ") in run("bull", "288", "--on", DAY).out


def test_log_takes_words_unquoted(run: Run, book: Path) -> None:
    assert run("log", "288", "all", "ok", "--on", DAY).code == 0
    newest = run("bull", "288", "--json", "--on", DAY).json()["history"][0]
    assert (newest["kind"], newest["lifted"]) == ("feet", ["LF", "RF", "LH", "RH"])


def test_a_bull_may_be_named_and_is_never_guessed(run: Run, book: Path) -> None:
    """A tag wins over a name; two bulls of one name are asked about, as two tags are."""
    assert run("log", "rowan", "kg 980", "--on", DAY).code == 0
    assert run("bull", "Rowan", "--json", "--on", DAY).json()["bull"] == "00288"
    for tag in ("00288x", "00289"):
        assert run("book-in", tag, "--name", "417", "--on", DAY).code == 0
    assert run("bull", "417", "--json", "--on", DAY).json()["name"] == "Corran"
    assert run("book-in", "00290", "--name", "ROWAN", "--on", DAY).code == 0
    ran = run("bull", "Rowan", "--on", DAY)
    assert ran.code == 66
    assert "matches 2 bulls: 00288, 00290" in ran.err
    ran = run("board", "--farm", "sallow fell")
    assert ran.code == 66
    assert "Did you mean Sallow Fell?" in ran.err


def test_log_scores_in_the_farms_own_scales(run: Run, book: Path) -> None:
    book.with_name("bulls.toml").write_text(
        '[farm."Sallow Fell".scales]\nmobility = "five1-5"\ncondition = "nine"\n', encoding="utf-8"
    )
    ran = run("log", "288", "walk 5; cond 5.5", "--on", DAY)
    assert "Walk 5 (five-point scale 1-5). Condition 5.5 (scale 1-9)." in ran.out
    assert run("log", "288", "walk 0", "--on", DAY).code == 65


# ---- group, strike, undo -----------------------------------------------------------------------


def test_group_begins_a_book(run: Run, tmp_path: Path) -> None:
    ran = run("group", "Late", "--turnout", "2026-06-01", "--females", "30", "--weeks", "9",
              "--class", "heifers", "--farm", FARM, "--on", DAY)  # fmt: skip
    assert ran.code == 0, ran.err
    line = run("board", "--json", "--on", DAY).json()["groups"][0]
    assert (line["group"], line["turnout"], line["females"], line["farm"]) == (
        "Late", "2026-06-01", 30, FARM,
    )  # fmt: skip


def test_group_said_again_replaces(run: Run, book: Path, board: Any) -> None:
    run("group", "Heifers", "--turnout", "2026-04-20", "--farm", FARM, "--on", DAY)
    assert board()["Corran"]["turnout"] == "2026-04-20"


def test_strike_takes_the_entry_away_for_every_day(run: Run, book: Path, board: Any) -> None:
    ran = run("strike", LAME.upper(), "--why", "the wrong bull", "--on", DAY)
    assert ran.code == 0, ran.err
    assert "Walk 2 (GB scale 0-3): LF." in ran.out
    assert board()["Corran"]["hold"] == "checks"
    assert LAME not in run("bull", "417", "--on", DAY).out


def test_strike_again_changes_nothing(run: Run, book: Path) -> None:
    run("strike", LAME)
    again = run("strike", LAME)
    assert again.code == 0 and "already" in again.err


def test_a_strike_cannot_be_struck(run: Run, book: Path) -> None:
    strike = run("strike", LAME, "--json").json()["written"][0]
    ran = run("strike", strike)
    assert ran.code == 65 and "stays itself" in ran.err


def test_the_only_entry_that_books_him_stays_while_he_has_others(run: Run, book: Path) -> None:
    history = run("bull", "288", "--json", "--on", DAY).json()["history"]
    booked = next(entry["id"] for entry in history if entry["kind"] == "bull")
    ran = run("strike", booked)
    assert ran.code == 65 and "00288" in ran.err
    line = {"kind": "strike", "on": DAY, "entry": booked}
    ran = run("import", write(book.with_name("s.jsonl"), [line]))
    assert ran.code == 65 and "line 1, entry" in ran.err
    lone = run("bull", "501", "--json", "--on", DAY).json()["history"][0]["id"]
    assert run("strike", lone).code == 0
    assert run("bull", "501", "--on", DAY).code == 66


def test_undo_goes_back_batch_by_batch(run: Run, book: Path) -> None:
    first = run("log", "288", "kg 900", "--json", "--on", DAY).json()["written"]
    second = run("log", "288", "walk 1; cond 3", "--json", "--on", DAY).json()["written"]
    assert run("undo", "--json").json()["struck"] == second
    ran = run("undo")
    assert ran.code == 0 and first[0] in ran.out and "Weight 900 kg" in ran.out
    kinds = [e["kind"] for e in run("bull", "288", "--json", "--on", DAY).json()["history"]]
    assert "weight" not in kinds


def test_undo_of_a_withdrawal_says_again_what_was_withdrawn(
    run: Run, book: Path, board: Any
) -> None:
    assert run("strike", LAME, "--why", "slip").code == 0
    assert "lame" not in " ".join(reason["text"] for reason in board()["Corran"]["reasons"])
    said = run("undo", "--json").json()
    assert said["struck"] == [] and len(said["again"]) == 1
    assert "lame" in " ".join(reason["text"] for reason in board()["Corran"]["reasons"])
    run("strike", said["again"][0])
    ran = run("undo")
    assert ran.code == 0 and ran.out.startswith("said again") and "Walk" in ran.out


def test_a_file_taken_in_anew_says_what_stays_withdrawn(run: Run, book: Path) -> None:
    run("undo")
    said = run("import", book.with_name("farm.jsonl"), "--json").json()
    assert said["written"] == [] and len(said["skipped"]) == 36
    assert len(said["warnings"]) == 36
    assert all("stays so" in warning["text"] for warning in said["warnings"])


def test_what_was_said_again_is_not_called_withdrawn(run: Run, book: Path) -> None:
    run("strike", LAME)
    run("undo")
    assert run("import", book.with_name("farm.jsonl"), "--json").json()["warnings"] == []


def test_a_recording_still_to_come_is_warned_of(run: Run, book: Path, tmp_path: Path) -> None:
    line = {"kind": "weight", "on": DAY, "bull": "00288", "kg": 900}
    [text] = warnings(
        run, tmp_path / "a.jsonl", [{**line, "recorded": "2099-01-01T00:00:00+00:00"}]
    )
    assert "still to come" in text


def test_undo_of_the_import_leaves_an_empty_board_and_then_nothing(run: Run, book: Path) -> None:
    assert len(run("undo", "--json").json()["struck"]) == 36
    assert run("board", "--json", "--on", DAY).json()["bulls"] == []
    ran = run("undo")
    assert ran.code == 66 and "nothing" in ran.err


# ---- backup, restore, verify -------------------------------------------------------------------


def test_backup_and_restore_bring_the_same_board(run: Run, book: Path) -> None:
    saved, new = book.with_name("saved.duckdb"), book.with_name("new.duckdb")
    assert run("backup", saved).out == f"{saved}\n"
    assert run("restore", saved, "--book", new).code == 0
    board = run("board", "--json", "--on", DAY).out
    assert run("board", "--json", "--on", DAY, "--book", new).out == board


def test_backup_chooses_a_place_beside_the_book(run: Run, book: Path) -> None:
    place = Path(run("backup").out.strip())
    assert place.is_file() and place.parent.parent == book.parent


def test_verify_counts(run: Run, book: Path) -> None:
    assert run("verify").out == f"{book} is whole: 36 entries, 36 receipts\n"
    assert run("verify", "--json").json()["ok"] is True


def test_verify_names_what_is_damaged(run: Run, book: Path) -> None:
    import duckdb

    con = duckdb.connect()
    con.execute(f"ATTACH '{book}' AS book")
    con.execute("USE book")
    con.execute("DROP TRIGGER entry_no_update ON entry")
    con.close()
    ran = run("verify")
    assert ran.code == 65 and "trigger" in ran.err


# ---- demo --------------------------------------------------------------------------------------


def test_demo_without_a_terminal_prints_its_board(run: Run, tmp_path: Path) -> None:
    place = tmp_path / "demo.duckdb"
    ran = run("demo", "--book", place, "--on", DAY)
    assert ran.code == 0, ran.err
    assert ran.out.startswith(f"The demo book is {place}\n")
    board = run("board", "--json", "--book", place, "--on", DAY).json()
    assert len(board["bulls"]) == 36 and len(board["groups"]) == 4
    assert {bull["outlook"] for bull in board["bulls"]} == {
        "ready", "on-track", "tight", "too-late", "vet-decides", "wrong-group", "no-turnout",
        "working",
    }  # fmt: skip
    assert run("board", "--book", place, "--on", DAY).out in ran.out


def test_demo_builds_in_a_new_place_only(run: Run, book: Path) -> None:
    assert run("demo", "--book", book).code == 73


def test_a_disk_that_fails_once_it_is_taken_back_is_told_with_that_it_was(
    run: Run, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Told only that the book could not be read, one says undo again, and loses what was before."""
    assert run("log", "288", "kg 777", "--on", DAY).code == 0

    def fails(*_: object) -> list[Entry]:
        raise Damaged("The book could not be read (Input/output error).", "")

    with monkeypatch.context() as failing:
        failing.setattr(Book, "entries", fails)
        ran = run("undo")
    assert ran.code == 65
    assert "is taken back, and that is in the book" in ran.err and "Input/output" in ran.err
    history = run("bull", "288", "--json").json()["history"]
    assert history and not any(entry.get("kg") == 777 for entry in history)
