"""What `diary`, `rules`, `bull`, `log` and `import` promise as JSON."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests import build as say
from tests.promises import stated
from tests.promises.conftest import Run, Tell

Board = Callable[..., dict[str, Any]]
ON = "2026-04-28"


@pytest.fixture
def demo(run: Run, tmp_path: Path) -> Callable[..., Any]:
    """A command's JSON on the demo book of ``ON``."""
    book = tmp_path / "demo.duckdb"
    assert run("demo", "--book", book, "--on", ON).code == 0

    def asked(*command: str) -> Any:
        ran = run(*command, "--json", "--book", book, "--on", ON)
        assert ran.code == 0, ran.err
        return ran.json()

    return asked


def test_the_diary_is_the_board_by_day(demo: Callable[..., Any]) -> None:
    """Each check once: overdue, or under the earlier of due and not_after; where neither exists or
    it lies before not_before: not_before."""
    board, diary = demo("board"), demo("diary")
    assert list(diary)[:4] == ["format", "on", "overdue", "days"] and diary["on"] == ON
    checks = {
        (bull["bull"], check["id"]): {
            **check, "bull": bull["bull"], "farm": bull["farm"], "group": bull["group"]
        }
        for bull in board["bulls"]
        for check in bull["outstanding"]
    }  # fmt: skip
    told = []
    for due in diary["overdue"]:
        assert due["due"] < ON
        told.append(due)
    for day in diary["days"]:
        assert day["due"]
        for due in day["due"]:
            ends = [end for end in (due["due"], due["not_after"]) if end is not None]
            last = min(ends) if ends and min(ends) >= due["not_before"] else due["not_before"]
            assert day["on"] == last and not due["overdue"]
            told.append(due)
    assert [day["on"] for day in diary["days"]] == sorted({day["on"] for day in diary["days"]})
    assert len(told) == len(checks)
    for due in told:
        assert due == checks[due["bull"], due["id"]]


def test_days_ahead_keep_what_is_overdue(demo: Callable[..., Any]) -> None:
    whole, near = demo("diary"), demo("diary", "--days", "3")
    assert near["overdue"] == whole["overdue"] != []
    assert near["days"] == [day for day in whole["days"] if day["on"] <= "2026-05-01"]


STANDINGS = {"published", "common practice (no source)", "from memory", "project choice"}


def test_rules_are_a_list_with_a_source_each(run: Run) -> None:
    rules = run("rules", "--json").json()
    assert len({rule["id"] for rule in rules}) == len(rules) > 100
    for rule in rules:
        assert set(rule) >= stated.keys("`rules`") and rule["unit"] and rule["source"]
        assert rule["checked"] is None
        assert rule["standing"] in STANDINGS and rule["overridden"] is False


def test_overridden_rules_say_so(tell: Tell, run: Run, board: Board, tmp_path: Path) -> None:
    tell(say.booked())
    before = board(ON)["rules"]["digest"]
    (tmp_path / "bulls.toml").write_text(
        '[rules]\nlame.long = { value = 10, standing = "project choice", source = "our vet" }\n',
        encoding="utf-8",
    )
    (rule,) = [rule for rule in run("rules", "--json").json() if rule["overridden"]]
    assert (rule["id"], rule["value"], rule["source"]) == ("lame.long", 10, "our vet")
    assert board(ON)["rules"]["digest"] != before
    assert "lame.long" in run("board", "--on", ON).out


def test_bull_is_the_boards_bull_and_more(tell: Tell, run: Run, board: Board) -> None:
    tell(
        say.group("2026-05-04"), say.booked(), say.join(),
        say.lift("2026-03-01", findings=[say.found("LH", "outer", "SU", severity=2)]),
        say.said("block-on", "2026-03-01", foot="LH", claw="inner"),
        say.walk("2026-03-01", 2, limb="LH"), say.condition("2026-03-01", 3.0),
        say.walk("2026-05-20", 0),
    )  # fmt: skip
    told = run("bull", say.TAG, "--json", "--on", ON).json()
    (bull,) = board(ON)["bulls"]
    assert {key: told[key] for key in bull} == bull
    assert told["history"][0]["on"] == "2026-05-20"
    assert len(told["history"]) == 7
    (found,), (block,) = told["open_findings"], told["blocks"]
    assert (found["foot"], found["claw"], found["code"], found["holds"]) == (
        "LH", "outer", "SU", True,
    )  # fmt: skip
    assert (block["foot"], block["claw"], block["on"]) == ("LH", "inner", "2026-03-01")
    assert [walk["score"] for walk in told["scores"]["mobility"]] == [2]


def test_history_comes_back_as_lines_that_import_takes(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    tell(say.booked(), *say.ready(), say.walk(ON, 1, limb="LF", by="Ann", note="short in front"))
    history = run("bull", say.TAG, "--json", "--on", ON).json()["history"]
    path = tmp_path / "copy.jsonl"
    path.write_text("".join(json.dumps(line) + "\n" for line in history), encoding="utf-8")
    here = run("import", path, "--json").json()
    assert (here["written"], len(here["skipped"])) == ([], len(history))
    other = tmp_path / "other.duckdb"
    there = run("import", path, "--json", "--book", other)
    assert len(there.json()["written"]) == len(history)
    again = run("bull", say.TAG, "--json", "--on", ON, "--book", other).json()
    assert again["history"] == history


def test_log_says_what_it_wrote_and_warns(tell: Tell, run: Run) -> None:
    tell(say.booked())
    ran = run("log", say.TAG, "lf o su/2; walk 2 lf; block lf o", "--json", "--on", ON)
    said = ran.json()
    assert stated.keys("`log` `book-in` `group` `import` `strike`") <= set(said)
    assert len({uuid.UUID(each) for each in said["written"]}) == 3 and said["skipped"] == []
    (warning,) = [each for each in said["warnings"] if "open finding" in each["text"]]
    assert warning["entry"] in said["written"]
    kinds = [line["kind"] for line in run("bull", say.TAG, "--json", "--on", ON).json()["history"]]
    assert sorted(kinds) == ["block-on", "bull", "feet", "mobility"]


def test_import_of_several_files_is_one_result(run: Run, tmp_path: Path) -> None:
    one, two = tmp_path / "1.jsonl", tmp_path / "2.jsonl"
    one.write_text(json.dumps(say.booked("A")) + "\n", encoding="utf-8")
    two.write_text(json.dumps(say.booked("UK 700915 500015")) + "\n", encoding="utf-8")
    said = run("import", one, two, "--json").json()
    assert len(said["written"]) == 2 and len(said["warnings"]) == 1
    assert said["warnings"][0]["entry"] == said["written"][1]
