"""``cover``: text, JSON, CSV and a page; moves taken and taken back; what is refused."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.build import Line, condition, join, said, walk
from tests.cli.conftest import Ran, Run
from tests.cover.farms import ON, bull, cows
from tests.pages.books import spaced
from tests.promises.conftest import Tell

SHORT: list[Line] = [cows(70), *bull("B 1"), *bull("B 2", role="reserve")]
Cover = Callable[..., Ran]
OUT_KEYS = ("bulls_out", "capacity_out", "short_out", "chance_out", "short_out_if_one_fails",
            "bulls_waiting", "capacity_waiting")  # fmt: skip


@pytest.fixture
def cover(tell: Tell, run: Run) -> Cover:
    tell(*SHORT)
    return lambda *options: run("cover", *options, "--on", ON)


def test_every_key_that_others_rely_on_is_there(cover: Cover) -> None:
    told = cover("--json").json()
    (group,) = told["groups"]
    assert group == {
        "farm": None, "group": "Hill", "turnout": "2026-05-01", "class": "cows", "females": 70,
        "workers": 1, "capacity_go": 35, "capacity_forecast": 35, "short": 35,
        "covered_from": None, "chance": 0.0, "spare_for_90": 2, "spare_for_95": 2,
        "short_if_one_fails": 70, "first_calf": "2027-02-08", "last_calf": "2027-05-03",
        "last_day": "2026-07-24", "bulls_out": None, "capacity_out": None, "short_out": None,
        "chance_out": None, "short_out_if_one_fails": None, "bulls_waiting": None,
        "capacity_waiting": None,
    }  # fmt: skip
    assert told["on"] == ON
    assert told["stand_ins"] == [{
        "farm": None, "group": "Hill", "bull": "B 2", "name": None, "ready": ON,
        "place": "reserve of Hill",
    }]  # fmt: skip
    assert told["allocation"] == [{
        "farm": None, "bull": "B 2", "group": "Hill", "from": "Hill", "role_before": "reserve",
        "short_before": 35, "short_after": 0, "chance_before": 0.0, "chance_after": 0.81,
        "ask_first": [],
    }]  # fmt: skip


def test_in_the_season_json_csv_and_page_tell_who_is_out_from_who_waits(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    tell(cows(90), *bull("B 1"), *bull("B 2"), said("moved", "2026-05-01", "B 1", act="out"))
    on = ("--on", "2026-05-05")
    (group,) = run("cover", "--json", *on).json()["groups"]
    told = {key: group[key] for key in OUT_KEYS}
    assert told == dict(zip(OUT_KEYS, (1, 35, 55, 0.0, 90, 1, 35), strict=True))
    (record,) = csv.DictReader(io.StringIO(run("cover", "--csv", *on).out))
    assert [record[key] for key in OUT_KEYS] == ["1", "35", "55", "0.0", "90", "1", "35"]
    page = tmp_path / "cover.html"
    assert run("cover", "--html", page, *on).code == 0
    words = "90 cows: 1 out carries 35; short by 55; 1 waits, GO, would carry 35"
    assert words in spaced(page.read_text(encoding="utf-8"))
    assert words in " ".join(run("board", *on).out.split())
    assert run("board", "--html", page, *on).code == 0
    assert words in spaced(page.read_text(encoding="utf-8"))


def test_the_text_says_what_is_short_what_mends_it_and_the_chance(cover: Cover) -> None:
    text = " ".join(cover().out.split())
    for words in (
        "! Hill, turnout Fri 1 May", "70 cows", "1 GO bull carries 35: 35 females without a bull",
        "short by 35", "no chance (0 %)", "B 2 (reserve there) works in Hill",
        "short 35 before, 0 after",
        "8 times in 10 (81 %) after", "8 Feb 2027 to 3 May 2027",
    ):  # fmt: skip
        assert words in text


def test_where_no_move_mends_it_a_later_turnout_that_does_is_told(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    late = walk("2026-04-27", 2, tag="B 2", limb="LF")
    tell(cows(70), *bull("B 1"), *bull("B 2"), late)
    assert run("cover", "--json", "--on", ON).json()["put_off"] == [{
        "farm": None, "group": "Hill", "turnout": "2026-05-04", "days": 3, "with_moves": None,
        "short_before": 35, "chance_before": 0.0, "chance_after": 0.81,
        "first_calf_before": "2027-02-08", "first_calf_after": "2027-02-11",
    }]  # fmt: skip
    words = "Hill: turnout put off to 4 May (3 days): enough, if every check passes; first calf"
    assert words in " ".join(run("cover", "--on", ON).out.split())
    page = tmp_path / "cover.html"
    assert run("cover", "--html", page, "--on", ON).code == 0
    assert words in spaced(page.read_text(encoding="utf-8"))
    then = run("cover", "--json", "--on", ON, "--turnout", "2026-05-04").json()
    assert (then["groups"][0]["short"], then["put_off"]) == (0, [])


def test_after_the_season_text_json_and_page_tell_what_a_bull_is_due(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    tell(
        cows(35, weeks=9), *bull("B 1"), said("moved", "2026-05-01", "B 1", act="out"),
        walk("2026-05-20", 2, tag="B 1", limb="LF"), said("moved", "2026-07-03", "B 1", act="in"),
        condition("2026-07-03", 2.75, tag="B 1"),
        cows(30, "Shore", "2026-07-10"), join("B 1", "Shore", on="2026-07-03"),
        *bull("B 2"), said("moved", "2026-05-01", "B 2", act="out"),
    )  # fmt: skip
    on = ("--on", "2026-07-06")
    told = run("cover", "--json", *on).json()
    assert told["out_of_season"] == ["B 2"]
    out, back = told["after_season"]
    assert (out["bull"], out["back"], out["rest_until"]) == ("B 2", None, None)
    assert back == {
        "bull": "B 1", "name": None, "farm": None, "group": "Hill", "last_day": "2026-07-03",
        "out": "2026-05-01", "back": "2026-07-03", "rest_until": "2026-07-13",
        "out_again": "2026-07-10", "last_passed": "2026-04-01", "exam_due": True,
        "lost": [{"what": "condition", "before": 3.25, "before_on": "2026-04-28", "now": 2.75,
                  "now_on": "2026-07-03"}],
        "troubles": [{"what": "lame", "on": "2026-05-20"}],
    }  # fmt: skip
    page = tmp_path / "cover.html"
    assert run("cover", "--html", page, *on).code == 0
    html, text = spaced(page.read_text(encoding="utf-8")), " ".join(run("cover", *on).out.split())
    for words in (
        "B 2: the season was over on 3 Jul", "B 1, lame 20 May, no examination passed",
        "B 1 lost 0.5 of condition (3.25 on 28 Apr, 2.75 on 3 Jul): score him again",
        "at least 10 days, to 13 Jul",
    ):  # fmt: skip
        assert words in html
        assert words in text
    hill = run("cover", "--group", "Shore", "--json", *on).json()
    assert (hill["after_season"], hill["out_of_season"]) == ([], [])


def test_who_is_out_still_is_said_where_no_group_has_a_season_any_more(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    tell(cows(35, weeks=9), *bull("B 1"), said("moved", "2026-05-01", "B 1", act="out"))
    page = tmp_path / "cover.html"
    assert run("cover", "--html", page, "--on", "2026-07-06").code == 0
    for told in (run("cover", "--on", "2026-07-06").out, spaced(page.read_text(encoding="utf-8"))):
        words = " ".join(told.split())
        assert "No group has a season" in words
        assert "B 1: the season was over on 3 Jul" in words


def test_the_moves_are_taken_in_one_batch_and_taken_back_by_one_undo(
    cover: Cover, run: Run
) -> None:
    taken = cover("--take")
    assert "B 2 (reserve there) works in Hill" in taken.out
    assert cover("--json").json()["groups"][0]["short"] == 0
    assert cover("--take").code == 2  # nothing is short any more
    assert run("undo").code == 0
    assert cover("--json").json()["groups"][0]["short"] == 35


def test_what_if_changes_nothing_in_the_book(cover: Cover) -> None:
    assert cover("--json", "--females", "35").json()["groups"][0]["short"] == 0
    moved = cover("--json", "--turnout", "2026-07-20").json()["groups"][0]
    assert (moved["turnout"], moved["capacity_go"]) == ("2026-07-20", 0)  # his walk is too old then
    assert cover("--json").json()["groups"][0]["short"] == 35


def test_csv_and_page_say_the_same(cover: Cover, tmp_path: Path) -> None:
    (record,) = csv.DictReader(io.StringIO(cover("--csv").out))
    assert (record["short"], record["covered_from"], record["chance"]) == ("35", "", "0.0")
    page = tmp_path / "cover.html"
    assert cover("--html", page).code == 0
    html = spaced(page.read_text(encoding="utf-8"))
    assert "70 cows: 1 GO bull carries 35; short by 35" in html
    assert "<svg" in html


@pytest.mark.parametrize(
    ("options", "code", "words"),
    [
        (["--group", "Hull"], 66, "Hill"),
        (["--farm", "Moss"], 66, "Moss"),
        (["--females", "many"], 2, "whole number"),
        (["--females", "9999999"], 2, "too many"),
        (["--take", "--females", "90"], 2, "take the what-if away"),
        (["--turnout", "soon"], 2, "2026-04-03"),
        (["--turnout", "2025-05-01"], 66, "2025-05-01, Hill would be past the season"),
    ],
)
def test_what_cannot_be_answered_is_said_in_one_sentence(
    cover: Cover, options: list[str], code: int, words: str
) -> None:
    ran = cover(*options)
    assert ran.code == code
    assert words in ran.err


def test_a_book_without_groups_says_how_to_write_one(tell: Tell, run: Run) -> None:
    tell(*bull("B 1", None))
    assert "readiness group" in run("cover", "--on", ON).out
    assert run("cover", "--json", "--on", ON).json()["groups"] == []
