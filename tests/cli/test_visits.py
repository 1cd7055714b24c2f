"""``visits`` as a shell would run it: what it prints, for people and for programs, and what it
refuses.

The small farm on 3 Apr 2026, by hand: Corran, lame since 1 Apr, is lifted by today; Stray, never
lifted, can be any day; Brock's block of 4 Mar comes off from 1 to 15 Apr, his ulcer is looked at by
8 Apr, and healed is plausible 33 days after 4 Mar, on 6 Apr. Today and the 6th: two visits.
"""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Ran, Run
from tests.cli.small_book import DAY, FARM, Line, bull, sound, write
from tests.cli.test_process import PROGRAM, environment, process
from tests.promises.stated import keys

CORRAN, BROCK, STRAY = "UK 123450 600417", "00093", "00501"


@pytest.fixture
def visits(run: Run, book: Path) -> Run:
    """``visits`` of the small farm on its day."""
    return lambda *options: run("visits", "--on", DAY, *options)


def refused(ran: Ran, *words: str, code: int = 2) -> None:
    """One paragraph on stderr, which says so much; nothing on stdout."""
    assert (ran.code, ran.out) == (code, "")
    assert ran.err.startswith("readiness: ") and ran.err.count("\n") == 1
    assert "A fault" not in ran.err and "Traceback" not in ran.err
    for word in words:
        assert word in ran.err


def on(said: dict[str, Any]) -> list[str]:
    return [visit["on"] for visit in said["visits"]]


# ---- for programs --------------------------------------------------------------------------------


def test_the_small_farm_s_plan_by_hand(visits: Run) -> None:
    said = visits("--json").json()
    assert (said["on"], said["from"], said["to"]) == (DAY, DAY, "2026-07-02")
    assert (said["exact"], said["bound"], said["unplaced"]) == (True, 2, [])
    assert [
        (visit["on"], visit["farm"], [(check["bull"], check["id"]) for check in visit["checks"]])
        for visit in said["visits"]
    ] == [
        (DAY, FARM, [
            (CORRAN, "lift"), (BROCK, "look:LH:inner:SU"), (BROCK, "block-off:LH:outer"),
            (BROCK, "block-look:LH:outer"), (STRAY, "feet"),
        ]),
        ("2026-04-06", FARM, [(BROCK, "clear:LH:inner:SU")]),
    ]  # fmt: skip
    # lift 10, look 6, block off 6, under it 0, trim 15; seeing it healed 6
    assert [visit["minutes"] for visit in said["visits"]] == [37, 6]
    assert [visit["bring"] for visit in said["visits"]] == [
        {"blocks": 1, "wraps": 0, "dressings": 0},  # Corran's foot; Brock has one beside the ulcer
        {"blocks": 0, "wraps": 0, "dressings": 0},
    ]


def test_every_key_that_programs_count_on(visits: Run) -> None:
    said = visits("--json", "--minutes", 12, "--days", 0).json()
    assert said.keys() >= keys("`visits`")
    assert said["unplaced"]
    for visit in visits("--json").json()["visits"]:
        assert visit.keys() >= keys("visit")
        assert visit["bring"].keys() == {"blocks", "wraps", "dressings"}
        assert visit["checks"] and all(
            check.keys() >= keys("check of a visit") for check in visit["checks"]
        )
        assert all(stop.keys() >= {"bull", "pen", "temper"} for stop in visit["pen"])


def test_each_check_is_the_board_s_own(visits: Run, board: Any) -> None:
    """Its days, foot, claw and code are those that ``board --json`` says."""
    known = {
        (each["bull"], check["id"]): check
        for each in board().values()
        for check in each["outstanding"]
    }
    for visit in visits("--json").json()["visits"]:
        for check in visit["checks"]:
            same = known[check["bull"], check["id"]]
            assert {key: same[key] for key in keys("check of a visit") - {"bull", "late"}} == {
                key: check[key] for key in keys("check of a visit") - {"bull", "late"}
            }
            assert same["who"] == "trimmer"


def test_json_is_one_line_and_the_solver_says_nothing(book: Path) -> None:
    """A process of its own: what a library writes past Python is seen here, too."""
    ran = process("visits", "--json", "--on", DAY, "--book", book)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.count("\n") == 1 and ran.stdout.endswith("}\n") and ran.stdout.isascii()
    assert len(json.loads(ran.stdout)["visits"]) == 2


