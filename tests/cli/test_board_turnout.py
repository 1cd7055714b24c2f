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
from tests.cli.small_book import DAY, FARM, bull, sound, write
from tests.pages.books import spaced
from tests.promises.stated import keys

CORRAN, TARN, BROCK, FENWICK, ROWAN = "UK 123450 600417", "00122", "00093", "00310", "00288"
STANDING = {"turnout", "status", "hold", "outlook", "earliest_ready", "slack_days"}
ALL_OF_IT = ("--farm", FARM)
WALK = {"what": "too-old", "check": "mobility", "kind": "mobility", "rule": "mobility.oldest",
        "text": "score his walk"}  # fmt: skip
CONDITION = {"what": "too-old", "check": "condition", "kind": "condition",
             "rule": "condition.oldest", "text": "score his condition"}  # fmt: skip
Changed = Callable[..., dict[str, Any]]


@pytest.fixture
def changed(run: Run, book: Path) -> Changed:
    """Tag → change, were turnout on that day; of the whole farm where nothing else is asked."""

    def found(turnout: str, *options: str) -> dict[str, Any]:
        ran = run("board", "--json", "--on", DAY, "--turnout", turnout, *(options or ALL_OF_IT))
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
        assert each.keys() >= {"bull", "before", "after", "missed", "why"}
        assert each["before"].keys() >= STANDING
        assert each["after"].keys() >= STANDING
        assert each["after"]["turnout"] == "2026-04-20"


def test_they_stand_as_on_the_board_and_are_on_it(run: Run, book: Path, changed: Changed) -> None:
    said = run("board", "--json", "--on", DAY, "--turnout", "2026-04-20", *ALL_OF_IT).json()
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
    text = run("board", "--on", DAY, "--turnout", "2026-04-20", *ALL_OF_IT).out
    below = text[text.index("\nIf turnout were ") :].splitlines()
    assert below == [
        "",
        "If turnout were Mon 20 Apr 2026:",
        "Bulls that change:",
        "  00122 Tarn: HOLD, 11 days too late → HOLD, 0 days to spare (could go 20 Apr,",
        "    his walk grows too old, his condition score grows too old, a day now for:",
        "    breeding examination by the vet)",
        "  00417 Corran: HOLD, 1 day to spare → HOLD, 12 days to spare (could go 8 Apr,",
        "    his condition score grows too old)",
        "  00288 Rowan: GO → HOLD, 17 days to spare (could go today, his walk grows too",
        "    old, his condition score grows too old)",
        "  00310 Fenwick: HOLD, 6 days to spare → HOLD, 17 days to spare (could go",
        "    today, his condition score grows too old)",
        "  1 bull more: only the days to spare change.",
        "In all:",
        "  1 bull becomes ready in time, if every check passes: Tarn.",
        "  6 jobs added, none taken away.",
        "  Heifers, Sallow Fell: first calving moves from 17 Jan 2027 to 28 Jan 2027.",
        "  Hill cows, Sallow Fell: first calving moves from 15 Feb 2027 to 28 Jan 2027.",
    ]


def test_in_words_what_has_no_day_any_more(run: Run, book: Path) -> None:
    said = " ".join(run("board", "--on", DAY, "--turnout", "2026-04-05", *ALL_OF_IT).out.split())
    assert (
        "00417 Corran: HOLD, 1 day to spare → HOLD, 3 days too late (could go 8 Apr, no day before "
        "turnout for: score his walk)"
    ) in said


def test_in_words_nobody(run: Run, book: Path) -> None:
    text = run("board", "--on", DAY, "--turnout", "2026-04-09", "--group", "Heifers").out
    assert text.endswith("\nIf turnout were Thu 9 Apr 2026:\nNo bull changes.\n")


def test_a_sheet_has_the_board_alone(run: Run, book: Path) -> None:
    ran = run("board", "--csv", "--on", DAY, "--turnout", "2026-04-20", *ALL_OF_IT)
    assert ran.code == 0
    assert "If turnout were" not in ran.out and "Bulls that change" not in ran.out


def test_it_still_fails_on_hold(run: Run, book: Path) -> None:
    ran = run(
        "board", "--json", "--on", DAY, "--turnout", "2026-04-20", *ALL_OF_IT, "--fail-on-hold"
    )
    assert ran.code == 1 and ran.json()["changes"]


# ---- why, and what it comes to in all ------------------------------------------------------------


