"""Which bulls are in view and in which order."""

from __future__ import annotations

from readiness.engine.results import Assessment, Board, Check, GroupLine
from readiness.herd.team import Team
from readiness.tui.shared.view import STATES, View, bulls_in, teams

DAY = 739709


def check(last: int) -> Check:
    return Check(
        "mobility", "mobility", "mobility.oldest", None, None, None, (), DAY, last, None, None,
        False, (), None, "farmer", "score his walk", "", "",
    )  # fmt: skip


def bull(key: str, name: str | None = None, **more: object) -> Assessment:
    plain = Assessment(
        key, key, name, None, "Heifers", "worker", DAY + 6, "HOLD", "checks", "on-track", DAY, 6, 0,
        (), (check(DAY + 6),), (), (),
    )  # fmt: skip
    return plain._replace(**more)  # type: ignore[arg-type]


LAME = bull("00300", "Corran", hold="reason", earliest_ready=DAY + 5, outstanding=(check(DAY),))
VET = bull("00100", "Tarn", hold="reason", earliest_ready=None, farm="Low End")
LATER = bull("00200", "Fenwick", group=None, outstanding=(check(DAY + 30),))
GO = bull("00400", "Tarragon", status="GO", hold=None, outstanding=())
GROUPS = (
    GroupLine(None, "Heifers", DAY + 6, None, 2, 1, 1, 1, 0, 0),
    GroupLine("Low End", "Heifers", DAY + 9, None, 1, 0, 0, 1, 0, 0),
)
BOARD = Board(DAY, "default", "", GROUPS, (LAME, VET, LATER, GO))


def keys(view: View) -> list[str]:
    return [bull.key for bull in bulls_in(BOARD, view)]


def test_the_board_order_is_left_alone() -> None:
    assert keys(View()) == ["00300", "00100", "00200", "00400"]


def test_by_ready_puts_no_day_last() -> None:
    assert keys(View(sort="could go")) == ["00200", "00400", "00300", "00100"]


def test_by_the_day_to_do_it_puts_nothing_to_do_last() -> None:
    assert keys(View(sort="day to do it")) == ["00300", "00100", "00200", "00400"]


def test_by_tag() -> None:
    assert keys(View(sort="tag")) == ["00100", "00200", "00300", "00400"]


def test_each_state_alone() -> None:
    shown = {state: keys(View(state=state)) for state in STATES[1:]}
    assert shown == {
        "hold for a reason": ["00300", "00100"],
        "checks to come": ["00200"],
        "GO": ["00400"],
    }


def test_groups_of_one_name_on_two_farms_are_two() -> None:
    assert teams(BOARD) == [
        Team(""), Team("Low End"), Team("", "Heifers"), Team("Low End", "Heifers"), Team(None, ""),
    ]  # fmt: skip
    assert keys(View(team=Team("Low End", "Heifers"))) == ["00100"]
    assert keys(View(team=Team("", "Heifers"))) == ["00300", "00400"]
    assert keys(View(team=Team(None, ""))) == ["00200"]
    assert keys(View(team=Team("Low End"))) == ["00100"]


def test_finding_takes_the_run_of_letters_before_letters_apart() -> None:
    assert keys(View(find="tar")) == ["00100", "00400"]
    assert keys(View(find="trn")) == ["00100", "00400"]
    assert keys(View(find="arn"))[0] == "00100"
    assert keys(View(find="0 3 0 0"))[0] == "00300"
    assert keys(View(find="000")) == [], "digits far apart are no bull's"
    assert keys(View(find="  ")) == keys(View())
    assert keys(View(find="zzz")) == []


def test_a_state_asked_for_twice_shows_all_again() -> None:
    once = View().with_state("GO")
    assert once.narrowed
    assert not once.with_state("GO").narrowed
