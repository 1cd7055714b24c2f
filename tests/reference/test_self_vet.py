"""The reference against cases worked by hand: the vet, age, quarantine, groups and going out."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from dateutil.relativedelta import relativedelta

from .figures import months_on
from .hand import (
    ON,
    assessed,
    check,
    day,
    entry,
    examined,
    lift,
    looked,
    names,
    plain,
    sound,
    walk,
)
from .state import Entry

UNFIT = looked("2026-04-01", "foot", "unfit", foot="LF")
ILL = looked("2026-04-01", "illness", "unfit")


@pytest.mark.parametrize(
    ("told", "stands"),
    [
        ([UNFIT], True),
        ([UNFIT, looked("2026-04-02", "foot")], False),
        ([UNFIT, looked("2026-04-02", "lame", foot="LF")], False),
        ([UNFIT, looked("2026-04-02", "foot", foot="RF")], True),
        ([looked("2026-04-01", "foot"), UNFIT], True),
        ([UNFIT, looked("2026-04-02", "illness")], True),
        ([UNFIT, looked("2026-04-02", "foot", "again")], True),
        ([looked("2026-04-01", "foot", "unfit"), looked("2026-04-02", "foot", foot="LF")], True),
        ([UNFIT, examined("2026-04-02")], True),
        ([UNFIT, examined("2026-04-02", feet_seen=True)], False),
        ([UNFIT, examined("2026-04-02", "deferred", feet_seen=True)], True),
        ([ILL, examined("2026-04-02")], False),
        ([ILL, looked("2026-04-02", "other")], True),
        ([ILL, looked("2026-04-02", "illness")], False),
    ],
)
def test_unfit_stands_until_a_vet_says_fit_of_the_same(told: list[Entry], stands: bool) -> None:
    bull = assessed(*sound(), *told)
    assert (plain("unfit") in bull["reasons"]) is stands
    assert (bull["outlook"] == "vet-decides") is stands
    assert (bull["earliest_ready"] is None) is stands


def test_unfit_asks_for_no_examination() -> None:
    assert "vet-exam" not in names(assessed(UNFIT))


@pytest.mark.parametrize(
    ("asking", "name", "first"),
    [
        (looked("2026-04-01", "illness", "again"), "vet-again:2026-04-01:illness", "04-08"),
        (
            looked("2026-04-01", "lame", "again", foot="LF", again_on="2026-04-05"),
            "vet-again:LF:2026-04-01:lame",
            "04-05",
        ),
        (
            looked("2026-04-01", "body", "again", part="eyes"),
            "vet-again:2026-04-01:body:eyes",
            "04-08",
        ),
        (
            looked("2026-04-01", "body", "again", part="joint", limb="LF"),
            "vet-again:LF:2026-04-01:body:joint",
            "04-08",
        ),
    ],
)
def test_again_asks_anew(asking: Entry, name: str, first: str) -> None:
    bull = assessed(*sound(), asking)
    again = check(bull, name)
    assert again["not_before"] == day(first)
    assert (again["due"] - again["not_before"]).days == 2
    assert (again["check"], again["who"]) == ("vet-again", "vet")
    # not said to be fit, he is ill, and of that the examination of 10 March says nothing
    ill = asking["about"] == "illness"
    assert bull["reasons"] == {plain("vet-again")} | ({plain("ill")} if ill else set())
    exam = ["vet-exam"] * ill
    twice = assessed(*sound(), asking, asking)
    assert names(twice) == [*exam, name, f"{name}:2"]


@pytest.mark.parametrize(("again_on", "first"), [("04-01", "04-02"), ("04-02", "04-02")])
def test_again_is_never_on_the_day_of_the_look_that_asks(again_on: str, first: str) -> None:
    # a look of that same day would answer nothing
    asking = looked("2026-04-01", "illness", "again", again_on=f"2026-{again_on}")
    again = check(assessed(asking, on="2026-04-01"), "vet-again:2026-04-01:illness")
    assert (again["not_before"], again["due"]) == (day(first), day("04-04"))


AGAIN = looked("2026-04-01", "foot", "again", foot="LF")


@pytest.mark.parametrize(
    ("told", "answered"),
    [
        ([AGAIN, looked("2026-04-01", "foot", foot="LF")], False),  # not on a later day
        ([AGAIN, looked("2026-04-02", "lame", foot="LF")], True),  # he may come sooner
        ([AGAIN, looked("2026-04-02", "lame", foot="RF")], False),
        ([AGAIN, looked("2026-04-02", "foot")], True),
        ([AGAIN, examined("2026-04-02")], False),
        ([AGAIN, examined("2026-04-02", feet_seen=True)], True),
        ([looked("2026-04-01", "other", "again"), examined("2026-04-02")], True),
        ([looked("2026-04-01", "other", "again"), examined("2026-04-02", "deferred")], True),
        ([looked("2026-04-01", "body", "again"), examined("2026-04-02")], False),
        ([looked("2026-04-01", "illness", "again"), looked("2026-04-02", "other")], False),
    ],
)
def test_what_answers_again(told: list[Entry], answered: bool) -> None:
    assert (plain("vet-again") not in assessed(*sound(), *told)["reasons"]) is answered


@pytest.mark.parametrize(
    ("born", "scrotum", "low"),
    [
        # Society for Theriogenology: 30 cm to 15 months, 31 to 18, 32 to 21, 33 to 24, then 34
        *(("2024-12-10", 30, False), ("2024-12-10", 29.9, True)),  # 15 months to the day
        *(("2024-12-09", 30, True), ("2024-09-10", 31, False), ("2024-09-09", 31, True)),
        *(("2024-08-10", 31.9, True), ("2024-08-10", 32, False), ("2024-06-09", 32, True)),
        *(("2024-03-10", 33, False), ("2024-03-09", 33, True), ("2023-09-10", 34.1, False)),
        *((None, 33.9, True), (None, 34, False)),
    ],
)
def test_the_scrotum_is_held_against_his_age(born: str | None, scrotum: float, low: bool) -> None:
    # said on a later day all the same: what is known of his birth now
    told = [entry("bull", "2026-04-02", born=born)] if born else []
    exam = examined("2026-03-10", scrotum_cm=scrotum)
    bull = assessed(*sound(), exam, *told)
    assert (plain("vet-figures") in bull["reasons"], "vet-exam" in names(bull)) == (low, low)
    stood_by = assessed(*sound(), exam | {"stands": True}, *told)
    assert stood_by["status"] == "GO"


@pytest.mark.parametrize(
    ("figures", "low"),
    [
        *(({"motility_pct": 60}, False), ({"motility_pct": 59}, True)),
        *(({"normal_pct": 70}, False), ({"normal_pct": 69}, True)),
    ],
)
def test_semen_under_its_least_holds(figures: dict[str, Any], low: bool) -> None:
    bull = assessed(*sound(), examined("2026-03-10", **figures))
    assert (plain("vet-figures") in bull["reasons"]) is low
    thirty: dict[str, Any] = {"motility.least": 30}  # a farm of another standard
    if "motility_pct" in figures:
        assert assessed(*sound(), examined("2026-03-10", **figures), **thirty)["status"] == "GO"


LOW = examined("2026-03-12", motility_pct=50)


@pytest.mark.parametrize(
    ("told", "low"),
    [
        ([LOW, examined("2026-03-20")], True),
        ([LOW, examined("2026-03-20"), examined("2026-03-30")], True),
        ([LOW, examined("2026-03-20", normal_pct=80)], True),
        ([LOW, examined("2026-03-20", motility_pct=60)], False),
        ([LOW, examined("2026-03-20", stands=True)], False),
        ([LOW | {"stands": True}, examined("2026-03-20")], False),
        ([LOW | {"outcome": "deferred"}, examined("2026-03-20")], True),
        ([LOW | {"outcome": "unsatisfactory"}, examined("2026-03-20")], True),
        ([LOW | {"outcome": "deferred", "stands": True}, examined("2026-03-20")], True),
        ([LOW, examined("2026-03-20", "deferred", motility_pct=60), examined("2026-03-30")], False),
        ([LOW, examined("2026-03-20", "deferred"), examined("2026-03-30")], True),
        ([LOW | {"on": "2026-01-19"}, examined("2026-03-20")], True),  # 60 days
        ([LOW | {"on": "2026-01-18"}, examined("2026-03-20")], False),
    ],
)
def test_said_again_without_figures_hides_no_low_one(told: list[Entry], low: bool) -> None:
    others = [told for told in sound() if told["kind"] != "vet-exam"]
    bull = assessed(*others, *told)
    assert (plain("vet-figures") in bull["reasons"]) is low


@pytest.mark.parametrize(("exam", "counts"), [("2026-03-23", False), ("2026-03-24", True)])
def test_an_examination_counts_a_fortnight_after_illness(exam: str, counts: bool) -> None:
    ill = entry("incident", "2026-03-10", cause="fall", fever=True)
    bull = assessed(*sound(), ill, examined(exam))
    assert ("vet-exam" not in names(bull)) is counts


def test_months_are_those_of_the_calendar() -> None:
    for start in (date(2024, 8, 31), date(2024, 2, 29), date(2025, 1, 30), date(2023, 12, 1)):
        for months in range(40):
            there = start + relativedelta(months=months)
            assert months_on(start.toordinal(), months) == there.toordinal()
    assert months_on(date(2024, 8, 31).toordinal(), 18) == date(2026, 2, 28).toordinal()


def test_too_young_at_turnout() -> None:
    # born 10 February 2025: 14 months on 10 April 2026; turnout is the 9th, then the 10th
    young = entry("bull", "2026-01-01", born="2025-02-10")
    bull = assessed(*sound(), young)
    assert (bull["reasons"], names(bull)) == ({plain("age")}, ["age"])
    assert check(bull, "age")["not_before"] == bull["earliest_ready"] == day("04-10")
    later = assessed(*sound("2026-04-10"), young)
    assert (later["reasons"], later["hold"], later["slack_days"]) == (set(), "checks", 0)
    assert assessed(*sound("2026-04-10"), young, on="2026-04-10")["status"] == "GO"


def test_born_between_two_days_he_is_too_young_until_he_is_old_enough_by_the_later() -> None:
    # some day of the winter, at the latest 10 February 2025: as one born on that day
    young = entry("bull", "2026-01-01", born="2025-02-10", born_from="2024-12-01")
    bull = assessed(*sound(), young)
    assert (bull["reasons"], names(bull)) == ({plain("age")}, ["age"])
    assert check(bull, "age")["not_before"] == bull["earliest_ready"] == day("04-10")
    # the day itself said later takes the place of both
    known = entry("bull", "2026-01-02", born="2024-12-01")
    assert assessed(*sound(), young, known)["reasons"] == set()


def test_born_between_two_days_his_scrotum_is_held_against_the_elder_age() -> None:
    # 31 cm to 18 months, 30 to 15: on 10 March 2026 he is 15 to 16 months old
    winter = entry("bull", "2026-04-02", born="2024-12-10", born_from="2024-11-10")
    for scrotum, low in ((30, True), (31, False)):
        bull = assessed(*sound(), examined("2026-03-10", scrotum_cm=scrotum), winter)
        assert (plain("vet-figures") in bull["reasons"]) is low


HIRED = {"origin": "hired", "arrived": "2026-03-07"}


@pytest.mark.parametrize(
    ("told", "free"),
    [
        ([entry("bull", "2026-03-07", **HIRED)], "04-04"),
        ([entry("bull", "2026-03-06", **HIRED | {"arrived": "2026-03-06"})], None),
        # from where is not said, or born here: he was elsewhere all the same
        ([entry("bull", "2026-03-07", arrived="2026-03-07")], "04-04"),
        ([entry("bull", "2026-03-07", origin="homebred", arrived="2026-03-07")], "04-04"),
        ([entry("bull", "2026-03-07", origin="homebred")], None),
        ([entry("moved", "2026-04-01", act="in", reason="hired")], "04-29"),
        ([entry("moved", "2026-04-01", act="in")], None),
        (
            [
                entry("moved", "2026-03-01", act="out", reason="hired"),
                entry("moved", "2026-04-01", act="in", reason="rested"),
            ],
            "04-29",
        ),
        (
            [
                entry("moved", "2026-02-01", act="out", reason="hired"),
                entry("moved", "2026-02-20", act="in"),
                entry("moved", "2026-03-20", act="out"),
                entry("moved", "2026-04-01", act="in"),
            ],
            None,
        ),
    ],
)
def test_who_stands_in_quarantine(told: list[Entry], free: str | None) -> None:
    bull = assessed(*told)
    assert (plain("quarantine") in bull["reasons"]) is (free is not None)
    if free:
        assert check(bull, "quarantine")["not_before"] == day(free)


@pytest.mark.parametrize("required", [True, False])
def test_a_bull_with_a_fever_goes_where_no_examination_is_asked_for(required: bool) -> None:
    # held for it, not for checks alone, until a vet's look at it or an examination says fit; and an
    # examination is asked for where rules ask for none
    ill = entry("incident", "2026-04-02", cause="illness", fever=True)
    rules: dict[str, Any] = {"vet.required": required}
    bull = assessed(*sound(), ill, **rules)
    assert (bull["status"], bull["hold"], bull["reasons"]) == ("HOLD", "reason", {plain("ill")})
    assert (names(bull), bull["earliest_ready"]) == (["vet-exam"], date(2026, 4, 16))
    fit, examination = looked("2026-04-03", "illness"), examined("2026-04-03")
    for word in (fit, examination):
        said = assessed(*sound(), ill, word, **rules)
        assert (said["reasons"], names(said)) == (set(), ["vet-exam"] * required)
    for other in (looked("2026-04-03", "foot"), looked("2026-04-03", "illness", "again")):
        assert plain("ill") in assessed(*sound(), ill, other)["reasons"]


def heifers(**fields: object) -> Entry:
    return {
        **{"kind": "group", "on": "2026-01-01", "group": "Cows", "turnout": "2026-04-09"},
        **fields,
    }


@pytest.mark.parametrize(("safe", "fits"), [(None, True), (True, True), (False, False)])
def test_a_bull_too_big_for_heifers(safe: bool | None, fits: bool) -> None:
    said = [entry("bull", "2026-01-01", heifer_safe=safe)] if safe is not None else []
    bull = assessed(*sound(), heifers(**{"class": "heifers"}), *said)
    assert (plain("heifers") not in bull["reasons"]) is fits
    assert (bull["outlook"] == "ready") is fits
    assert (bull["earliest_ready"] is None) is not fits
    # the class is taken away again
    back = heifers(**{"class": None, "on": "2026-02-01"})
    cows = assessed(*sound(), heifers(**{"class": "heifers"}), back, *said)
    assert cows["status"] == "GO"


@pytest.mark.parametrize(
    ("name", "of", "held"),
    [
        ("Maiden heifers", {}, True),
        ("Maiden heifers", {"class": None}, True),
        ("Maiden heifers", {"class": "cows"}, False),
        ("Hill", {}, False),
    ],
)
def test_a_bull_too_big_for_what_the_name_alone_says_are_heifers(
    name: str, of: dict[str, str | None], held: bool
) -> None:
    told = [*sound(), heifers(group=name, **of), entry("join", "2026-01-02", group=name)]
    for safe in (False, True):
        bull = assessed(*told, entry("bull", "2026-01-01", heifer_safe=safe))
        assert (plain("heifers") in bull["reasons"]) is (held and not safe)
        assert (bull["outlook"] == "wrong-group") is (held and not safe)


def test_group_said_again_keeps_what_is_not_said() -> None:
    told = [*sound("2026-03-20"), heifers(turnout="2026-03-20", weeks=1)]
    assert assessed(*told, on="2026-03-27")["group"] == "Cows"
    assert assessed(*told, on="2026-03-28")["outlook"] == "no-turnout"
    again = heifers(turnout="2026-03-21", on="2026-03-02")
    assert assessed(*told, again, on="2026-03-28")["group"] == "Cows"
    assert assessed(*told, again, on="2026-03-29")["group"] is None
    twelve = heifers(turnout="2026-03-21", on="2026-03-02", weeks=None)
    assert assessed(*told, twelve, on="2026-03-29")["group"] == "Cows"


OWN = [
    {"name": "blood", "who": "vet", "from": "ever", "to": 21, "lag": 7, "applies": "homebred"},
    {"name": "dip", "who": "farmer", "from": 30, "applies": "hired"},
]


def test_own_check_for_life_and_with_days_between() -> None:
    blood = check(assessed(*sound("2026-05-01"), checks=OWN), "blood")
    # seven days must lie between it and turnout; it should be done three weeks before
    assert (blood["not_after"], blood["due"]) == (day("04-24"), day("04-10"))
    long_ago = entry("check", "2025-11-02", check="blood", result="pass")
    assert assessed(*sound(), long_ago, checks=OWN)["status"] == "GO"
    late = entry("check", "2026-04-03", check="blood", result="pass")
    assert check(assessed(*sound(), late, checks=OWN), "blood")["not_before"] == ON
    in_time = entry("check", "2026-04-02", check="blood", result="pass")
    assert assessed(*sound(), in_time, checks=OWN)["status"] == "GO"


@pytest.mark.parametrize(("rule", "said"), [("Ring", "ring"), ("ring", "RING")])
def test_an_own_check_is_the_same_whatever_its_capitals(rule: str, said: str) -> None:
    own: list[dict[str, Any]] = [{"name": rule, "who": "vet", "from": 30}]
    passed = entry("check", "2026-04-01", check=said, result="pass")
    assert assessed(*sound(), passed, checks=own)["status"] == "GO"
    bull = assessed(*sound(), passed, passed | {"check": rule, "result": "fail"}, checks=own)
    assert bull["reasons"] == {plain(f"check:{rule}")}


LAB = [{"name": "lab", "who": "vet", "valid": 30, "to": 7}]


def test_a_test_that_is_out_of_date_by_turnout_is_asked_for_again() -> None:
    last_day = entry("check", "2026-03-10", check="lab", result="pass")
    assert assessed(*sound("2026-04-09"), last_day, checks=LAB)["status"] == "GO"
    out_of_date = entry("check", "2026-03-09", check="lab", result="pass")
    lab = check(assessed(*sound("2026-04-09"), out_of_date, checks=LAB), "lab")
    assert (lab["not_before"], lab["not_after"], lab["due"]) == (ON, day("04-09"), day("04-02"))
    # turnout is far off: it is done again so late that it still holds then
    later = check(assessed(*sound("2026-06-20"), last_day, checks=LAB), "lab")
    assert (later["not_before"], later["due"]) == (day("05-21"), day("06-13"))
    both = [{**LAB[0], "from": 20}]
    assert names(assessed(*sound("2026-04-09"), last_day, checks=both)) == ["lab"]


def test_a_test_holds_no_longer_than_it_says_itself_nor_than_the_rules_say() -> None:
    says = entry("check", "2026-04-01", check="lab", result="pass", valid_until="2026-04-09")
    assert assessed(*sound("2026-04-09"), says, checks=LAB)["status"] == "GO"
    over = says | {"valid_until": "2026-04-08"}
    assert names(assessed(*sound("2026-04-09"), over, checks=LAB)) == ["lab"]
    # it says that it holds for long: the rules say 30 days
    long = entry("check", "2026-03-09", check="lab", result="pass", valid_until="2027-03-09")
    assert names(assessed(*sound("2026-04-09"), long, checks=LAB)) == ["lab"]
    # an older one that still holds counts beside a newer one that does not
    older = entry("check", "2026-03-30", check="lab", result="pass")
    assert assessed(*sound("2026-04-09"), older, over, checks=LAB)["status"] == "GO"
    # done once and for all, but for what it says itself
    ever = [{"name": "lab", "who": "vet", "from": "ever"}]
    assert assessed(*sound("2026-04-09"), long, checks=ever)["status"] == "GO"
    assert names(assessed(*sound("2026-04-09"), over, checks=ever)) == ["lab"]


def test_own_check_of_hired_bulls() -> None:
    hired = entry("bull", "2026-01-01", origin="hired", arrived="2026-01-01")
    assert names(assessed(*sound(), hired, checks=OWN)) == ["dip"]


OUT = entry("moved", "2026-04-02", act="out")


def test_going_out_clears_nothing() -> None:
    told = [told for told in sound("2026-04-02") if told["kind"] != "condition"]
    bull = assessed(*told, OUT)
    assert (names(bull), bull["reasons"]) == (["condition"], {plain("went-out")})
    score = check(bull, "condition")
    assert (score["not_before"], score["due"], score["overdue"]) == (ON, day("04-02"), True)
    assert (score["not_after"], bull["slack_days"], bull["outlook"]) == (None, None, "working")
    done = entry("condition", "2026-04-03", scale="five", score=3)
    assert assessed(*told, OUT, done)["status"] == "GO"
    # of the day he went out: whether it was written down before or after
    same = done | {"on": "2026-04-02"}
    assert assessed(*told, OUT, same)["status"] == assessed(*told, same, OUT)["status"] == "GO"


def test_what_ages_while_he_works_is_not_asked_of_him() -> None:
    bull = assessed(*sound("2026-04-02"), OUT, on="2026-08-20")
    assert (bull["status"], names(bull)) == ("GO", [])


def test_out_without_a_walk_until_he_walks_sound_and_settled() -> None:
    told = [*(t for t in sound("2026-04-02") if t["kind"] != "mobility"), OUT]
    trimmed = lift("2026-04-04", "LF", work=[{"foot": "LF", "act": "trim"}])
    assert names(assessed(*told, trimmed, walk("2026-04-05", 0), on="2026-04-06")) == ["mobility"]
    assert names(assessed(*told, trimmed, walk("2026-04-06", 0), on="2026-04-06")) == []
    # once done it stays done
    assert names(assessed(*told, walk("2026-04-03", 0), trimmed, on="2026-04-30")) == []


def test_a_person_who_must_decide_is_no_examination_passed() -> None:
    told = [*(t for t in sound("2026-04-02") if t["kind"] != "vet-exam"), OUT]
    told += [looked("2026-04-03", "illness", "unfit"), looked("2026-04-04", "illness")]
    bull = assessed(*told, on="2026-04-05")
    assert (names(bull), bull["reasons"]) == (["vet-exam"], {plain("went-out")})


def test_an_examination_passed_while_out_is_passed_though_a_look_said_unfit() -> None:
    told = [*(t for t in sound("2026-04-02") if t["kind"] != "vet-exam"), OUT]
    told += [looked("2026-03-30", "foot", "unfit"), examined("2026-04-03")]
    bull = assessed(*told, on="2026-04-05")
    assert (names(bull), bull["reasons"]) == ([], {plain("unfit")})


def test_out_with_a_wrap_or_a_look_to_come() -> None:
    wrap = lift("2026-04-02", "LH", work=[{"foot": "LH", "act": "wrap"}])
    bull = assessed(*sound("2026-04-02"), OUT, wrap, looked("2026-04-03", "other", "again"))
    kinds = {kind for kind, *_ in bull["reasons"]}
    assert (set(names(bull)), kinds) == (
        {"wrap-off:LH", "vet-again:2026-04-03:other", "mobility"},
        {"wrap", "vet-again", "went-out"},
    )


def test_out_again_while_out_is_no_going_out() -> None:
    told = [told for told in sound("2026-04-02") if told["kind"] != "condition"]
    bull = assessed(*told, OUT, OUT | {"on": "2026-04-03"})
    assert check(bull, "condition")["due"] == day("04-02")


def test_a_worker_with_fever_is_held_until_a_vet_says_that_he_is_fit() -> None:
    out = [*sound("2026-04-01"), entry("moved", "2026-04-01", act="out")]
    ill = entry("incident", "2026-04-02", cause="other", fever=True)
    assert plain("ill") in assessed(*out, ill)["reasons"]
    for about, outcome, held in (
        ("illness", "fit", False), ("foot", "fit", True), ("illness", "again", True),
    ):  # fmt: skip
        said = assessed(*out, ill, looked("2026-04-03", about, outcome))
        assert (plain("ill") in said["reasons"]) is held
    assert plain("ill") not in assessed(*out, ill, examined("2026-04-03"))["reasons"]


def test_own_checks_of_bought_bulls_are_asked_of_one_from_nobody_knows_where() -> None:
    bought = {"name": "blood", "from": 60, "applies": "bought"}
    came = entry("bull", "2025-12-01", arrived="2025-12-01")
    assert "blood" in names(assessed(*sound(), came, checks=[bought]))
    assert "blood" not in names(assessed(*sound(), checks=[bought]))