@pytest.mark.parametrize("form", ["--json", "--no-color"])
def test_the_same_twice(visits: Run, form: str) -> None:
    first, again = visits(form), visits(form)
    assert first.out == again.out
    assert (first.code, first.err) == (0, "")


# ---- for people ----------------------------------------------------------------------------------


def test_the_plan_in_words(visits: Run) -> None:
    text = visits().out
    assert text.startswith("2 visits, Fri 3 Apr 2026 to Thu 2 Jul 2026: no fewer can do.\n")
    said = " ".join(text.split())
    for words in (
        "Fri 3 Apr 2026, today: Sallow Fell 3 bulls to pen, about 37 minutes; bring 1 block.",
        "00417 Corran: lift LF",
        "00093 Brock: look at sole ulcer LH inner; block off LH outer; look under the block LH "
        "outer",
        "00501 Stray: lift and trim all four",
        "Mon 6 Apr 2026, in 3 days: Sallow Fell 1 bull to pen, about 6 minutes; bring nothing "
        "beyond the tools.",
        "Days to come hold only if every check before them passes; the vet decides",
        "Never work a bull alone",
    ):
        assert words in said


def test_what_has_no_day_is_said_with_its_rule(visits: Run) -> None:
    said = " ".join(visits("--minutes", 9).out.split())
    assert "! Without a day 00417 Corran: lift LF: it takes 10 minutes, and a day has 9" in said
    assert "(minutes.day)" in said
    assert "00501 Stray: lift and trim all four: it takes 15 minutes, and a day has 9" in said


def test_nothing_to_plan_within_the_minutes_is_said_as_that(run: Run, tmp_path: Path) -> None:
    assert run("import", write(tmp_path / "f.jsonl", bull("501", "Stray"))).code == 0
    text = run("visits", "--on", DAY, "--minutes", 1).out
    assert text.startswith("No visit can be planned, Fri 3 Apr 2026 to Thu 2 Jul 2026.")
    assert "Without a day" in text and "Bulls stand in the order" not in text


# ---- wishes --------------------------------------------------------------------------------------


def test_from_later(visits: Run) -> None:
    said = visits("--json", "--from", "2026-04-06").json()
    assert (said["on"], said["from"], on(said)) == (DAY, "2026-04-06", ["2026-04-06"])
    late = {c["id"]: c["late"] for visit in said["visits"] for c in visit["checks"] if c["late"]}
    assert late == {"lift": 3}


def test_so_many_days_ahead(visits: Run) -> None:
    """Until Saturday the 4th nothing can be seen healed."""
    said = visits("--json", "--days", 1).json()
    assert (said["to"], on(said)) == ("2026-04-04", [DAY])
    assert [(each["check"], each["rule"]) for each in said["unplaced"]] == [
        ("clear:LH:inner:SU", "visits.ahead"),
    ]


def test_minutes_of_a_day(visits: Run) -> None:
    """22 minutes hold Corran and Brock's look and block; Stray's trim goes with the 6th's 6."""
    said = visits("--json", "--minutes", 22).json()
    assert [visit["minutes"] for visit in said["visits"]] == [22, 21]


def test_a_promised_visit(visits: Run) -> None:
    """On the 8th, the look's last day; Corran is still lifted today, being lame."""
    said = visits("--json", "--keep", "2026-04-08").json()
    assert [(visit["on"], visit["promised"]) for visit in said["visits"]] == [
        (DAY, False), ("2026-04-08", True),
    ]  # fmt: skip
    assert "Wed 8 Apr 2026, in 5 days, promised: Sallow Fell" in (
        visits("--keep", "2026-04-08").out
    )
    assert visits("--json", "--keep", f"2026-04-08 {FARM}").json() == said


def test_several_promises(visits: Run) -> None:
    text = " ".join(visits("--keep", "2026-04-08", "--keep", "2026-05-20").out.split())
    assert "no fewer can do, 2 of them promised" in text
    assert "nothing is due that day." in text


OTHER = "Low Sand"


@pytest.fixture
def two_farms(run: Run, book: Path, tmp_path: Path) -> Run:
    assert run("import", write(tmp_path / "o.jsonl", bull("900", "Heath", farm=OTHER))).code == 0
    return lambda *options: run("visits", "--on", DAY, *options)


def test_one_farm_alone(two_farms: Run) -> None:
    both = two_farms("--json").json()
    assert {visit["farm"] for visit in both["visits"]} == {FARM, OTHER}
    assert len(set(on(both))) == len(both["visits"]) == 3
    (only,) = two_farms("--json", "--farm", OTHER).json()["visits"]
    assert [check["bull"] for check in only["checks"]] == ["900"]
    refused(two_farms("--farm", "Nowhere"), "no farm Nowhere", FARM, OTHER, code=66)


