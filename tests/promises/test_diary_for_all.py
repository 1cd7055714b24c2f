"""``diary`` as JSON, CSV, page and calendar: season and the vet's days in all of them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests import build as say
from tests.build import Line
from tests.cli.conftest import Ran, Run
from tests.cover.farms import bull, cows
from tests.promises import stated
from tests.promises.conftest import Tell

ON = "2026-03-02"
FARM = "Moss End"
TURNOUT = "2026-05-01"
LINES: list[Line] = [
    cows(70, farm=FARM, turnout=TURNOUT),
    *bull("B 1", farm=FARM, go=False),
    *bull("B 2", farm=FARM, go=False),
]
Diary = Callable[..., Ran]


@pytest.fixture
def diary(tell: Tell, run: Run) -> Diary:
    tell(*LINES)
    return lambda *options, on=ON: run("diary", *options, "--on", on)


def events(path: Path) -> list[dict[str, str]]:
    """Each event's lines, unfolded, by what stands before the colon."""
    text = path.read_bytes().decode().replace("\r\n ", "")
    blocks = re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT", text, re.DOTALL)
    return [dict(line.split(":", 1) for line in each.split("\r\n") if line) for each in blocks]


def test_every_key_that_others_rely_on_is_there(diary: Diary) -> None:
    told = diary("--json").json()
    assert stated.keys("`diary`") <= set(told)
    season = told["season"]
    assert season[0] == {
        "farm": FARM, "group": "Hill", "first": TURNOUT, "last": TURNOUT, "every": None,
        "text": "turnout",
    }  # fmt: skip
    assert [(each["first"], each["last"], each["text"]) for each in season[1:5]] == [
        ("2026-05-02", "2026-05-22", "look at the working bulls daily"),
        ("2026-05-19", "2026-05-25", "watch for returns"),
        ("2026-05-24", "2026-07-24", "look at the working bulls every other day"),
        ("2026-06-09", "2026-06-15", "watch for returns"),
    ]
    assert [each["every"] for each in season[1:5]] == [1, None, 2, None]
    assert {each["text"] for each in season[5:]} >= {
        "calves due", "the season's last day: bring the bulls in",
    }  # fmt: skip
    (day,) = told["vet_days"]
    assert (day["on"], day["farm"]) == (ON, FARM)
    assert day["checks"] == [{"bull": f"B {at}", "id": "vet-exam"} for at in (1, 2)]
    assert told["vet_without_day"] == []


def test_the_text_says_when_the_vet_could_come_and_which_days_to_keep(diary: Diary) -> None:
    text = " ".join(diary("--who", "vet").out.split())
    for words in (
        "propose the vet at Moss End: 2 examinations (B 1, B 2)",
        "season Hill, Moss End: watch for returns, until 25 May",
        "season Hill, Moss End: look at the working bulls daily, until 22 May",
        "season Hill, Moss End: look at the working bulls every other day, until 24 Jul",
        "season Hill, Moss End: calves due, until ",
        "the vet says when he comes",
    ):
        assert words in text
    assert "propose" not in diary("--who", "farmer").out


def test_what_no_day_of_the_vets_covers_is_named(tell: Tell, run: Run) -> None:
    tell(*bull("B 3", None, go=False))
    told = run("diary", "--json", "--on", ON).json()
    assert told["vet_days"] == []
    assert [(each["bull"], each["id"]) for each in told["vet_without_day"]] == [("B 3", "vet-exam")]
    assert "No day proposed for the vet: B 3, breeding examination" in " ".join(
        run("diary", "--on", ON).out.split()
    )


def test_days_ahead_end_the_season_and_the_days_of_the_vet_too(diary: Diary) -> None:
    told = diary("--json", "--days", "70").json()
    assert [each["first"] for each in told["season"]] == [TURNOUT, "2026-05-02"]
    (day,) = diary("--json", "--days", "0").json()["vet_days"]
    assert day["on"] == ON


