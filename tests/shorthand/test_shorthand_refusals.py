"""What is wrong with a line: which part, why, and what to write."""

from __future__ import annotations

from datetime import date

import pytest

from readiness.shorthand import Scales, ShorthandError, read, write
from readiness.system.errors import DataError

REFUSED: list[tuple[str, int, str]] = [
    ("wlk 1", 1, "did you mean walk?"),
    ("all ok; wlk 1", 2, "did you mean walk?"),
    ("all ok; blok lf i", 2, "did you mean block?"),
    ("zzz", 1, "begin with a foot"),
    ("lf", 1, "write ok, or what was found"),
    ("lf o", 1, "says nothing"),
    ("lf o suu@4", 1, "did you mean su?"),
    ("lf o su/2 wrp", 1, "did you mean wrap?"),
    ("o su", 1, "which foot?"),
    ("lf su", 1, "which claw? write o, i or b"),
    ("lf xx", 1, "which claw? write o, i, b or s"),
    ("lf s su", 1, "write o, i or b before it"),
    ("lf o dd", 1, "write s (skin) before it"),
    ("lf o su@13", 1, "zone 13 is out of range; write 0 to 12"),
    ("lf o su@x", 1, "@ takes a zone from 0 to 12"),
    ("lf o su/4", 1, "severity 4 is out of range; write 1 to 3"),
    ("lf o su/2/3", 1, "says severity twice"),
    ("lf dd:m5", 1, "M0, M1, M2, M3, M4, M4.1"),
    ("rf ok; lf o su:m2", 2, "goes with DD only"),
    ("lf o su was", 1, "a finding's code after was"),
    ("lf o su was su", 1, "is the same code"),
    ("lf o su/2 healed", 1, "healed takes no zone"),
    ("lf o su; o su healed", 2, "is listed as found too"),
    ("lf wall 92", 1, "which claw?"),
    ("lf o wall", 1, "millimetres after wall"),
    ("all ok; rh refused", 2, "RH is said to be lifted too"),
    ("rh refused; rh ok", 2, "RH is said to be refused too"),
    ("all ok; rest ok", 2, "no foot is left"),
    ("block lh", 1, "the claw that carries the block"),
    ("block lh b", 1, "the claw that carries the block"),
    ("block lh i on lost", 1, "on or lost"),
    ("walk", 1, "a number after walk"),
    ("walk 4", 1, "0 to 3, whole numbers"),
    ("walk 2 lf rf", 1, "limb twice"),
    ("all ok; cond 3.1", 2, "1 to 5, quarters"),
    ("kg", 1, "write a number after kg, as in kg 980"),
    ("kg 980 cm", 1, '"cm" is not known here'),
    ("vet ok mot 65 cm", 1, "write a number after cm, as in cm 36.5"),
    ("rh s dd 2,5mm", 1, "write 2.5mm, or /2 5mm"),
    ("kg 12000", 1, "20 to 2500 kg"),
    ("fight lam", 1, "did you mean lame?"),
    ("vet", 1, "vet ok, vet again or vet no"),
    ("vet ok 3 jun", 1, "goes with deferred only"),
    ("vet again 31/02", 1, "no such day"),
    ("vet again 03/04", 1, "reads two ways"),
    ("kg 900; vet ok by root", 2, "examiner: root is an account and no person; write a name"),
    ("vet ok by Root", 1, "root is an account"),
    ("given ROOT: x", 1, "given_by: root is an"),
    ('given "root ": x', 1, "root is an account"),
    ("vetlook foot fit lf by root", 1, "root is an account"),
    ("vet again 30 feb", 1, "no such day"),
    ("vet again 2026-02-31", 1, "no such day"),
    ("vet ok not stands stands", 1, "says stands twice"),
    ("vetlook", 1, "lame, foot, body, illness or other"),
    ("vetlook foot lf", 1, "write fit, unfit or again, as in vetlook foot fit"),
    ("all ok; vet look body", 2, "write fit, unfit or again, as in vetlook body fit"),
    ("vetlook foot fit unfit", 1, "says what the vet said twice"),
    ("vetlook foot fit zz", 1, "here can stand fit, unfit, again, lf, rf, lh, rh, a day as 3 apr"),
    ("vetlook body fit zz", 1, "here can stand fit, unfit, again, penis, sheath, "),
    ("vetlook foot fit 3 may", 1, "goes with again only"),
    ("vetlook illness fit lf", 1, "goes with foot or lame only"),
    ("vetlook lame fit eyes", 1, "goes with body only"),
    ("vetlook body fit eyes lf", 1, "goes with the part joint only"),
    ("vetlook foot again 03/05", 1, "reads two ways"),
    ("body", 1, "write penis, sheath, scrotum, eyes, mouth, joint, back or other"),
    ("body knee wrong", 1, "which part of the body?"),
    ("body eyes", 1, "write wrong, watch or right, as in body eyes wrong"),
    ("body eyes wrong right", 1, "says how it is twice"),
    ("body eyes lf wrong", 1, "goes with the part joint only"),
    ("body joint lf zz", 1, "here can stand wrong, watch, right, lf, rf, lh, rh"),
    ("body eyes zz", 1, "here can stand wrong, watch, right"),
    ("given vet: no pain", 1, "says no product"),
    ("lf o su was sh; o sh", 1, "is not also found or healed"),
    ("lf o su was sh; o sh healed", 1, "is not also found or healed"),
    ("given vet", 1, "a colon, and the product"),
    ("given vet:", 1, "says no product"),
    ("given vet: drops until soon", 1, "a day after until"),
    ("done", 1, "the check's name"),
    ("done feet", 1, "a name of the program's own"),
    ("join", 1, "says no group"),
    ("then lf", 1, "then stands alone"),
    ("lf o zz", 1, "here can stand ac, "),
    ("zz", 1, "begin with a foot (all, rest, lf, rf, lh, rh) or with block, walk, "),
    ("walk 1 zz", 1, "here can stand lf, rf, lh, rh, gb0-3, "),
    ("walk 1 kg 900", 1, "it begins a part of its own: write ; before it"),
    ("kg 900 zz", 1, "nothing more can stand here but a note"),
    ("done bvd-test zz", 1, "here can stand lab, says, until"),
    ("done bvd_test", 1, "here can stand lab, says, until"),
    ("done ünd", 1, "letters, digits and hyphens"),
    ("left zz", 1, "here can stand sold, culled, "),
    ("fight zz", 1, "here can stand lame, fever, "),
    ("block lf i zz", 1, "here can stand on, off, "),
    ("block lf i on off", 1, "says on or off twice"),
    ("vet zz", 1, "write vet ok, vet again or vet no"),
    ("vet ok zz", 1, "feet, stands, by, a day"),
    ("vet ok seen zz", 1, "seen: which parts? write eyes, mouth"),
    ("vet ok seen feet", 1, "of feet the word feet alone"),
    ("vet ok seen eyes seen eyes", 1, "eyes seen stands there twice"),
    ("vet ok by", 1, "says no text after by"),
    ("vet ok keen slow", 1, "says libido twice"),
    ("vet ok nosample mot 60", 1, "no semen was got"),
    ("vet ok no morph norm 70", 1, "morphology was not done"),
    ("failed bvd-test until 3 apr", 1, "goes with pass only"),
    ("done bvd-test until soon", 1, "write a day after until"),
    ("done bvd-test lab", 1, "says no text after lab"),
    ("vet ok cm 30 cm 31", 1, "says cm twice"),
    ("given vet: drops pain zz", 1, "here can stand pain, no pain, until, for"),
    ('join "Hill" zz', 1, "here can stand reserve, worker"),
    ("lf o su refused", 1, 'refused" goes right after the foot'),
    ("lf refused ok", 1, "nothing more can stand here but a note"),
    ("lf o su stable", 1, 'stable" goes right after healed'),
    ("rh s dd M2", 1, '"m2" goes right after a finding\'s code, as in su@4/2 or dd:m2'),
    ("rh s dd/m2", 1, "/ takes a severity from 1 to 3; a stage follows a colon, as in dd:m2"),
    ("lf o @4", 1, "goes right after a finding's code, as in su@4/2"),
    ("lf o su was zz", 1, "code after was: ac, "),
    ('lf ok "open', 1, "has no end"),
    ('all ok; "a" walk 1', 2, "write ; after the note"),
    ('"only a note"', 0, "a note needs something to go with"),
    ("  ; ;", 0, "nothing is said"),
    ("", 0, "nothing is said"),
]