def test_a_promise_to_one_of_two_farms(two_farms: Run) -> None:
    said = two_farms("--json", "--keep", f"2026-04-08 {OTHER}").json()
    kept = [(visit["on"], visit["farm"]) for visit in said["visits"] if visit["promised"]]
    assert kept == [("2026-04-08", OTHER)]
    refused(two_farms("--keep", "2026-04-08"), "Which farm is promised", FARM, OTHER)
    both = ("--keep", f"2026-04-08 {OTHER}", "--keep", f"2026-04-08 {FARM}")
    refused(two_farms(*both), "do not share a day")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--from", "2026-04-02"), "before the day assessed, Fri 3 Apr 2026"),
        (("--from", "2026-04-05", "--days", "0"), "There is no working day at Sallow Fell"),
        (("--from", "soon"), "'soon' is no day"),
        (("--days", "-1"), "'-1' is no whole number of 0 or more"),
        (("--days", "367"), "--days 367 is out of range: give 0 to 366."),
        (("--days", "two"), "'two' is no whole number"),
        (("--minutes", "0"), "--minutes 0 is out of range: give 1 to 1440."),
        (("--minutes", "1441"), "--minutes 1441 is out of range"),
        (("--seconds", "3601"), "--seconds 3601 is out of range"),
        (("--keep", "2026-04-02"), "is not among the days planned"),
        (("--keep", "2026-07-03"), "is not among the days planned"),
        (("--keep", "soon"), "'soon' is no day; write 2026-04-07, or"),
        (("--keep", ""), "'' is no day"),
        (("--keep", "2026-04-07 Nowhere"), "There is no farm Nowhere to visit on 2026-04-07"),
        (("--without", "2026-04-04"), "No visit is planned for 2026-04-04"),
        (("--without", "2026-04-03 Nowhere"), "No visit is planned for 2026-04-03 at Nowhere"),
        (("--without", "never"), "'never' is no day"),
    ],
)
def test_what_nobody_can_meet_is_said_and_nothing_planned(
    visits: Run, tmp_path: Path, options: tuple[str, ...], words: str
) -> None:
    calendar = tmp_path / "v.ics"
    refused(visits("--json", "--ics", calendar, *options), words)
    assert not calendar.exists()


