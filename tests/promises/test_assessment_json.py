"""Each promise about ``board --json``, by a book small enough to work its days out by hand."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest

from tests import build as say
from tests.promises import stated
from tests.promises.conftest import Run, Tell

Board = Callable[..., dict[str, Any]]
STANDINGS = {"published", "common practice (no source)", "from memory", "project choice"}
ULCER = say.found("LH", "outer", "SU", severity=2, zone=4)
ON = "2026-04-28"


def only(board: dict[str, Any]) -> dict[str, Any]:
    (bull,) = board["bulls"]
    made: dict[str, Any] = bull
    return made


def check(bull: dict[str, Any], which: str) -> dict[str, Any]:
    (one,) = [check for check in bull["outstanding"] if check["id"] == which]
    made: dict[str, Any] = one
    return made


def one_bull(tell: Tell, turnout: str, *lines: say.Line, **booked: Any) -> None:
    tell(say.group(turnout), say.booked(**booked), say.join(), *lines)


@pytest.fixture
def demo(run: Run, tmp_path: Any) -> dict[str, Any]:
    book = tmp_path / "demo.duckdb"
    assert run("demo", "--book", book, "--on", ON).code == 0
    made: dict[str, Any] = run("board", "--json", "--book", book, "--on", ON).json()
    return made


def test_every_key_of_every_bull_reason_and_check_is_there_and_sourced(
    demo: dict[str, Any],
) -> None:
    assert len(demo["bulls"]) == 36
    for bull in demo["bulls"]:
        assert stated.keys("bull") <= set(bull)
        for remark in (*bull["reasons"], *bull["advice"]):
            assert stated.keys("reason, advice") <= set(remark)
            assert remark["standing"] in STANDINGS and remark["source"] and remark["rule"]
        for one in bull["outstanding"]:
            assert stated.keys("check") <= set(one)
            assert one["standing"] in STANDINGS and one["source"] and one["rule"]
            parts = (one["check"], one["foot"], one["claw"], one["code"])
            told_apart = one["check"] == "vet-again"  # by its day and what it is about, behind
            place = ":".join(part for part in parts if part)
            assert one["id"].startswith(f"{place}:") if told_apart else one["id"] == place
        ids = [one["id"] for one in bull["outstanding"]]
        assert len(ids) == len(set(ids))
        assert all(set(one["after"]) <= set(ids) for one in bull["outstanding"])


def test_every_reason_has_its_since(demo: dict[str, Any]) -> None:
    for bull in demo["bulls"]:
        for reason in bull["reasons"]:
            assert reason["since"] is not None and reason["since"] <= ON, reason


def test_the_order_of_the_board(demo: dict[str, Any]) -> None:
    """HOLD for a reason, for checks, GO; in each least slack first (null first), then tag."""
    rank = {"reason": 0, "checks": 1, None: 2}
    told = [
        (
            rank[bull["hold"]],
            bull["slack_days"] is not None,
            bull["slack_days"] or 0,
            "".join(bull["bull"].split()).upper(),
        )
        for bull in demo["bulls"]
    ]
    assert told == sorted(told)


def test_what_status_hold_outlook_and_slack_say_of_each_other(demo: dict[str, Any]) -> None:
    for bull in demo["bulls"]:
        go = not bull["reasons"] and not bull["outstanding"]
        assert bull["status"] == ("GO" if go else "HOLD")
        assert bull["hold"] == (None if go else "reason" if bull["reasons"] else "checks")
        assert bull["overdue"] == sum(one["overdue"] for one in bull["outstanding"])
        if bull["earliest_ready"] and bull["turnout"]:
            slack = date.fromisoformat(bull["turnout"]) - date.fromisoformat(bull["earliest_ready"])
            assert bull["slack_days"] == slack.days
        else:
            assert bull["slack_days"] is None
        if bull["outlook"] in ("working", "vet-decides"):
            assert bull["earliest_ready"] is None and not bull["chain"]


def test_the_chain_runs_from_a_given_day_to_turnout_link_by_link(
    demo: dict[str, Any], run: Run, tmp_path: Any
) -> None:
    for bull in demo["bulls"]:
        chain = bull["chain"]
        if bull["earliest_ready"] is None:
            continue
        assert chain[-1]["to"] == "turnout"
        for before, after in pairwise(chain):
            assert before["to"] == after["from"]
        start = date.fromisoformat(ON)
        if chain[0]["from"] != "today":
            told = run("bull", bull["bull"], "--json", "--book", tmp_path / "demo.duckdb",
                       "--on", ON).json()  # fmt: skip
            days = {entry["id"]: entry["on"] for entry in told["history"]}
            arrived = [e["arrived"] for e in told["history"] if e.get("arrived")]
            born = [e["born"] for e in told["history"] if e.get("born")]
            of_a_fact = {"quarantine.days": arrived, "age.least": born}.get(chain[0]["rule"])
            first = of_a_fact[0] if of_a_fact else days[chain[0]["from"]]
            start = date.fromisoformat(first)
        whole = start + timedelta(sum(link["days"] for link in chain))
        assert whole.isoformat() == bull["earliest_ready"]


def test_groups_count_bulls_go_and_forecast_ready(tell: Tell, board: Board) -> None:
    """GO: A. Forecast ready by turnout: A and B (his walk only). C, lame on the 28th, is ready on
    5 May, a day after turnout."""
    tell(
        say.group("2026-05-04", females=60),
        say.group("2026-05-04", name="Empty", on="2026-01-02"),
        *(line for tag in "ABC" for line in (say.booked(tag), say.join(tag))),
        *say.ready(tag="A"),
        *say.ready(tag="B")[::2],
        *say.ready(tag="C")[::2],
        say.exam("2026-04-01", tag="B"),
        say.lift("2026-03-20", tag="C"),
        say.exam("2026-04-01", tag="C"),
        say.walk("2026-04-28", 2, tag="C", limb="LF"),
        say.lift("2026-04-28", "LF", tag="C"),
    )
    told = board(ON)
    assert [bull["bull"] for bull in told["bulls"]] == ["C", "B", "A"]
    keys = ("farm", "group", "turnout", "females", "bulls", "go", "forecast_ready")
    assert [tuple(line[key] for key in keys) for line in told["groups"]] == [
        (None, "Empty", "2026-05-04", None, 0, 0, 0),
        (None, "Hill", "2026-05-04", 60, 3, 1, 2),
    ]


def test_a_bull_with_nothing_done(tell: Tell, board: Board) -> None:
    """Turnout 2026-06-10: feet from T-120 (past: today) to T, due T-7, better T-56; walk from
    T-14; condition from T-30; vet from T-60, better by T-28."""
    one_bull(tell, "2026-06-10")
    bull = only(board("2026-04-01"))
    assert bull["name"] is None and bull["farm"] is None and bull["role"] == "worker"
    assert (bull["status"], bull["hold"], bull["outlook"]) == ("HOLD", "checks", "on-track")
    days = {
        one["id"]: (one["not_before"], one["not_after"], one["due"], one["advised_by"])
        for one in bull["outstanding"]
    }
    assert days == {
        "feet": ("2026-04-01", "2026-06-10", "2026-06-03", "2026-04-15"),
        "mobility": ("2026-05-27", "2026-06-10", None, None),
        "condition": ("2026-05-11", "2026-06-10", None, None),
        "vet-exam": ("2026-04-11", "2026-06-10", None, "2026-05-13"),
    }
    assert check(bull, "feet")["feet"] == say.FEET
    assert {one["check"]: one["who"] for one in bull["outstanding"]} == {
        "feet": "trimmer", "mobility": "farmer", "condition": "farmer", "vet-exam": "vet",
    }  # fmt: skip


def test_an_ulcer_under_a_block(tell: Tell, board: Board) -> None:
    """Found and blocked on 1 March: block off 28 to 42 days after; look at 28 days, from 21 to 35;
    healed plausible 33 days after; the block off 7 days before the walk that counts."""
    one_bull(
        tell,
        "2026-05-20",
        say.lift("2026-03-01", findings=[ULCER]),
        say.said("block-on", "2026-03-01", foot="LH", claw="inner"),
    )
    bull = only(board("2026-03-10"))
    assert {reason["rule"] for reason in bull["reasons"]} == {
        "finding.SU.holds_from",
        "block.least",
    }
    off, under = check(bull, "block-off:LH:inner"), check(bull, "block-look:LH:inner")
    look, clear = check(bull, "look:LH:outer:SU"), check(bull, "clear:LH:outer:SU")
    assert (off["not_before"], off["not_after"], off["due"]) == (
        "2026-03-29", "2026-05-13", "2026-04-12",
    )  # fmt: skip
    assert (under["not_before"], under["not_after"], under["due"]) == (
        "2026-03-29", "2026-05-20", None,
    )  # fmt: skip
    assert (look["not_before"], look["due"]) == ("2026-03-22", "2026-04-05")
    assert (clear["not_before"], clear["due"]) == ("2026-04-03", None)
    assert (clear["foot"], clear["claw"], clear["code"]) == ("LH", "outer", "SU")
    assert set(clear["after"]) == {"look:LH:outer:SU", "block-off:LH:inner"}
    assert under["after"] == ["block-off:LH:inner"] and off["after"] == look["after"] == []
    assert set(check(bull, "mobility")["after"]) == {
        "clear:LH:outer:SU", "block-off:LH:inner", "block-look:LH:inner",
    }  # fmt: skip
    assert [one["since"] for one in (off, look, clear)] == ["2026-03-01"] * 3


def test_no_day_fits_shows_by_how_much(tell: Tell, board: Board) -> None:
    """Lame on 1 May, turnout 5 May: sound again from 8 May at the earliest."""
    one_bull(tell, "2026-05-05", *say.ready(), say.walk("2026-05-01", 2, limb="RF"))
    bull = only(board("2026-05-01"))
    walk = check(bull, "mobility")
    assert (walk["not_before"], walk["not_after"]) == ("2026-05-08", "2026-05-05")
    assert (bull["outlook"], bull["earliest_ready"], bull["slack_days"]) == (
        "too-late", "2026-05-08", -3,
    )  # fmt: skip
    lift = check(bull, "lift")
    assert (lift["feet"], lift["due"], lift["overdue"]) == (["RF"], "2026-05-03", False)
    assert only(board("2026-05-03"))["overdue"] == 0
    assert check(only(board("2026-05-04")), "lift")["overdue"] is True


LAME = say.walk("2026-04-28", 2, limb="LF")
REASONS = [
    ("finding", "finding.SU.holds_from", [say.lift("2026-04-28", findings=[ULCER])]),
    ("stage unknown", "finding.DD.holds_stages",
     [say.lift("2026-04-28", findings=[say.found("LH", "skin", "DD")])]),
    ("block", "block.least", [say.said("block-on", "2026-04-28", foot="RF", claw="outer")]),
    ("lame", "mobility.lame.gb0-3", [LAME, say.lift("2026-04-28", "LF")]),
    ("condition", "condition.hold.five", [say.condition("2026-04-28", 2.25)]),
    ("deferred", "vet.required", [say.exam("2026-04-28", "deferred")]),
    ("unsatisfactory", "vet.required", [say.exam("2026-04-28", "unsatisfactory")]),
    ("lift", "lame.lift", [say.said("incident", "2026-04-28", cause="fight", limb="RH")]),
    ("vet-look", "finding.SW.vet_from",
     [say.lift("2026-04-28", findings=[say.found("LH", "skin", "SW")])]),
    ("quarantine", "quarantine.days",
     [say.booked(on="2026-04-10", origin="bought", arrived="2026-04-10")]),
]  # fmt: skip


@pytest.mark.parametrize(("what", "rule", "lines"), REASONS)
def test_every_reason_to_hold(
    tell: Tell, board: Board, what: str, rule: str, lines: list[say.Line]
) -> None:
    one_bull(tell, "2026-05-04", *say.ready())
    assert only(board("2026-04-28"))["status"] == "GO"
    tell(*lines)
    bull = only(board("2026-04-28"))
    assert (bull["status"], bull["hold"]) == ("HOLD", "reason")
    assert rule in {reason["rule"] for reason in bull["reasons"]}, what


def test_a_failed_check_of_ones_own_holds_until_a_later_pass(
    tell: Tell, board: Board, tmp_path: Any
) -> None:
    (tmp_path / "bulls.toml").write_text(
        '[[check]]\nname = "ring"\nwho = "farmer"\nfrom = 60\nto = 1\nlag = 2\n',
        encoding="utf-8",
    )
    one_bull(tell, "2026-05-04", *say.ready())
    own = check(only(board("2026-04-28")), "ring")
    assert (own["not_before"], own["not_after"], own["due"], own["who"]) == (
        "2026-04-28", "2026-05-02", "2026-05-03", "farmer",
    )  # fmt: skip
    tell(say.said("check", "2026-04-27", check="ring", result="fail"))
    assert only(board("2026-04-28"))["hold"] == "reason"
    tell(say.said("check", "2026-04-28", check="ring", result="pass"))
    assert only(board("2026-04-28"))["status"] == "GO"


def test_outlooks_working_vet_decides_no_turnout(tell: Tell, board: Board) -> None:
    tell(
        say.group("2026-05-04"), *(say.booked(tag) for tag in "ABC"), say.join("A"), say.join("B"),
        *say.ready(tag="A"), *say.ready(tag="B"), *say.ready(tag="C"),
        say.exam("2026-04-28", "unsatisfactory", tag="A"),
        say.said("moved", "2026-04-28", "B", act="out"),
    )  # fmt: skip
    told = {bull["bull"]: bull for bull in board("2026-04-28")["bulls"]}
    assert {tag: bull["outlook"] for tag, bull in told.items()} == {
        "A": "vet-decides", "B": "working", "C": "no-turnout",
    }  # fmt: skip
    assert told["C"]["turnout"] is None and told["C"]["status"] == "GO"
    assert told["C"]["role"] is None and told["C"]["slack_days"] is None
    assert told["B"]["earliest_ready"] is None and told["B"]["status"] == "GO"


def test_a_bull_that_is_out_is_asked_only_for_what_his_reasons_need(
    tell: Tell, board: Board
) -> None:
    one_bull(
        tell, "2026-05-04", *say.ready(), say.said("moved", "2026-05-04", act="out"),
        say.walk("2026-05-20", 2, limb="LH"),
    )  # fmt: skip
    bull = only(board("2026-05-21"))
    assert {one["check"] for one in bull["outstanding"]} == {"lift", "walk-again"}
    assert all(one["not_after"] is None for one in bull["outstanding"])
    assert (bull["status"], bull["outlook"]) == ("HOLD", "working")


def test_a_bull_that_left_is_off_the_board(tell: Tell, board: Board) -> None:
    one_bull(tell, "2026-05-04", say.said("moved", "2026-04-20", act="left", reason="sold"))
    assert len(board("2026-04-19")["bulls"]) == 1
    assert board("2026-04-20")["bulls"] == []


def test_once_turnout_has_passed_nothing_is_bounded_by_it(tell: Tell, board: Board) -> None:
    one_bull(tell, "2026-05-04")
    on_the_day, after = only(board("2026-05-04")), only(board("2026-05-06"))
    assert all(one["not_after"] == "2026-05-04" for one in on_the_day["outstanding"])
    for one in after["outstanding"]:
        assert (one["not_after"], one["due"], one["advised_by"]) == (None, None, None)
    assert (after["turnout"], after["slack_days"], after["outlook"]) == (
        "2026-05-04", -2, "too-late",
    )  # fmt: skip


def test_membership_ends_with_the_season(tell: Tell, board: Board) -> None:
    """9 weeks from 1 May 2026: the last day is 3 July (check value); 12 weeks where unsaid."""
    tell(
        say.group("2026-05-01", weeks=9), say.group("2026-05-01", name="Long"),
        say.booked("A"), say.join("A"), say.booked("B"), say.join("B", "Long"),
    )  # fmt: skip

    def groups(on: str) -> dict[str, Any]:
        return {bull["bull"]: bull["group"] for bull in board(on)["bulls"]}

    assert groups("2026-07-03") == {"A": "Hill", "B": "Long"}
    assert groups("2026-07-04") == {"A": None, "B": "Long"}
    assert groups("2026-07-25") == {"A": None, "B": None}
    assert only(board("2026-07-04", "--group", "Long"))["bull"] == "B"


def test_a_group_without_weeks_in_the_rules_of_its_farm(
    tell: Tell, board: Board, tmp_path: Any
) -> None:
    (tmp_path / "bulls.toml").write_text(
        '[farm."Moss".rules]\ntight.days = 30\nfeet.oldest = 20\n', encoding="utf-8"
    )
    tell(
        say.group("2026-05-04", farm="Moss"), say.group("2026-05-04"),
        say.booked("A", farm="Moss"), say.join("A"), *say.ready(tag="A"),
        say.booked("B"), say.join("B"), *say.ready(tag="B"),
    )  # fmt: skip
    told = {bull["bull"]: bull for bull in board("2026-04-28")["bulls"]}
    assert [one["id"] for one in told["A"]["outstanding"]] == ["feet"]
    assert told["A"]["outlook"] == "tight" and told["B"]["status"] == "GO"
    assert [bull["bull"] for bull in board("2026-04-28", "--farm", "Moss")["bulls"]] == ["A"]
    assert [line["farm"] for line in board("2026-04-28", "--farm", "Moss")["groups"]] == ["Moss"]


def test_what_if_turnout_were_another_day(tell: Tell, board: Board) -> None:
    one_bull(tell, "2026-05-04", *say.ready())
    bull = only(board("2026-04-28", "--turnout", "2026-06-20"))
    assert bull["turnout"] == "2026-06-20"
    assert check(bull, "mobility")["not_before"] == "2026-06-06"
    assert check(bull, "condition")["not_before"] == "2026-05-21"
    assert check(bull, "vet-exam")["not_before"] == "2026-04-28"


def test_lame_again_and_again(tell: Tell, board: Board) -> None:
    """Lame on 1 March, turnout 20 June: walk again from 8 March, overdue after 15 March; vet after
    14 days lame, asked on day 15, due 2 days after the 14th."""
    one_bull(
        tell, "2026-06-20", say.walk("2026-03-01", 2, limb="LF"), say.lift("2026-03-01", "LF",
        findings=[say.found("LF", "outer", "WLF", severity=1)]),
    )  # fmt: skip
    again = check(only(board("2026-03-02")), "walk-again")
    assert (again["not_before"], again["due"], again["since"]) == (
        "2026-03-08", "2026-03-15", "2026-03-01",
    )  # fmt: skip
    assert "vet-look" not in {one["id"] for one in only(board("2026-03-15"))["outstanding"]}
    vet = check(only(board("2026-03-16")), "vet-look")
    assert (vet["rule"], vet["due"], vet["since"]) == ("lame.long", "2026-03-17", "2026-03-15")


def test_ids_are_the_same_from_day_to_day(tell: Tell, board: Board) -> None:
    one_bull(
        tell, "2026-05-20", say.lift("2026-03-01", findings=[ULCER]),
        say.said("block-on", "2026-03-01", foot="LH", claw="inner"),
    )  # fmt: skip
    days = [[one["id"] for one in only(board(on))["outstanding"]] for on in
            ("2026-03-02", "2026-03-03", "2026-03-20")]  # fmt: skip
    assert days[0] == days[1] == days[2]