def test_csv_has_a_record_for_each_check_and_day(diary: Diary) -> None:
    records = list(csv.DictReader(io.StringIO(diary("--csv").out)))
    kinds = [each["kind"] for each in records]
    told = diary("--json").json()
    assert kinds.count("season") == len(told["season"])
    assert kinds.count("proposed for the vet") == 2
    assert kinds.count("check") == len(told["overdue"]) + sum(len(d["due"]) for d in told["days"])
    (turnout,) = [each for each in records if each["text"] == "turnout"]
    assert (turnout["on"], turnout["until"], turnout["group"]) == (TURNOUT, TURNOUT, "Hill")


def test_the_page_is_one_persons_with_the_season_and_says_no_today(
    diary: Diary, tmp_path: Path
) -> None:
    page = tmp_path / "vet.html"
    assert diary("--who", "vet", "--html", page).code == 0
    html = page.read_text(encoding="utf-8")
    for words in ("What is to come for the vet", "the vet at Moss End: 2 examinations",
                  "watch for returns", "breeding examination by the vet"):  # fmt: skip
        assert words in html
    assert "today" not in html
    assert '<th scope="row">farmer' not in html


def test_rest_after_a_season_and_who_is_out_still_stand_in_every_form(
    tell: Tell, run: Run, tmp_path: Path
) -> None:
    tell(
        cows(35, turnout="2026-01-05", weeks=8),
        *bull("B 1"), say.said("moved", "2026-01-05", "B 1", act="out"),
        say.said("moved", ON, "B 1", act="in"),
        cows(30, "Shore", "2026-03-09"), say.join("B 1", "Shore", on=ON),
        *bull("B 2"), say.said("moved", "2026-01-05", "B 2", act="out"),
    )  # fmt: skip
    on = ("--on", "2026-03-03")
    path, page = tmp_path / "diary.ics", tmp_path / "diary.html"
    text = " ".join(run("diary", "--ics", path, *on).out.split())
    assert run("diary", "--html", page, *on).code == 0
    rest, out = "rest between groups: B 1", "out, though no season is under way; bring in: B 2"
    assert f"season Hill: {out}" in text
    assert f"season Shore: {rest}, until 11 Mar" in text
    for words in (rest, out):
        assert words in page.read_text(encoding="utf-8")
    season = run("diary", "--json", *on).json()["season"]
    assert season[:2] == [
        {"farm": None, "group": "Hill", "first": "2026-03-03", "last": "2026-03-03",
         "every": None, "text": out},
        {"farm": None, "group": "Shore", "first": ON, "last": "2026-03-11", "every": None,
         "text": rest},
    ]  # fmt: skip
    records = list(csv.DictReader(io.StringIO(run("diary", "--csv", *on).out)))
    assert [each["text"] for each in records if each["kind"] == "season"][:2] == [out, rest]
    told = {each["SUMMARY"] for each in events(path)}
    assert f"Shore: {rest}" in told
    assert not any(out in each for each in told)  # to be done today: no day of a calendar
    (stays,) = [e for e in events(path) if e["SUMMARY"] == f"Shore: {rest}"]
    assert run("group", "Shore", "--turnout", "2026-04-09", *on).code == 0
    run("diary", "--ics", path, *on)
    (gone,) = [e for e in events(path) if e["UID"] == stays["UID"]]
    assert gone["STATUS"] == "CANCELLED"


# ---- the calendar --------------------------------------------------------------------------------


def test_the_calendar_holds_what_is_due_the_season_and_the_vets_day(
    diary: Diary, tmp_path: Path
) -> None:
    path = tmp_path / "diary.ics"
    assert diary("--ics", path).code == 0
    told = {(each["DTSTART;VALUE=DATE"], each["SUMMARY"]): each for each in events(path)}
    assert told["20260302", "The vet at Moss End: 2 examinations"]["STATUS"] == "TENTATIVE"
    assert ("20260501", "Hill: turnout") in told
    watch = told["20260519", "Hill: watch for returns"]
    assert watch["DTEND;VALUE=DATE"] == "20260526"  # the day after the last: RFC 5545, 3.6.1
    looks = told["20260524", "Hill: look at the working bulls every other day"]
    assert looks["RRULE"] == "FREQ=DAILY;UNTIL=20260724;INTERVAL=2"
    assert looks["DESCRIPTION"] == "A reminder: no bull is held for it."
    assert any(what.startswith("Last day for the vet at Moss End: 2") for _, what in told)
    assert len({each["UID"] for each in events(path)}) == len(events(path))