@pytest.mark.parametrize(("text", "part", "why"), REFUSED, ids=[row[0] for row in REFUSED])
def test_refused(text: str, part: int, why: str) -> None:
    with pytest.raises(ShorthandError) as refused:
        read(text, bull="00417", on=date(2026, 4, 3), by=None, scales=Scales("gb0-3", "five"))
    assert refused.value.part == part
    assert why in refused.value.why
    assert isinstance(refused.value, DataError)
    assert not part or f"part {part}, " in str(refused.value)


def test_a_long_line_is_cut_short_in_the_message() -> None:
    for text in ("x" * 5000, "lf o " + "su " * 3000, "walk 1 " + "y" * 5000):
        with pytest.raises(ShorthandError) as refused:
            read(text, bull="00417", on=date(2026, 4, 3), by=None, scales=Scales("gb0-3", "five"))
        assert len(str(refused.value)) < 500


def test_a_wrong_tag_is_no_part_s_fault() -> None:
    with pytest.raises(ShorthandError, match="bull") as refused:
        read("all ok", bull=" ", on=date(2026, 4, 3), by=None, scales=Scales("gb0-3", "five"))
    assert refused.value.part == 0


def test_kinds_without_shorthand_are_refused_by_name() -> None:
    with pytest.raises(ShorthandError, match="kind group"):
        write([{"kind": "group", "on": "2026-04-03", "group": "Heifers", "turnout": "2026-05-09"}])
