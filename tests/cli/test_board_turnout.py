"""``board --turnout``: which bulls change if turnout were another day, by hand on the small farm.

On 3 Apr 2026 the Heifers are turned out on 9 Apr, the Hill cows on 8 May. Ready are: Corran on 8
Apr (lifted today, a week after 1 Apr), Tarn on 20 Apr (the vet said so), Brock on 10 Apr (the block
off today and a week), Fenwick and Rowan today. Stray has no group, Gyle is out: neither changes.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import DAY

CORRAN, TARN, BROCK, FENWICK, ROWAN = "UK 123450 600417", "00122", "00093", "00310", "00288"
STANDING = {"turnout", "status", "hold", "outlook", "earliest_ready", "slack_days"}
Changed = Callable[..., dict[str, Any]]


@pytest.fixture
def changed(run: Run, book: Path) -> Changed:
    """Tag → change, were turnout on that day."""

    def found(turnout: str, *options: str) -> dict[str, Any]:
        ran = run("board", "--json", "--on", DAY, "--turnout", turnout, *options)
        assert (ran.code, ran.err) == (0, "")
        return {each["bull"]: each for each in ran.json()["changes"]}

    return found


def slack(changes: dict[str, Any]) -> dict[str, tuple[int, int]]:
    return {
        tag: (each["before"]["slack_days"], each["after"]["slack_days"])
        for tag, each in changes.items()
    }


def test_later_for_some_and_sooner_for_others(changed: Changed) -> None:
    """20 Apr: eleven days more for the Heifers, eighteen fewer for the Hill cows."""
    assert slack(changed("2026-04-20")) == {
        TARN: (-11, 0),
        BROCK: (28, 10),
        CORRAN: (1, 12),
        ROWAN: (6, 17),
        FENWICK: (6, 17),
    }


def test_one_gains_and_one_loses_his_outlook(changed: Changed) -> None:
    tarn, rowan = (changed("2026-04-20")[tag] for tag in (TARN, ROWAN))
    assert (tarn["before"]["outlook"], tarn["after"]["outlook"]) == ("too-late", "tight")
    # his walk of 2 Apr would be 18 days old: he is to be walked again
    assert (rowan["before"]["status"], rowan["after"]["status"]) == ("GO", "HOLD")
    assert (rowan["before"]["hold"], rowan["after"]["hold"]) == (None, "checks")


def test_sooner_there_is_no_day_for_what_he_waits_for(changed: Changed) -> None:
    """Out on the 5th: Corran's walk is the 8th, Brock's the 10th and healed the 6th."""
    changes = changed("2026-04-05")
    assert slack(changes) == {
        TARN: (-11, -15), BROCK: (28, -5), CORRAN: (1, -3), ROWAN: (6, 2), FENWICK: (6, 2),
    }  # fmt: skip
    assert changes[CORRAN]["missed"] == ["mobility"]
    assert {"clear:LH:inner:SU", "mobility"} <= set(changes[BROCK]["missed"])
    assert changes[FENWICK]["missed"] == changes[ROWAN]["missed"] == []
    # he had no day before, either
    assert "vet-exam" not in changes[TARN]["missed"]


def test_a_change_says_how_he_stood_and_would_stand(changed: Changed) -> None:
    for each in changed("2026-04-20").values():
        assert each.keys() >= {"bull", "before", "after", "missed"}
        assert each["before"].keys() >= STANDING
        assert each["after"].keys() >= STANDING
        assert each["after"]["turnout"] == "2026-04-20"


def test_they_stand_as_on_the_board_and_are_on_it(run: Run, book: Path, changed: Changed) -> None:
    said = run("board", "--json", "--on", DAY, "--turnout", "2026-04-20").json()
    tags = [bull["bull"] for bull in said["bulls"]]
    found = [each["bull"] for each in said["changes"]]
    assert found == [tag for tag in tags if tag in found]
    after = {bull["bull"]: bull for bull in said["bulls"]}
    for each in said["changes"]:
        assert each["after"] == {key: after[each["bull"]][key] for key in each["after"]}
    before = {bull["bull"]: bull for bull in run("board", "--json", "--on", DAY).json()["bulls"]}
    for each in said["changes"]:
        assert each["before"] == {key: before[each["bull"]][key] for key in each["before"]}


def test_the_same_day_changes_nobody_of_that_group(changed: Changed) -> None:
    assert changed("2026-04-09", "--group", "Heifers") == {}
    assert set(changed("2026-04-09")) == {BROCK}


def test_only_the_group_and_the_farm_that_are_asked_for(changed: Changed, run: Run) -> None:
    assert set(changed("2026-04-20", "--group", "Hill cows")) == {BROCK}
    assert len(changed("2026-04-20", "--farm", "Sallow Fell")) == 5
    ran = run("board", "--json", "--on", DAY, "--turnout", "2026-04-20", "--farm", "Nowhere")
    assert (ran.code, ran.out) == (66, "")


def test_without_a_turnout_asked_for_there_are_no_changes(run: Run, book: Path) -> None:
    assert "changes" not in run("board", "--json", "--on", DAY).json()
    assert "If turnout were" not in run("board", "--on", DAY).out


def test_in_words_below_the_board(run: Run, book: Path) -> None:
    text = run("board", "--on", DAY, "--turnout", "2026-04-20").out
    below = text[text.index("\nIf turnout were ") :].splitlines()
    assert below == [
        "",
        "If turnout were Mon 20 Apr 2026:",
        "Bulls that change:",
        "  00122 Tarn: HOLD, 11 days too late → HOLD, 0 days to spare (could go 20 Apr)",
        "  00417 Corran: HOLD, 1 day to spare → HOLD, 12 days to spare (could go 8 Apr)",
        "  00288 Rowan: GO → HOLD, 17 days to spare (could go today)",
        "  00310 Fenwick: HOLD, 6 days to spare → HOLD, 17 days to spare (could go",
        "    today)",
        "  1 bull more: only the days to spare change.",
    ]


def test_in_words_what_has_no_day_any_more(run: Run, book: Path) -> None:
    said = " ".join(run("board", "--on", DAY, "--turnout", "2026-04-05").out.split())
    assert (
        "00417 Corran: HOLD, 1 day to spare → HOLD, 3 days too late (could go 8 Apr, no day before "
        "turnout for: score his walk)"
    ) in said


def test_in_words_nobody(run: Run, book: Path) -> None:
    text = run("board", "--on", DAY, "--turnout", "2026-04-09", "--group", "Heifers").out
    assert text.endswith("\nIf turnout were Thu 9 Apr 2026:\nNo bull changes.\n")


def test_a_sheet_has_the_board_alone(run: Run, book: Path) -> None:
    ran = run("board", "--csv", "--on", DAY, "--turnout", "2026-04-20")
    assert ran.code == 0
    assert "If turnout were" not in ran.out and "Bulls that change" not in ran.out


def test_it_still_fails_on_hold(run: Run, book: Path) -> None:
    ran = run("board", "--json", "--on", DAY, "--turnout", "2026-04-20", "--fail-on-hold")
    assert ran.code == 1 and ran.json()["changes"]
