"""``retag``: all that is said of a bull, said of another tag. No published standard tells how: it
is held to what the book said of him before, on every bull of the demo."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import write
from tests.volume import AT_LENGTH

GORSE, NEW = "UK 700914 300388", "UK 700914 400389"


def board(run: Run) -> dict[str, Any]:
    return {bull["bull"]: bull for bull in run("board", "--json").json()["bulls"]}


def history(run: Run, tag: str) -> list[Any]:
    """What stands of him, without what tells where and when it was written."""
    entries = run("bull", tag, "--json").json()["history"]
    own = ("id", "recorded", "position", "batch", "device", "who", "bull")
    return [{key: said for key, said in entry.items() if key not in own} for entry in entries]


def same_but_for_the_tag(before: dict[str, Any], after: dict[str, Any]) -> bool:
    """Nor for the ids of the entries that his steps come from: they are said anew."""
    a, b = (
        {**bull, "bull": "", "chain": [{**step, "from": ""} for step in bull["chain"]]}
        for bull in (before, after)
    )
    return a == b


def test_a_bull_of_the_demo_stands_as_he_stood_under_another_tag_and_undo_brings_him_back(
    run: Run, tmp_path: Path
) -> None:
    assert run("demo", "--json", "--book", tmp_path / "bulls.duckdb").code == 0
    before = board(run)
    assert len(before) > 30
    for number, tag in [*enumerate(before)][:: 1 if AT_LENGTH else 4]:
        said, new = history(run, tag), f"Bull {number}"
        ran = run("retag", tag, new)
        assert ran.code == 0, ran.err
        assert ran.out.startswith(f"{tag} is {new} now: {len(said)} entries taken back")
        after = board(run)
        assert same_but_for_the_tag(before[tag], after[new]) and tag not in after
        assert history(run, new) == said
        if number % 12 == 0:
            assert run("undo").code == 0
            assert history(run, tag) == said
            assert same_but_for_the_tag(board(run)[tag], before[tag])
    assert run("verify").code == 0


def test_the_tag_of_another_bull_is_taken_only_where_both_are_said_to_be_one(
    run: Run, tmp_path: Path
) -> None:
    twice: list[dict[str, Any]] = [
        {"kind": "bull", "on": "2026-03-01", "bull": GORSE, "name": "Gorse"},
        {
            "kind": "bull",
            "on": "2026-03-02",
            "bull": NEW,
            "origin": "bought",
            "arrived": "2026-03-02",
        },
        {"kind": "block-on", "on": "2026-03-03", "bull": NEW, "foot": "LH", "claw": "inner"},
        {"kind": "weight", "on": "2026-03-04", "bull": GORSE, "kg": 900},
    ]
    assert run("import", write(tmp_path / "a.jsonl", twice)).code == 0
    for tag in (GORSE, "300388", "uk700914300388", f"{GORSE}\u200b", f"\x1b{GORSE} "):
        ran = run("retag", NEW, tag)
        assert ran.code == 65 and f"{GORSE} Gorse is in the book already" in ran.err, tag
        assert f"`readiness retag '{NEW}' '{GORSE}' --same`" in ran.err
    assert len(board(run)) == 2
    ran = run("retag", NEW, "300388", "--same")
    assert ran.code == 0 and f"{NEW} and {GORSE} are one bull now: 2 entries taken back" in ran.out
    (gorse,) = run("board", "--json").json()["bulls"]
    assert (gorse["bull"], gorse["name"]) == (GORSE, "Gorse")
    assert [entry["kind"] for entry in history(run, GORSE)] == [
        "weight",
        "block-on",
        "bull",
        "bull",
    ]
    assert history(run, GORSE)[2]["arrived"] == "2026-03-02"  # a quarantine is not lost on the way
    assert run("undo").code == 0
    assert len(board(run)) == 2


def test_what_is_no_new_tag_is_refused_and_an_odd_one_told(run: Run, tmp_path: Path) -> None:
    booked = [{"kind": "bull", "on": "2026-03-01", "bull": GORSE}]
    assert run("import", write(tmp_path / "a.jsonl", booked)).code == 0
    for new, why in ((" ", "No new tag is given"), ("uk700914300388", "is his tag already")):
        ran = run("retag", GORSE, new)
        assert ran.code == 65 and why in ran.err
    ran = run("retag", GORSE, NEW, "--book", tmp_path / "none.duckdb")
    assert ran.code == 66 and "There is no book" in ran.err
    ran = run("retag", "999", NEW)
    assert ran.code == 66 and "There is no bull 999" in ran.err
    ran = run("retag", GORSE, "x" * 5000)
    assert ran.code == 65 and "bull" in ran.err
    assert run("--readonly", "retag", GORSE, NEW).code in (64, 73, 2)
    assert [*board(run)] == [GORSE]
    ran = run("retag", GORSE, "UK 700914 300389", "--json")
    assert ran.code == 0 and "check digit" in ran.json()["warnings"][0]["text"]


def test_what_a_colleague_wrote_of_the_old_tag_meanwhile_holds_him_until_it_is_put_to_the_new(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    booked = [{"kind": "bull", "on": "2026-03-01", "bull": GORSE, "name": "Gorse"}]
    assert run("import", write(tmp_path / "a.jsonl", booked)).code == 0
    copy = tmp_path / "copy.duckdb"
    assert run("backup", copy).code == 0
    assert run("retag", GORSE, NEW).code == 0
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "another device"))
    assert run("log", GORSE, "walk 2 lh", "--book", copy).code == 0
    ran = run("merge", copy)
    told = " ".join(ran.out.split())
    assert "booking taken back here" in told and f"(another tag: {NEW})" in told
    assert {bull["bull"]: bull["status"] for bull in board(run).values()} == {
        GORSE: "HOLD", NEW: "HOLD",
    }  # fmt: skip
    way = f"`readiness retag '{GORSE}' '{NEW}' --same` makes the two one"
    assert way in told
    assert all(way in bull["reasons"][0]["text"] for bull in board(run).values())
    assert run("retag", GORSE, NEW, "--same").code == 0
    assert [*board(run)] == [NEW]
    assert [entry["kind"] for entry in history(run, NEW)] == ["mobility", "bull"]
