"""What is said of a slip before it is saved, where a bull might come to harm or do it."""

from __future__ import annotations

from datetime import date
from typing import Any

from readiness.crush.meaning import odd
from readiness.crush.slip import Slip
from readiness.shorthand import Scales
from tests.build import TAG, said, sound
from tests.crush.cards import card

ON = "2026-04-03"
HEIFERS = {
    "kind": "group", "on": "2026-01-01", "group": "Heifers", "turnout": "2026-04-09",
    "class": "heifers",
}  # fmt: skip


def told(line: str, *entries: dict[str, Any]) -> list[str]:
    slip = Slip(TAG, date.fromisoformat(ON)).read(line, Scales("gb0-3", "five"))
    return odd(slip, card(ON, *entries))


def test_letting_out_a_bull_on_hold_says_what_holds_him_before_it_is_saved() -> None:
    lame = said("mobility", "2026-04-01", scale="gb0-3", score=2)
    (text,) = told("out", *sound(), lame)
    assert text.startswith("goes out on hold: lame since 1 Apr")
    assert told("out", *sound()) == []


def test_a_walk_on_the_line_before_out_is_counted() -> None:
    without = [entry for entry in sound() if entry["kind"] != "mobility"]
    (text,) = told("out", *without)
    assert "not done: score his walk" in text
    assert told("walk 0; out", *without) == []


def test_a_join_to_heifers_is_spoken_of_before_it_is_saved() -> None:
    (text,) = told("join Heifers", HEIFERS)
    assert "nobody has said whether he is safe with them" in text


def test_a_sound_walk_after_pain_relief_is_said_to_end_no_lameness() -> None:
    # Three days after one dose lameness was still masked (Vet Med Res Rep); a week is ours.
    lame = said("mobility", "2026-03-20", scale="gb0-3", score=2)
    given = said("treatment", "2026-03-30", given_by="the vet", product="meloxicam")
    assert told("walk 0", lame, given) == [
        "sound, but after pain relief or a block: it ends no lameness before 6 Apr"
    ]
    assert told("walk 0", lame) == []