def test_why_each_changes(changed: Changed) -> None:
    """20 Apr: a walk of 2 Apr is 18 days old then, of at most 14; a condition of 20 Mar 31, of at
    most 30; the vet sees Tarn again from the 20th, who had no day for it before the 9th."""
    why = {tag: each["why"] for tag, each in changed("2026-04-20").items()}
    gained = {"what": "day-gained", "check": "vet-exam", "kind": "vet-exam", "rule": "vet.oldest",
              "text": "breeding examination by the vet"}  # fmt: skip
    assert why == {
        TARN: [WALK, CONDITION, gained],
        CORRAN: [CONDITION],
        ROWAN: [WALK, CONDITION],
        FENWICK: [CONDITION],
        BROCK: [],
    }


def test_a_day_s_difference_is_no_older_than_the_rule_allows(changed: Changed) -> None:
    """On 16 Apr the walk of the 2nd is 14 days old and counts; on the 17th it does not."""
    assert changed("2026-04-16")[ROWAN]["why"] == []
    assert changed("2026-04-17")[ROWAN]["why"] == [WALK]


def test_a_turnout_that_is_past_gives_no_check_a_day(changed: Changed) -> None:
    """Nothing is bounded by it any more: that is no day before it. Tarn had none before the 9th."""
    tarn = changed("2026-04-02")[TARN]
    assert tarn["after"]["turnout"] == "2026-04-02"
    assert "day-gained" not in [each["what"] for each in tarn["why"]]


def test_what_was_too_old_is_recent_enough_sooner(run: Run, book: Path, changed: Changed) -> None:
    """Planned for the 20th, asked for the 9th: the other way round."""
    group = ("group", "Heifers", "--turnout", "2026-04-20", "--farm", FARM, "--on", DAY)
    assert run(*group).code == 0
    why = {tag: [each["what"] for each in one["why"]] for tag, one in
           changed("2026-04-09", "--group", "Heifers").items()}  # fmt: skip
    assert why == {
        TARN: ["recent-enough", "recent-enough", "day-lost"],
        CORRAN: ["recent-enough"],
        ROWAN: ["recent-enough", "recent-enough"],
        FENWICK: ["recent-enough"],
    }
    asked = ("board", "--on", DAY, "--turnout", "2026-04-09", "--group", "Heifers")
    said = " ".join(run(*asked).out.split())
    assert "his walk is recent enough, his condition score is recent enough)" in said
    assert "In all: 1 bull is lost to it: Tarn. No job added, 6 taken away." in said


def test_old_enough_then_and_too_young_sooner(run: Run, tmp_path: Path) -> None:
    """Kite, born 15 Apr 2025, is 14 months old on 15 Jun 2026."""
    young = [
        {"kind": "group", "on": "2026-01-10", "group": "Late", "turnout": "2026-06-10",
         "farm": FARM},
        *bull("00777", "Kite", "Late"),
        {"kind": "bull", "on": "2026-01-10", "bull": "00777", "born": "2025-04-15"},
    ]  # fmt: skip
    assert run("import", write(tmp_path / "young.jsonl", young)).code == 0
    later = ("board", "--on", DAY, "--turnout", "2026-06-16")
    (kite,) = run(*later, "--json").json()["changes"]
    assert [(each["what"], each["check"], each["rule"]) for each in kite["why"]] == [
        ("reason-goes", None, "age.least"),
    ]
    assert (kite["before"]["hold"], kite["after"]["hold"]) == ("reason", "checks")
    assert "old enough now)" in " ".join(run(*later).out.split())
    moved = ("group", "Late", "--turnout", "2026-06-16", "--farm", FARM, "--on", DAY)
    assert run(*moved).code == 0
    sooner = ("board", "--on", DAY, "--turnout", "2026-06-10")
    (kite,) = run(*sooner, "--json").json()["changes"]
    assert [each["what"] for each in kite["why"]] == ["reason-comes"]
    assert "too young, under 14 months until 15 Jun)" in " ".join(run(*sooner).out.split())


def test_a_farm_s_own_check_grows_too_old_or_comes_too_late(run: Run, tmp_path: Path) -> None:
    """Kite's ring-check of 20 Mar counts for 30 days, his blood-test of 1 Apr from 14 days on."""
    rules = tmp_path / "own.toml"
    rules.write_text(
        '[[check]]\nname = "ring-check"\nwho = "farmer"\nfrom = 30\nto = 0\n'
        '[[check]]\nname = "blood-test"\nwho = "vet"\nfrom = "ever"\nlag = 14\n'
    )
    passed = {"kind": "check", "bull": "00777", "result": "pass"}
    own = [
        {"kind": "group", "on": "2026-01-10", "group": "Hill", "turnout": "2026-04-09"},
        *bull("00777", "Kite", "Hill", farm=None),
        *sound("00777"),
        {**passed, "on": "2026-03-20", "check": "ring-check"},
        {**passed, "on": "2026-04-01", "check": "blood-test"},
    ]
    given = ("--rules", rules, "--on", DAY)
    assert run("import", write(tmp_path / "own.jsonl", own), *given).code == 0
    asked = ("board", "--turnout", "2026-04-20", *given)
    (kite,) = run(*asked, "--json").json()["changes"]
    assert [(each["what"], each["kind"]) for each in kite["why"]] == [
        ("too-old", "condition"), ("too-old", "ring-check"), ("not-asked", "blood-test"),
    ]  # fmt: skip
    said = " ".join(run(*asked).out.split())
    assert "ring-check grows too old, asked for no more: blood-test" in said
    assert run("group", "Hill", "--turnout", "2026-04-20", *given).code == 0
    (kite,) = run("board", "--turnout", "2026-04-09", "--json", *given).json()["changes"]
    assert [(each["what"], each["kind"]) for each in kite["why"]][:1] == [("asked", "blood-test")]


