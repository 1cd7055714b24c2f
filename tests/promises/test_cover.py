"""``cover``: text, JSON, CSV and a page; moves taken and taken back; what is refused."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.build import Line
from tests.cli.conftest import Ran, Run
from tests.cover.farms import ON, bull, cows
from tests.promises.conftest import Tell

SHORT: list[Line] = [cows(70), *bull("B 1"), *bull("B 2", role="reserve")]
Cover = Callable[..., Ran]


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
        "last_day": "2026-07-24",
    }  # fmt: skip
    assert told["on"] == ON
    assert told["allocation"] == [{
        "farm": None, "bull": "B 2", "group": "Hill", "from": "Hill", "role_before": "reserve",
        "short_before": 35, "short_after": 0, "chance_before": 0.0, "chance_after": 0.81,
        "ask_first": [],
    }]  # fmt: skip


def test_the_text_says_what_is_short_what_mends_it_and_the_chance(cover: Cover) -> None:
    text = " ".join(cover().out.split())
    for words in (
        "! Hill, turnout Fri 1 May", "70 cows", "1 GO bull carries 35: 35 females without a bull",
        "short by 35", "no chance (0 %)", "B 2 (reserve there) works in Hill",
        "short 35 before, 0 after",
        "8 times in 10 (81 %) after", "8 Feb 2027 to 3 May 2027",
    ):  # fmt: skip
        assert words in text


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
    html = page.read_text(encoding="utf-8")
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
