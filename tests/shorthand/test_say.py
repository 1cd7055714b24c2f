"""Entries read back in plain words."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from readiness.shorthand import Scales, ShorthandError, read, words, write
from tests.entries.samples import FULL, ID, said


def line(text: str) -> list[dict[str, Any]]:
    scales = Scales("gb0-3", "five")
    return read(text, bull="00417", on=date(2026, 4, 3), by=None, scales=scales)


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("all ok", "All four feet lifted, nothing to note."),
        (
            "rh o su@4/2 pare dress",
            "RH outer: sole ulcer, moderate, zone 4; pared, dressed.",
        ),
        (
            "rh o su healed; rf o wlf@2/1 pare; lh refused",
            "RH outer: sole ulcer healed. RF outer: white line fissure, slight, zone 2; pared. "
            "LH would not lift.",
        ),
        ("lh trim; lf ok", "LH: trimmed. LF lifted, nothing to note."),
        (
            "lf o su/3 15mm was sh",
            "LF outer: sole ulcer, severe, 15 mm, called sole haemorrhage before.",
        ),
        ("lf o wall 92 sole 7", "LF outer: wall 92 mm and sole 7 mm."),
        ("rh dd:m2", "RH skin: digital dermatitis M2."),
        ("block lh i lost", "Block lost from LH inner."),
        ("walk 2 lf", "Walk 2 (GB scale 0-3): LF."),
        ("fight lame lf shoulder", "Fight: lame, LF, shoulder suspected."),
        ("vet again 3 jun cm 36", "Vet examination deferred: again from 3 Jun, scrotum 36 cm."),
        ("lf unwrap", "LF: unwrapped."),
        (
            "vet ok cm 30 stands",
            "Vet examination satisfactory: scrotum 30 cm, the vet stands by it.",
        ),
        ("vetlook foot fit lf", "Vet looked at the foot LF: fit."),
        ("vetlook foot unfit", "Vet looked at a foot: unfit."),
        ("vetlook lame again 3 may rh", "Vet looked at lameness on RH: sees him again on 3 May."),
        ("vetlook illness again", "Vet looked at illness: sees him again."),
        ("vetlook body fit joint lh", "Vet looked at the joint LH: fit."),
        ("vetlook body unfit", "Vet looked at the body: unfit."),
        ("body penis wrong", "Penis: wrong."),
        ("body joint lh watch", "Joint LH: to watch."),
        ("given vet: drops no pain", "Given by vet: drops, no pain relief."),
        ("out hired", "Out with the females: on hire."),
        ("in hired", "Came in: from hire."),
        ("join Heifers reserve", "Joins Heifers, in reserve."),
        ("join none", "Out of his group."),
        ('out "mended gate"', "Out with the females. Note: mended gate"),
    ],
)
def test_shorthand_in_words(text: str, sentences: str) -> None:
    assert " ".join(words(content) for content in line(text)) == sentences


WORDS = {
    "bull": "Bull 00417: name Corran, Limousin, born 3 Apr 2022, bought, arrived 1 Feb, "
    "temper watch, not for heifers, pen 3, farm Sallow Fell.",
    "weight": "Weight 980.5 kg.",
    "group": "Group Heifers: turnout 9 May, for 9 weeks, 60 females, heifers, farm Sallow Fell.",
    "join": "Joins Heifers, in reserve.",
    "feet": "LF outer: sole ulcer, moderate, zone 4, called sole haemorrhage before; pared. "
    "LF inner: wall 92 mm, sole 7 mm and groove 20 mm. "
    "RH skin: digital dermatitis M4.1, 22.5 mm. "
    "RH both claws: white line fissure fit to work though not gone. "
    "RH: trimmed. LH would not lift.",
    "block-on": "Block fitted on LF inner.",
    "block-off": "Block lost from LF inner.",
    "mobility": "Walk 2 (GB scale 0-3): LF.",
    "condition": "Condition 3.25 (scale 1-5).",
    "vet-exam": "Vet examination deferred: again from 3 Jun, scrotum 36.5 cm, semen by "
    "electro-ejaculation, motile 25 %, motility by single sperm under the microscope, morphology "
    "done, normal sperm 78 %, libido keen, looked at eyes, felt testes, feet seen, examined by "
    "J. Hart.",
    "vet-look": "Vet, J. Hart, looked at the joint LH: sees him again on 3 May.",
    "body": "Joint LH: wrong.",
    "incident": "Fight: lame, no fever, LF, shoulder suspected.",
    "treatment": "Given by A. Vet: as on the label, for sore foot, pain relief, "
    "withdrawal until 20 Apr.",
    "check": "Check bvd-test passed: tested by Sike Laboratories, they wrote negative, 1:20, "
    "until 2 Apr 2027.",
    "moved": "Came in: lame.",
    "strike": f"Entry {ID} taken back: wrong bull.",
}


@pytest.mark.parametrize("kind", FULL)
def test_every_kind_in_words(kind: str) -> None:
    assert words(FULL[kind]) == WORDS[kind]


@pytest.mark.parametrize(
    ("entry", "sentences"),
    [
        (said("vet-look", about="foot", foot="LF"), "Vet looked at the foot LF: outcome not said."),
        (said("vet-look", about="illness"), "Vet looked at illness: outcome not said."),
    ],
)
def test_a_look_of_an_old_book_without_an_outcome_has_words(
    entry: dict[str, Any], sentences: str
) -> None:
    assert words(entry) == sentences
    with pytest.raises(ShorthandError, match="write fit, unfit or again"):
        line(write([entry]))


def test_what_a_group_takes_away_has_words() -> None:
    taken = {**FULL["group"], "weeks": None, "females": None, "class": None}
    assert words(taken) == (
        "Group Heifers: turnout 9 May, weeks no longer said, number of females no longer said, "
        "cows or heifers no longer said, farm Sallow Fell."
    )


def test_controls_of_an_old_book_do_not_reach_the_screen() -> None:
    assert words(said("join", group="a\x1b[31m", note="b\u202e")) == "Joins a[31m. Note: b"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("rf o wlf@2 1 pare; i su; rest ok", "rf o wlf@2/1 pare; i su; lf lh rh ok"),
        ("lf o su; rf lh rh ok", "lf o su; rf lh rh ok"),
        ("rh lf ok; lf o su; rh o su; lf o wlf", "rh lf ok; lf o su; rh o su; lf o wlf"),
        ("lf o su; lf trim; rh refused", "lf o su; lf trim; rh refused"),
        ("walk 1 lf; cond 3", "walk 1 gb0-3 lf; cond 3 five"),
    ],
)
def test_how_shorthand_is_written(text: str, written: str) -> None:
    assert write(line(text)) == written
