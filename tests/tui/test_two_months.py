"""A farm of twenty bulls over two months, played through the screens: what that costs in keys, and
whether each GO and HOLD is what the paper says that was kept beside it.

The farm, its bulls and its days are invented; the paper was kept by hand in a trial of the
program."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import pytest

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.report.rows import check_words, mark
from readiness.system.clock import FixedClock
from tests.tui.crush_driver import _NAMES, crush_app
from tests.tui.driver import press, settled

NAMED = {"enter", "escape", "up", "down", "backspace"}
SOUND, SCORED = "t w0 c32 enter", "enter w0 c32 enter"
PASSED = "enter l vet_ok_cm_37_mot_65_norm_78 enter"
MOST, MOST_TYPED = 2093, 742
"""Keys in all, and those of them that write the vet's words in shorthand: as measured, so that
whatever makes a day dearer is seen."""


def each(tags: str, keys: str) -> str:
    """Each of these bulls comes, by the end of his tag, and the same is said of him."""
    return " ".join(f"/{tag} {keys}" for tag in tags.split())


class Day(NamedTuple):
    """``keys``: as they are pressed; of what is no name of a key each character is one, and _ a
    space."""

    on: str
    keys: str


DAYS = (
    Day("2027-03-01",
        "3 Heifers enter 24_apr enter 70 enter enter Brackenholme enter "
        "4101,4102,4103,4104,4105,4106,4107,4108 enter down Bramble up up y enter "
        "2024 down Corrie down 3 up up up y enter " + "up y enter " * 5 +
        "down Dunlin down down down 2 down 15_jan down y enter "
        "w3 Cows enter 1_may enter 330 enter enter Brackenholme enter "
        "4201,4202,4203,4204,4205,4206,4207,4208,4209,4210,4211,4212 enter "
        "down Sorrel up up enter escape"),
    Day("2027-03-02",
        "cg1 /203t 4osu42bp w24 c32 enter /201t 3otu12pb w23 c32 enter "
        + each("202 204 206 207 208 209 210 211 212", SOUND) +
        " /205t 1ohf111p w0 c32 enter " + SOUND +
        # Said of Corrie, and given to 4103, who stood there; then Corrie himself.
        " t 4,dd.02r c30 yh 103 enter w1 enter t w0 c32 k780 enter enter /105t 3,ip02d"),
    Day("2027-03-02",  # gone on with after the program was ended in the middle of 4105
        "c w23 c30 enter enter u enter t w0 c32 k805 enter enter " + SOUND +
        " t 1owl232p c32 w1 enter /107 enter * f2 enter "
        "/108t w0 c32 m limped_in_autumn,_says_the_farmer enter enter"),
    Day("2027-03-04", "c /201 enter v2 2 down 3 down 18_mar down 3 down down down "
        "Ines_Corvane enter enter enter"),
    Day("2027-03-05", "/103 enter l-3 enter escape /105 enter l- enter"),
    Day("2027-03-09",
        "c 3h w0 enter 3-d w1 enter 2- w0 enter 4-3r enter enter "
        "/107 enter * d backspace 8_mar enter enter"),
    Day("2027-03-16", "c /105 enter 3h w0 enter /103 enter 4hr w0 enter"),
    Day("2027-03-18",
        "w3 Cows enter enter enter enter enter 4213 enter down Harrow down down down 2 down 17_mar "
        "enter c /101 enter v9 1 down down 36 down 1 down 60 down 2 down y down 75 "
        + "down " * 5 + "Ines_Corvane enter enter enter "
        + each("102 103 106 107 108", PASSED) +
        " /104 enter l vet_again_15_apr_cm_31_mot_40_norm_50 enter"
        " /105 enter l vet_ok_cm_37_mot_65_norm_78;_vetlook_foot_fit_lh enter"
        " /201 enter l vetlook_foot_again_1_apr_lh enter"
        " /203 enter l vetlook_foot_fit_rh enter"),
    Day("2027-03-23", "c /203 enter 4- w1 enter /213t w0 c32 enter"),
    Day("2027-03-30",
        "c /201 enter 3h w1 enter /107 enter 2h w0 enter /203 enter 4= w0 enter"),
    Day("2027-04-06",
        "c /201 enter 3=b- w1 enter /203 enter 4hb- w0 enter "
        + each("202 205 206 207 208 209 210 211 212 213", PASSED) +
        " /204 enter l vet_no_cm_27_mot_20_norm_40 enter"
        " /201 enter l vetlook_foot_fit_lh;_vet_ok_cm_38_mot_70_norm_80 enter"
        " /203 enter l vetlook_foot_fit_rh;_vet_ok_cm_37_mot_65_norm_78 enter"),
    Day("2027-04-13",  # one died on the 10th, one is sold, two go to the other group
        "cg1 /206 enter v53 down 3 up up 10_apr up enter /212 enter v53 down 1 up up up enter "
        "enter /202 enter v6 1 up up enter w0 c32 enter /108 enter v6 2 up up enter w0 c32 enter "
        "/201 enter 3h w0 c32 enter " + each("203 101 102 103 105 106 107", SCORED)),
    Day("2027-04-15",
        "c /104 enter l vet_again_29_apr_cm_32_mot_45_norm_55;_walk_0;_cond_3.25 enter"),
    Day("2027-04-24", "t1 ly enter no_other,_and_the_vet_agreed enter y"),
    Day("2027-04-30",
        "c /104 enter l vet_ok_cm_34_mot_62_norm_72 enter /204 enter w0 c30 enter "
        + each("108 201", "enter w0 enter") + " /203 enter w1 enter "
        + each("205 207 208 210 211 213", SCORED) + " /209 enter w21 c32 enter"),
    Day("2027-05-01", "t2 ly"),
    Day("2027-05-08",
        "c /209 enter 1owl232pb w21 enter /205 enter w21 c30 enter /104 enter w0 enter"),
)  # fmt: skip


IN_THE_MIDDLE = DAYS[1]
"""The program was ended there."""


class Paper(NamedTuple):
    """Who is held for a reason and who is GO at the end of a day; of the others checks are to
    come."""

    held: str
    go: str = ""


PAPER = {
    # A toe ulcer and a sole ulcer, each on a block; dermatitis under a wrap; foul; an abscess.
    "2027-03-02": Paper("4103 4105 4107 4201 4203"),
    "2027-03-05": Paper("4103 4105 4107 4201 4203"),  # better is not healed
    "2027-03-09": Paper("4103 4105 4107 4201 4203"),  # nor is healed, said too early
    "2027-03-16": Paper("4105 4107 4201 4203"),  # the vet has not looked at the foul yet
    "2027-03-18": Paper("4104 4107 4201 4203 4213"),  # deferred; in quarantine
    "2027-03-30": Paper("4104 4201 4203 4213"),
    "2027-04-06": Paper("4104 4201 4203 4204 4213"),  # failed by the vet
    "2027-04-13": Paper("4104 4204 4213", "4101 4102 4103 4105 4106 4107 4202"),
    "2027-04-24": Paper("4104 4204", "4101 4102 4103 4105 4106 4107 4202"),
    "2027-04-30": Paper(
        "4204 4209",
        "4101 4102 4103 4104 4105 4106 4107 4108 4201 4202 4203 4205 4207 4208 4210 4211 4213",
    ),
    "2027-05-08": Paper(
        "4204 4205 4209",
        "4101 4102 4103 4104 4105 4106 4107 4108 4201 4202 4203 4207 4208 4210 4211 4213",
    ),
}
TO_COME = {
    "4205": ["lift LF", "walk again"],
    "4209": ["look LF outer", "healed? LF outer", "block off LF", "look LF", "walk"],
}
"""What is still to be done at the end; of all others, nothing."""


def pressed(keys: str) -> list[str]:
    found: list[str] = []
    for part in keys.split():
        found += [part] if part in NAMED else [_NAMES.get(c, c) for c in part.replace("_", " ")]
    return found


def day_at(path: Path, on: str) -> Desk:
    clock = FixedClock(datetime.fromisoformat(f"{on}T09:00").replace(tzinfo=UTC))
    return Desk(Book(path, clock, device="crush"), None, clock, who="A. Trimmer")


@pytest.mark.at_length
async def test_two_months_cost_no_more_keys_and_each_go_and_hold_is_the_papers(
    tmp_path: Path,
) -> None:
    spent = typed = 0
    for day in DAYS:
        desk = day_at(tmp_path / "bulls.duckdb", day.on)
        app, keys = crush_app(desk), pressed(day.keys)
        spent += len(keys)
        typed += sum(len(pressed(line)) for line in re.findall(r" l (\S+)", day.keys))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            await press(pilot, *keys)
        bulls = desk.board().bulls
        if day != IN_THE_MIDDLE and (paper := PAPER.get(day.on)):
            held = sorted(bull.bull for bull in bulls if mark(bull) == "reason")
            go = sorted(bull.bull for bull in bulls if bull.status == "GO")
            assert (held, go) == (paper.held.split(), paper.go.split()), day.on
    to_come = {b.bull: [check_words(check) for check in b.outstanding] for b in bulls}
    assert {bull: checks for bull, checks in to_come.items() if checks} == TO_COME
    assert [bull.bull for bull in bulls if mark(bull) == "care"] == ["4201", "4202", "4203"]
    assert spent <= MOST, spent
    assert typed <= MOST_TYPED, typed
