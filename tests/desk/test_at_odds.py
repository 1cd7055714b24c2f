"""Two copies of a book that say of a bull what cannot both be: he must not be a plain GO in the one
that they become. No published standard tells how: each case is told by what its people meant."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from readiness.desk.desk import Desk
from readiness.desk.retagging import retag
from readiness.engine.results import Assessment
from tests.build import TAG, booked, lift, ulcer, walk
from tests.desk.two_copies import SAID, Copies, board

NEW, OTHER = "B 2", "B 3"


def last_walk(desk: Desk) -> str:
    return [entry.id for entry in desk.standing() if entry.kind == "mobility"][-1]


def held(bull: Assessment) -> str:
    """What holds him beside checks, where copies are at odds about him."""
    assert (bull.status, bull.hold, bull.earliest_ready) == ("HOLD", "reason", None)
    assert bull.outlook in ("at-odds", "not-booked")
    texts = [reason.text for reason in bull.reasons if reason.rule == "copies.agree"]
    assert texts == [reason.text for reason in bull.reasons[: len(texts)]] != []
    return "; ".join(texts)


def told_of_one_bull(copies: Copies, was: str, now: str) -> bool:
    """Whether a merge says what makes the two one, and gives no other way."""
    told = copies.a.merge(copies.b.book.path, check=True).disagreements
    texts = [each.text for each in told if "booking taken back" in each.text]
    assert all("booked again" not in text for text in texts)
    return any(
        f"`readiness retag '{was}' '{now}' --same` makes the two one" in text for text in texts
    )


def settled(bull: Assessment) -> bool:
    """Whether the ulcer holds him, and no copies that are at odds."""
    reasons = bull.reasons
    return reasons[0].code == "SU" and all(each.rule != "copies.agree" for each in reasons)


@pytest.fixture
def copies(tmp_path: Path) -> Copies:
    return Copies(tmp_path)


def retags(desk: Desk) -> str:
    retag(desk, TAG, NEW)
    return NEW


def retags_twice(desk: Desk) -> str:
    retag(desk, TAG, OTHER)
    retag(desk, OTHER, NEW)
    return NEW


def takes_back_and_undoes(desk: Desk) -> str:
    desk.strike(last_walk(desk), "a slip")
    desk.undo()
    return TAG


def corrects(desk: Desk) -> str:
    desk.correct(last_walk(desk), [walk("2026-11-24", 0)])
    return TAG


# ---- taken back in one, said still in the other --------------------------------------------------


@pytest.mark.parametrize("does", [retags, retags_twice, takes_back_and_undoes, corrects])
def test_a_walk_taken_back_in_one_copy_counts_as_it_was_said_again_in_the_other(
    copies: Copies, does: Any
) -> None:
    copies.b.strike(last_walk(copies.b), "that was another bull")
    tag = does(copies.a)
    told = copies.a.merge(copies.b.book.path, check=True).disagreements
    assert any(
        each.about == "taken-back" and "(that was another bull)" in each.text and each.bull == tag
        for each in told
    )
    text = held(copies.together()[tag])
    assert text.startswith("one copy of the book took back what another says still, Walk 0")
    assert "(that was another bull)" in text

    (entry,) = re.findall(r"`readiness strike ([0-9a-f-]{36})`", text)
    copies.a.strike(entry, "another bull indeed")
    left = board(copies.a)[tag]
    assert (left.reasons, [check.check for check in left.outstanding]) == ((), ["mobility"])
    copies.a.add([walk("2026-11-28", 0, tag=tag)])
    assert copies.together()[tag].status == "GO"


def test_an_ulcer_that_one_copy_took_back_is_lost_where_the_other_only_corrected_it(
    copies: Copies,
) -> None:
    copies.a.add([lift("2026-11-26", "LH", findings=ulcer(2))])
    copies.b.merge(copies.a.book.path)
    wrong = [entry.id for entry in copies.a.standing() if entry.kind == "feet"][-1]
    copies.a.strike(wrong, "that was another bull")
    copies.b.correct(wrong, [lift("2026-11-26", "LH", findings=ulcer(3))])
    both = copies.together()[TAG]
    assert "took back what another says still" in held(both)
    assert any(reason.code == "SU" for reason in both.reasons)  # nor is what was found forgotten


def test_two_corrections_hold_him_for_ever_though_one_was_taken_back_to_settle_them(
    copies: Copies,
) -> None:
    """Both stand, a merge says so, and to take one back is the way to settle it."""
    copies.a.correct(last_walk(copies.a), [walk("2026-11-24", 0)])
    copies.b.correct(last_walk(copies.b), [walk("2026-11-23", 0)])
    assert copies.together()[TAG].status == "GO"
    copies.a.strike(last_walk(copies.a), "it was the 23rd")
    assert copies.together()[TAG].status == "GO"


def test_what_was_given_to_another_bull_holds_him_to_whom_it_was_given(copies: Copies) -> None:
    copies.a.add([{**line, "bull": OTHER} for line in SAID[1:-1]])
    copies.b.merge(copies.a.book.path)
    copies.b.strike(last_walk(copies.b), "that was another bull")
    copies.a.instead([last_walk(copies.a)], [walk("2026-11-25", 0, tag=OTHER)], "wrong bull")
    both = copies.together()
    assert both[OTHER].status == "GO"
    assert [check.check for check in both[TAG].outstanding] == ["mobility"]


# ---- one bull under two tags ---------------------------------------------------------------------


def test_an_ulcer_written_under_the_former_tag_never_reaches_the_bull(copies: Copies) -> None:
    retag(copies.a, TAG, NEW)
    copies.b.add([lift("2026-11-28", "LH", findings=ulcer(3))])
    assert told_of_one_bull(copies, TAG, NEW)
    both = copies.together()
    assert held(both[NEW]).startswith("in the book as B 1 too")
    assert held(both[TAG]).startswith("in the book as B 2 too")
    assert "`readiness retag 'B 1' 'B 2' --same`" in held(both[NEW])
    assert "`readiness retag 'B 1' 'B 2' --same`" in held(both[TAG])

    # To book the former tag again is no way out of it, and that is said.
    (odd,) = copies.b.add([booked(on="2026-11-28")]).warnings
    assert "was given another tag" in odd.text
    assert held(board(copies.b)[NEW])

    retag(copies.b, TAG, NEW, same=True)
    (one,) = copies.together().values()
    assert settled(one)


def test_what_was_written_under_the_new_tag_is_lost_where_the_other_copy_took_the_tag_back(
    copies: Copies,
) -> None:
    retag(copies.a, TAG, NEW)
    copies.b.merge(copies.a.book.path)
    copies.b.add([lift("2026-11-28", "LH", tag=NEW, findings=ulcer(3))])
    copies.a.undo()
    assert told_of_one_bull(copies, NEW, TAG)
    both = copies.together()
    assert "`readiness retag 'B 2' 'B 1' --same`" in held(both[TAG])
    assert held(both[NEW])
    retag(copies.a, NEW, TAG, same=True)
    (one,) = copies.together().values()
    assert one.bull == TAG and settled(one)


def test_two_copies_give_two_tags_and_one_of_them_is_a_plain_go(copies: Copies) -> None:
    retag(copies.a, TAG, NEW)
    copies.b.add([lift("2026-11-28", "LH", findings=ulcer(3))])
    retag(copies.b, TAG, OTHER)
    assert told_of_one_bull(copies, OTHER, NEW)
    told = copies.a.merge(copies.b.book.path, check=True).disagreements
    assert len(told) == 1, told  # and not each of his entries as corrected twice
    both = copies.together()
    assert "`readiness retag 'B 3' 'B 2' --same`" in held(both[NEW])
    assert "`readiness retag 'B 2' 'B 3' --same`" in held(both[OTHER])
    retag(copies.a, OTHER, NEW, same=True)
    (one,) = copies.together().values()
    assert settled(one)


def test_what_the_other_copy_booked_anew_and_found_lame_is_another_bull(copies: Copies) -> None:
    """It said more of his booking before it knew of the tag: one of his bookings stands."""
    copies.b.add([booked(on="2026-11-20", temper="watch"), walk("2026-11-28", 2)])
    retag(copies.a, TAG, NEW)
    assert told_of_one_bull(copies, TAG, NEW)
    both = copies.together()
    assert held(both[NEW]) and held(both[TAG])


def test_whoever_has_his_former_tag_by_right_holds_him_for_ever(copies: Copies) -> None:
    """Two tags that were mixed up change places; a former one is given to a bull who came later."""
    copies.a.add([{**line, "bull": OTHER} for line in SAID[1:]])
    for was, now in ((TAG, "X 9"), (OTHER, TAG), ("X 9", OTHER)):
        retag(copies.a, was, now)
    assert {bull.status for bull in copies.together().values()} == {"GO"}
    retag(copies.a, TAG, NEW)
    copies.a.add([{**line, "bull": TAG} for line in SAID[1:]])
    first = [entry.id for entry in copies.a.standing() if entry.kind == "bull"]
    copies.a.correct(first[-1], [booked(on="2026-10-01", born="2022-04-01")])
    both = copies.together()
    assert {tag: bull.status for tag, bull in both.items()} == dict.fromkeys(
        (TAG, NEW, OTHER), "GO"
    )


def test_two_bulls_once_taken_for_one_and_parted_again_are_held(copies: Copies) -> None:
    copies.a.add([{**line, "bull": OTHER} for line in SAID[1:]])
    retag(copies.a, OTHER, TAG, same=True)
    copies.a.undo()
    assert {bull.status for bull in copies.together().values()} == {"GO"}