def test_written_again_it_doubles_nothing_and_cancels_only_what_is_off_the_plan(
    diary: Diary, run: Run, tmp_path: Path
) -> None:
    path = tmp_path / "diary.ics"
    diary("--ics", path)
    before = path.read_bytes()
    assert "0 new, 0 changed, 0 cancelled" in diary("--ics", path).err
    assert "0 new, 0 changed, 0 cancelled" in diary("--who", "vet", "--ics", path).err
    assert path.read_bytes() == before
    assert run("group", "Hill", "--turnout", "2026-05-08", "--on", ON).code == 0
    assert diary("--who", "farmer", "--ics", path).code == 0
    turnouts = {
        each["DTSTART;VALUE=DATE"]: each["STATUS"]
        for each in events(path)
        if each["SUMMARY"].endswith("Hill: turnout")
    }
    assert turnouts == {"20260501": "CANCELLED", "20260508": "CONFIRMED"}
    vets = [each for each in events(path) if "the vet" in each["SUMMARY"].lower()]
    assert vets
    assert not any(each["STATUS"] == "CANCELLED" for each in vets)


def test_calves_stay_in_the_calendar_when_the_season_is_over(diary: Diary, tmp_path: Path) -> None:
    path = tmp_path / "diary.ics"
    diary("--ics", path)
    assert diary("--ics", path, on="2026-12-01").code == 0
    (calves,) = [each for each in events(path) if "calves due" in each["SUMMARY"]]
    assert calves["STATUS"] == "CONFIRMED"


def test_a_file_of_visits_and_a_file_of_the_diary_never_mix(
    diary: Diary, run: Run, tmp_path: Path
) -> None:
    mine, visits = tmp_path / "diary.ics", tmp_path / "visits.ics"
    assert diary("--ics", mine).code == 0
    assert run("visits", "--ics", visits, "--on", ON).code == 0
    for command, path in (("visits", mine), ("diary", visits)):
        before = path.read_bytes()
        refused = run(command, "--ics", path, "--on", ON)
        assert (refused.code, path.read_bytes()) == (65, before)
        assert "holds another calendar of readiness's" in refused.err
    uids = [each["UID"] for path in (mine, visits) for each in events(path)]
    assert len(set(uids)) == len(uids)


@pytest.mark.parametrize(
    ("options", "code", "words"),
    [
        (["--ics", "-"], 2, "needs a file"),
        (["--season", "--csv"], 2, "--season is for the text alone"),
        (["--large-print"], 2, "--large-print is of the page"),
        (["--who", "smith"], 2, "smith"),
        (["--farm", "Moss"], 66, "Moss"),
        (["--json", "--csv"], 2, "not allowed"),
    ],
)
def test_what_cannot_be_answered_is_said_in_one_sentence(
    diary: Diary, options: list[str], code: int, words: str
) -> None:
    ran = diary(*options)
    assert ran.code == code
    assert words in ran.err


@pytest.mark.parametrize("there", [b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n", b"a letter\n"])
def test_a_file_that_is_none_of_ours_is_left_alone(
    diary: Diary, tmp_path: Path, there: bytes
) -> None:
    path = tmp_path / "own.ics"
    path.write_bytes(there)
    refused = diary("--ics", path)
    assert (refused.code, refused.out, path.read_bytes()) == (65, "", there)
    assert refused.err.count("\n") == 1


def test_a_name_that_is_hostile_breaks_no_calendar(tell: Tell, run: Run, tmp_path: Path) -> None:
    evil = "Hill of; END:VEVENT, of \\N"
    tell(say.group(TURNOUT, evil, females=20), *bull("B 1", evil, go=False))
    path = tmp_path / "diary.ics"
    assert run("diary", "--ics", path, "--on", ON).code == 0
    again = run("diary", "--ics", path, "--on", ON)
    assert (again.code, "0 new, 0 changed, 0 cancelled" in again.err) == (0, True)