def test_an_exception_contradicts_a_promise(visits: Run, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text('[rules]\nvisits.except = ["2026-04-07"]\n', encoding="utf-8")
    refused(visits("--rules", own, "--keep", "2026-04-07"), "visits.except leaves out")
    own.write_text('[rules]\nvisits.workdays = "FREQ=SOMETIMES"\n', encoding="utf-8")
    refused(visits("--rules", own), "own.toml: [rules] visits.workdays: FREQ must be", code=78)


# ---- the calendar --------------------------------------------------------------------------------


def test_a_calendar_beside_the_plan(visits: Run, tmp_path: Path) -> None:
    """The plan on stdout as ever; what was done to the calendar on stderr."""
    calendar = tmp_path / "v.ics"
    ran = visits("--json", "--ics", calendar)
    assert ran.out == visits("--json").out
    assert ran.err == f"{calendar}: 2 new, 0 changed, 0 cancelled, 0 as they were.\n"
    events = calendar.read_bytes()
    assert events.count(b"BEGIN:VEVENT") == 2 and b"DTSTART;VALUE=DATE:20260406\r\n" in events
    again = visits("--ics", calendar)
    assert again.err.endswith(": 0 new, 0 changed, 0 cancelled, 2 as they were.\n")
    assert calendar.read_bytes() == events


def test_the_calendar_is_written_though_nobody_reads_the_plan(book: Path, tmp_path: Path) -> None:
    calendar = tmp_path / "v.ics"
    with subprocess.Popen(
        [*PROGRAM, "visits", "--on", DAY, "--book", str(book), "--ics", str(calendar)],
        env=environment(), stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as child:  # fmt: skip
        assert child.stdout is not None and child.stderr is not None
        child.stdout.close()
        assert b"2 new" in child.stderr.read()
        assert child.wait(timeout=60) == 0
    assert calendar.read_bytes().count(b"BEGIN:VEVENT") == 2


def test_a_calendar_that_is_not_ours_stops_before_the_plan(visits: Run, tmp_path: Path) -> None:
    theirs = tmp_path / "theirs.ics"
    theirs.write_text("a shopping list\n", encoding="utf-8")
    refused(visits("--ics", theirs), "theirs.ics", code=65)
    assert theirs.read_text(encoding="utf-8") == "a shopping list\n"
    refused(visits("--ics", tmp_path / "no" / "v.ics"), "cannot be written", code=73)
    refused(visits("--ics", "-"), "--ics needs a file")


# ---- a visit less --------------------------------------------------------------------------------


def test_without_a_visit_in_words(visits: Run) -> None:
    """Everything is left to the 6th: Corran's lift is three days late; Brock's block comes off
    three days later, so he is ready on the 13th and not the 10th."""
    said = " ".join(visits("--without", DAY).out.split())
    assert said.startswith(
        "Without the visit of Fri 3 Apr 2026 at Sallow Fell, and none in its place: 00417 Corran: "
        "lift LF, 3 days late on 6 Apr Bulls that change: "
    )
    assert (
        "00093 Brock: HOLD, 28 days to spare → HOLD, 25 days to spare (could go 10 Apr → 13 Apr)"
        in said
    )


def test_without_a_visit_for_programs(visits: Run) -> None:
    said = visits("--json", "--without", DAY).json()
    assert said.keys() >= keys("`visits`") | {"changes"}
    assert on(said) == ["2026-04-06"]
    (brock,) = (each for each in said["changes"] if each["bull"] == BROCK)
    assert brock == {
        "bull": BROCK,
        "before": {"turnout": "2026-05-08", "status": "HOLD", "hold": "reason",
                   "outlook": "on-track", "earliest_ready": "2026-04-10", "slack_days": 28},
        "after": {"turnout": "2026-05-08", "status": "HOLD", "hold": "reason",
                  "outlook": "on-track", "earliest_ready": "2026-04-13", "slack_days": 25},
        "missed": [],
        "open_end": False,
        "why": [],
    }  # fmt: skip


def test_without_any_visit(visits: Run) -> None:
    said = visits("--json", "--without", DAY, "--without", f"2026-04-06 {FARM}").json()
    assert said["visits"] == []
    assert len(said["unplaced"]) == 6
    text = visits("--without", DAY, "--without", "2026-04-06").out
    assert "Fri 3 Apr 2026 at Sallow Fell and Mon 6 Apr 2026 at Sallow Fell" in (
        " ".join(text.split())
    )


def test_without_a_visit_that_nobody_misses(visits: Run) -> None:
    text = visits("--keep", "2026-05-20", "--without", "2026-05-20").out
    assert "nothing is missed" in text and "No bull changes." in text


# ---- little to plan ------------------------------------------------------------------------------

NOTHING = "No visit is needed: nothing of the trimmer's is outstanding."


def test_no_book(run: Run) -> None:
    refused(run("visits", "--on", DAY), "There is no book at", "readiness import", code=66)
    refused(run("visits", "--json", "--on", DAY), "There is no book at", code=66)


GROUP: Line = {
    "kind": "group", "on": "2026-01-10", "group": "Heifers", "turnout": "2026-04-09", "farm": FARM,
}  # fmt: skip


@pytest.mark.parametrize(
    "told",
    [[GROUP], [GROUP, *bull("288", "Rowan", "Heifers"), *sound("288")]],
    ids=["no bulls", "no checks of the trimmer's"],
)
def test_nothing_outstanding(run: Run, tmp_path: Path, told: list[Line]) -> None:
    assert run("import", write(tmp_path / "f.jsonl", told)).code == 0
    ran = run("visits", "--on", DAY)
    assert (ran.code, ran.err) == (0, "")
    assert " ".join(ran.out.split()).startswith(f"{NOTHING} (Fri 3 Apr 2026 to Thu 2 Jul 2026)")
    said = run("visits", "--on", DAY, "--json").json()
    assert (said["visits"], said["unplaced"], said["exact"], said["bound"]) == ([], [], True, 0)
    calendar = tmp_path / "v.ics"
    assert run("visits", "--on", DAY, "--ics", calendar).code == 0
    assert b"BEGIN:VCALENDAR" in calendar.read_bytes()


def test_a_farm_of_groups_alone_has_no_farm_to_promise(run: Run, tmp_path: Path) -> None:
    assert run("import", write(tmp_path / "f.jsonl", [GROUP])).code == 0
    refused(run("visits", "--on", DAY, "--keep", "2026-04-07"), "There is no bull to visit")
