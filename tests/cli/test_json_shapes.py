"""The JSON results, key by key as DEVELOPERS.md promises them."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import DAY, LAME
from tests.promises.stated import keys

OUTLOOKS = {
    "ready", "on-track", "tight", "too-late", "vet-decides", "no-turnout", "working",
}  # fmt: skip
CHECKS = {
    "feet", "lift", "look", "clear", "block-off", "block-look", "walk-again", "mobility",
    "condition-again", "condition", "vet-exam", "vet-look", "quarantine",
}  # fmt: skip
STANDINGS = {"published", "common practice (no source)", "from memory", "project choice"}


def is_day(value: object) -> bool:
    return isinstance(value, str) and date.fromisoformat(value).isoformat() == value


def may_be_day(value: object) -> bool:
    return value is None or is_day(value)


def check_shape(check: dict[str, Any], on: str = DAY) -> None:
    assert set(check) >= keys("check")
    assert check["check"] in CHECKS
    parts = (check["check"], check["foot"], check["claw"], check["code"])
    assert check["id"] == ":".join(part for part in parts if part)
    assert is_day(check["not_before"])
    assert all(may_be_day(check[key]) for key in ("not_after", "due", "advised_by", "since"))
    assert check["overdue"] is (check["due"] is not None and check["due"] < on)
    assert check["who"] in {"trimmer", "farmer", "vet"}
    assert isinstance(check["after"], list)
    assert check["standing"] in STANDINGS
    assert check["text"] and check["source"]
    assert bool(check["feet"]) is (check["check"] in {"feet", "lift"})


def reason_shape(reason: dict[str, Any]) -> None:
    assert set(reason) >= keys("reason, advice")
    assert reason["text"] and reason["rule"]
    assert may_be_day(reason["since"])
    assert reason["standing"] in STANDINGS


def bull_shape(bull: dict[str, Any]) -> None:
    assert set(bull) >= keys("bull")
    assert bull["status"] in {"GO", "HOLD"}
    assert bull["hold"] in ({None} if bull["status"] == "GO" else {"reason", "checks"})
    assert bull["outlook"] in OUTLOOKS
    assert may_be_day(bull["turnout"]) and may_be_day(bull["earliest_ready"])
    assert bull["slack_days"] is None or isinstance(bull["slack_days"], int)
    for remark in (*bull["reasons"], *bull["advice"]):
        reason_shape(remark)
    for check in bull["outstanding"]:
        check_shape(check)
    assert len({check["id"] for check in bull["outstanding"]}) == len(bull["outstanding"])
    assert bull["overdue"] == sum(check["overdue"] for check in bull["outstanding"])
    for link in bull["chain"]:
        assert set(link) >= keys("link of a chain") and isinstance(link["days"], int)


def test_board(run: Run, book: Path) -> None:
    board = run("board", "--json", "--on", DAY).json()
    assert board["on"] == DAY and set(board) >= keys("`board`")
    assert set(board["rules"]) >= {"name", "digest"}
    assert [line["group"] for line in board["groups"]] == ["Heifers", "Hill cows"]
    for line in board["groups"]:
        assert set(line) >= keys("group")
    heifers = board["groups"][0]
    assert (heifers["farm"], heifers["turnout"], heifers["females"], heifers["bulls"]) == (
        "Sallow Fell", "2026-04-09", 40, 4,
    )  # fmt: skip
    assert heifers["go"] == 1
    assert [bull["name"] for bull in board["bulls"]] == [
        "Tarn", "Corran", "Brock", "Stray", "Fenwick", "Gyle", "Rowan",
    ]  # fmt: skip
    for bull in board["bulls"]:
        bull_shape(bull)


def test_the_outlooks_of_the_small_farm(board: Any) -> None:
    """Each by hand. Corran: lame 1 Apr + 7 days = 8 Apr, turnout 9 Apr. Tarn: the vet's again_on
    20 Apr. Brock: block off from 4 Mar + 28 = 1 Apr, so today 3 Apr, + 7 days = 10 Apr; the ulcer
    seen clear from 4 Mar + 33 = 6 Apr comes before that."""
    bulls = board()
    found = {
        name: (bull["status"], bull["hold"], bull["outlook"], bull["earliest_ready"],
               bull["slack_days"])
        for name, bull in bulls.items()
    }  # fmt: skip
    assert found == {
        "Tarn": ("HOLD", "reason", "too-late", "2026-04-20", -11),
        "Corran": ("HOLD", "reason", "tight", "2026-04-08", 1),
        "Brock": ("HOLD", "reason", "on-track", "2026-04-10", 28),
        "Stray": ("HOLD", "checks", "no-turnout", "2026-04-03", None),
        "Fenwick": ("HOLD", "checks", "tight", "2026-04-03", 6),
        "Rowan": ("GO", None, "ready", "2026-04-03", 6),
        "Gyle": ("GO", None, "working", None, None),
    }


def test_the_chain_adds_up_to_the_earliest_day(board: Any) -> None:
    chain = board()["Corran"]["chain"]
    assert chain[0]["from"] == LAME
    assert chain[-1]["to"] == "turnout"
    assert sum(link["days"] for link in chain) == 7


@pytest.mark.parametrize("tag", ["UK 123450 600417", "uk123450600417", "417", "0041 7"])
def test_bull(run: Run, book: Path, tag: str) -> None:
    bull = run("bull", tag, "--json", "--on", DAY).json()
    bull_shape(bull)
    assert bull["bull"] == "UK 123450 600417"
    assert set(bull) >= keys("`bull`")
    assert bull["history"][0]["id"] == LAME
    assert [entry["on"] for entry in bull["history"]] == sorted(
        (entry["on"] for entry in bull["history"]), reverse=True
    )
    for entry in bull["history"]:
        assert {"id", "kind", "on", "recorded", "position", "batch", "device"} <= set(entry)
    assert bull["scores"]["mobility"][0]["score"] == 2
    assert bull["scores"]["condition"][0]["score"] == 3.25


def test_open_findings_and_blocks(run: Run, book: Path) -> None:
    bull = run("bull", "93", "--json", "--on", DAY).json()
    assert bull["open_findings"] == [
        {"foot": "LH", "claw": "inner", "code": "SU", "severity": 2, "stage": None, "zone": 4,
         "size_mm": None, "holds": True, "first": "2026-03-04", "seen": "2026-03-04",
         "looked": "2026-03-04", "plausible": "2026-04-06",
         "entries": [bull["history"][1]["id"]]}
    ]  # fmt: skip
    assert [
        (b["foot"], b["claw"], b["on"], b["off_from"], b["off_by"]) for b in bull["blocks"]
    ] == [("LH", "outer", "2026-03-04", "2026-04-01", "2026-04-15")]


def test_diary(run: Run, book: Path) -> None:
    diary = run("diary", "--json", "--on", DAY).json()
    assert set(diary) >= keys("`diary`")
    days = [day["on"] for day in diary["days"]]
    assert days == sorted(days)
    dues = [(day["on"], due) for day in diary["days"] for due in day["due"]]
    for on, due in dues:
        check_shape(due)
        assert {"bull", "farm", "group"} <= set(due)
        ends = [end for end in (due["due"], due["not_after"]) if end]
        assert on == max(min(ends, default=due["not_before"]), due["not_before"])
        assert not due["overdue"]
    assert all(due["overdue"] for due in diary["overdue"])
    board = run("board", "--json", "--on", DAY).json()
    outstanding = sum(len(bull["outstanding"]) for bull in board["bulls"])
    assert len(dues) + len(diary["overdue"]) == outstanding


def test_diary_some_days_ahead(run: Run, book: Path) -> None:
    whole = run("diary", "--json", "--on", DAY).json()["days"]
    week = run("diary", "--json", "--on", DAY, "--days", "7").json()["days"]
    assert week == [day for day in whole if day["on"] <= "2026-04-10"]
    assert 0 < len(week) < len(whole)


def test_rules(run: Run, book: Path) -> None:
    rules = run("rules", "--json").json()
    assert all(keys("`rules`") <= set(rule) and not rule["overridden"] for rule in rules)
    assert {rule["id"]: rule["value"] for rule in rules}["feet.oldest"] == 120


def test_rules_of_ones_own_are_said(run: Run, book: Path) -> None:
    book.with_name("bulls.toml").write_text("[rules]\nfeet.oldest = 90\n", encoding="utf-8")
    rules = {rule["id"]: rule for rule in run("rules", "--json").json()}
    assert rules["feet.oldest"]["overridden"] and rules["feet.oldest"]["value"] == 90
    assert "feet.oldest 90 days instead of 120 days" in run("board", "--on", DAY).out


def test_what_writing_commands_say(run: Run, book: Path) -> None:
    for ran in (
        run("log", "288", "walk 0", "--json", "--on", DAY),
        run("group", "Late", "--turnout", "2026-06-01", "--json", "--on", DAY),
        run("import", book.with_name("farm.jsonl"), "--json"),
    ):
        said = ran.json()
        assert set(said) >= keys("`log` `book-in` `group` `import` `strike`")
        assert all(set(warning) >= {"entry", "text"} for warning in said["warnings"])
