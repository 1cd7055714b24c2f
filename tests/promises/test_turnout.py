"""``turnout``: who goes, who stays and why; letting out, by one batch, and on HOLD only by name."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.build import Line, said, walk
from tests.cli.conftest import Ran, Run
from tests.cover.farms import ON, bull, cows
from tests.pages.books import spaced
from tests.promises.conftest import Tell

TEAM: list[Line] = [
    cows(70), *bull("B 1"), *bull("B 2"), walk("2026-04-27", 2, tag="B 2", limb="LF"),
    *bull("B 3", role="reserve"), *bull("B 4", go=False),
]  # fmt: skip
Turnout = Callable[..., Ran]


@pytest.fixture
def turnout(tell: Tell, run: Run) -> Turnout:
    tell(*TEAM)
    return lambda *options: run("turnout", "hill", *options, "--on", ON)


def test_who_goes_who_stays_and_from_when_he_could_follow(turnout: Turnout) -> None:
    text = " ".join(turnout().out.split())
    for words in (
        "Turnout of Hill, Fri 1 May", "70 cows: 1 GO bull carries 35",
        "Goes (1) ● B 1: walked today, 0 (GB scale 0-3)",
        "■ B 2: lame LF since 27 Apr; lift LF, asked for 27 Apr, not done; could follow from 4 May",
        "□ B 4: checks to come", "Reserve (1) ● B 3: GO, to replace one who stays",
        "Walk each of them once more on the day",
    ):  # fmt: skip
        assert words in text


def test_the_same_for_programs(turnout: Turnout) -> None:
    told = turnout("--json").json()
    assert told["goes"] == [{"bull": "B 1", "name": None, "walked": ON}]
    assert [bull["bull"] for bull in told["stays"]] == ["B 2", "B 4"]
    assert told["stays"][0]["earliest_ready"] == "2026-05-04"
    assert (told["group"], told["short"]) == ("Hill", 0)


def test_those_who_are_go_are_let_out_in_one_batch_that_one_undo_takes_back(
    turnout: Turnout, run: Run
) -> None:
    assert "Out: B 1, 3 days before turnout." in turnout("--let-out").out
    assert [bull["bull"] for bull in turnout("--json").json()["out"]] == ["B 1"]
    assert turnout("--let-out").code == 2  # nobody is left to let out
    assert run("undo").code == 0
    assert turnout("--json").json()["out"] == []


def test_one_on_hold_goes_only_by_name_and_with_a_reason(turnout: Turnout, run: Run) -> None:
    refused = turnout("--let-out", "--also", "B 2")
    assert refused.code == 2
    assert "lame LF" in refused.err and "--why" in refused.err
    gone = turnout("--let-out", "--also", "B 2", "--why", "the vet rang: with three cows only")
    assert gone.code == 0
    assert "goes out on hold: lame LF" in gone.err
    entry = run("bull", "B 2", "--json", "--on", ON).json()["history"][0]
    assert (entry["act"], entry["note"]) == ("out", "the vet rang: with three cows only")


def test_why_one_on_hold_was_let_out_stays_on_his_card_the_board_and_the_sheet(
    turnout: Turnout, run: Run, tell: Tell, tmp_path: Path
) -> None:
    why = "the vet rang: with three cows only"
    assert turnout("--let-out", "--also", "B 2", "--why", why).code == 0
    tell(walk("2026-04-28", 2, tag="B 2", limb="LF"))  # for the sheet of the day
    noted = f"let out on 28 Apr, noted: {why}"
    page = tmp_path / "wall.html"
    assert run("board", "--html", page, "--on", ON).code == 0
    card, sheet = (run(*told, "--on", ON).out for told in (("bull", "B 2"), ("sheet",)))
    for text in (card, sheet, spaced(page.read_text(encoding="utf-8"))):
        assert noted in " ".join(text.split())
    bulls = run("board", "--json", "--on", ON).json()["bulls"]
    reasons = next(bull["reasons"] for bull in bulls if bull["bull"] == "B 2")
    assert [each["text"] for each in reasons if each["rule"] == "out.told"] == [noted]
    assert run("undo").code == 0  # the walk
    assert run("undo").code == 0
    assert noted not in run("bull", "B 2", "--on", ON).out


def test_a_reserve_that_is_go_may_go_by_name_alone(turnout: Turnout, run: Run) -> None:
    assert "Out: B 1 and B 3, 3 days before turnout." in turnout("--let-out", "--also", "B 3").out
    told = run("cover", "--json", "--on", ON).json()["groups"][0]
    assert told["capacity_go"] == 70  # who goes out in the place of another works


def test_one_who_is_go_for_turnout_alone_is_not_let_out_before_he_would_be(
    turnout: Turnout, run: Run, tell: Tell, tmp_path: Path
) -> None:
    # A test that counts from the fifth day after it: let out three days early he lacks it at once.
    lag = '[[check]]\nname = "fluke"\nwho = "farmer"\nfrom = 60\nlag = 5\n'
    (tmp_path / "own.toml").write_text(lag, encoding="utf-8")
    rules = ("--rules", str(tmp_path / "own.toml"))
    tell(said("check", "2026-04-25", check="fluke", result="pass"))
    assert turnout(*rules, "--json").json()["goes"] == []
    words = "● B 1: GO for 1 May, too early today (fluke passed); could go with them, ready from"
    assert words in " ".join(turnout(*rules).out.split())
    assert turnout(*rules, "--let-out").code == 2
    refused = turnout(*rules, "--let-out", "--also", "B 1")
    assert (refused.code, "B 1 is GO for 1 May, too early today" in refused.err) == (2, True)
    assert turnout(*rules, "--let-out", "--also", "B 1", "--why", "the vet rang").code == 0
    board = run("board", "--json", "--on", ON, *rules).json()["bulls"]
    told = next(bull for bull in board if bull["bull"] == "B 1")
    assert "went out without: fluke" in [reason["text"] for reason in told["reasons"]]


@pytest.mark.parametrize(
    ("options", "code", "words"),
    [
        (["--also", "B 2"], 2, "--let-out"),
        (["--let-out", "--also", "B 1"], 2, "goes anyway"),
        (["--let-out", "--also", "B 9"], 66, "B 9"),
        (["--farm", "Moss"], 66, "Moss"),
    ],
)
def test_what_cannot_be_done_writes_nothing(
    turnout: Turnout, options: list[str], code: int, words: str
) -> None:
    ran = turnout(*options)
    assert (ran.code, words in ran.err) == (code, True)
    assert turnout("--json").json()["out"] == []


def test_a_group_of_two_farms_is_asked_about(tell: Tell, run: Run) -> None:
    tell(cows(30, farm="Low"), cows(30, farm="Top"), *bull("B 1", farm="Top"))
    ran = run("turnout", "Hill", "--on", ON)
    assert ran.code == 2
    assert '--farm "Low" and --farm "Top"' in ran.err
    assert run("turnout", "Hill", "--farm", "Top", "--on", ON).code == 0


def test_a_group_whose_season_is_over_says_so(turnout: Turnout, run: Run) -> None:
    over = run("turnout", "Hill", "--on", "2026-12-01")
    assert (over.code, "season of Hill is over" in over.err) == (66, True)


def test_the_page_for_the_gate_has_a_box_for_each_who_goes(
    turnout: Turnout, tmp_path: Path
) -> None:
    page = tmp_path / "gate.html"
    assert turnout("--html", page).code == 0
    html = spaced(page.read_text(encoding="utf-8"))
    assert html.count("☐") == 1
    assert "lame LF since 27 Apr" in html


def test_who_was_brought_in_again_is_not_out(turnout: Turnout, tell: Tell) -> None:
    tell(said("moved", ON, "B 1", act="out"), said("moved", ON, "B 1", act="in"))
    assert turnout("--json").json()["out"] == []