def test_the_sum(run: Run, book: Path) -> None:
    """Tarn is ready on the 20th; two walks and four condition scores grow too old. The first calf
    is due 283 days after turnout."""
    asked = ("board", "--json", "--on", DAY, "--turnout", "2026-04-20", "--group", "Heifers")
    assert run(*asked).json()["sum"] == {
        "ready": [TARN],
        "lost": [],
        "jobs_added": 6,
        "jobs_gone": 0,
        "calving": [{"farm": FARM, "group": "Heifers", "before": "2027-01-17",
                     "after": "2027-01-28"}],
    }  # fmt: skip


def test_the_sum_of_what_is_lost(run: Run, book: Path) -> None:
    asked = ("board", "--json", "--on", DAY, "--turnout", "2026-04-05", *ALL_OF_IT)
    said = run(*asked).json()["sum"]
    assert (said["ready"], set(said["lost"])) == ([], {CORRAN, BROCK})
    assert said.keys() == keys("sum of a what-if")


def test_a_cause_has_the_keys_that_are_promised(changed: Changed) -> None:
    causes = [cause for each in changed("2026-04-20").values() for cause in each["why"]]
    assert causes and all(cause.keys() == keys("cause") for cause in causes)
    for each in changed("2026-04-20").values():
        assert each.keys() == keys("change")


def test_a_page_says_it_too(run: Run, book: Path) -> None:
    asked = ("board", "--html", "-", "--on", DAY, "--turnout", "2026-04-20", "--group", "Heifers")
    page = spaced(run(*asked).out)
    assert "his walk grows too old" in page
    assert "<li>First calving moves from 17 Jan 2027 to 28 Jan 2027.</li>" in page


# ---- whose turnout -------------------------------------------------------------------------------


@pytest.mark.parametrize("form", [(), ("--json",), ("--csv",), ("--html", "-")])
def test_of_several_groups_it_asks_which(run: Run, book: Path, form: tuple[str, ...]) -> None:
    ran = run("board", *form, "--on", DAY, "--turnout", "2026-04-20")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        "readiness: Say whose turnout would be then: "
        f'--group "Heifers" --farm "{FARM}" or --group "Hill cows" --farm "{FARM}".\n'
    )


def test_the_one_group_of_a_book_needs_no_name(run: Run, tmp_path: Path) -> None:
    only = [
        {"kind": "group", "on": "2026-01-10", "group": "Hill", "turnout": "2026-04-09"},
        *bull("00777", "Kite", "Hill", farm=None),
        *sound("00777"),
    ]
    assert run("import", write(tmp_path / "one.jsonl", only)).code == 0
    ran = run("board", "--json", "--on", DAY, "--turnout", "2026-04-20")
    assert ran.code == 0 and len(ran.json()["changes"]) == 1


def test_a_group_of_the_same_name_on_two_farms_is_asked_for_with_its_farm(
    run: Run, book: Path, tmp_path: Path
) -> None:
    """One of them has no farm: it is asked for with an empty one."""
    other = [{"kind": "group", "on": "2026-01-10", "group": "Heifers", "turnout": "2026-04-12"},
             *bull("00777", "Kite", "Heifers", farm=None), *sound("00777")]  # fmt: skip
    assert run("import", write(tmp_path / "other.jsonl", other)).code == 0
    asked = ("board", "--json", "--on", DAY, "--turnout", "2026-04-20", "--group", "Heifers")
    ran = run(*asked)
    assert (ran.code, ran.out) == (2, "")
    assert f'--group "Heifers" --farm "{FARM}" or --group "Heifers" --farm "".' in ran.err
    assert {each["bull"] for each in run(*asked, "--farm", "").json()["changes"]} == {"00777"}
    own = {each["bull"] for each in run(*asked, "--farm", FARM).json()["changes"]}
    assert own == {TARN, CORRAN, ROWAN, FENWICK}


def test_a_board_without_a_what_if_asks_for_no_group(run: Run, book: Path) -> None:
    assert run("board", "--on", DAY).code == 0
