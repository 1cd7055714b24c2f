"""What may stand next in a line, against what the reader takes and the writer writes."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from readiness.shorthand import ShorthandError, read, write
from readiness.shorthand import lexicon as lex
from readiness.shorthand.complete import MOST, complete
from readiness.shorthand.complete_feet import USUAL
from readiness.trade.codes import CODES, claw_words
from tests.shorthand.contents import ON, SCALES, any_contents, texts
from tests.volume import examples

GROUPS = ("Heifers", "Hill cows", "Hill (late)", "none")
CHECKS = ("bvd-test", "dung-sample")
ALL = 999


def nexts(text: str, most: int = ALL) -> list[str]:
    """The words offered, without what was typed before the last one."""
    start = len(text) - len(re.split(r"[\s,;]", text)[-1])
    return [line[start:] for line in complete(text, groups=GROUPS, checks=CHECKS, most=most)]


# ---- by hand -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("", ["all", "lf", "rf", "lh", "rh", "block", "walk", "cond", "kg"]),
        ("all ok; ", ["block", "walk", "cond", "kg"]),
        ("lf o su; ", ["rf", "lh", "rh", "rest", "block"]),
        ("lf ", ["ok", "o", "i", "b", "s", "pare", "dress", "wrap", "trim", "unwrap", "refused"]),
        (
            "lf o ",
            ["su", "wlf", "wla", "sh", "hhe", "pare", "dress", "wrap", "trim", "unwrap", "wall"],
        ),
        ("lf s ", ["dd", "ip", "id"]),
        ("lf o su ", ["healed", "was", "pare", "dress", "wrap", "trim"]),
        ("lf o su@4/2 ", ["was", "pare"]),
        ("lf o su was ", ["wlf", "wla", "sh"]),
        ("lf o su healed ", ["stable", "not"]),
        ("lf o su healed not ", ["stable"]),
        ("lf o su pare ", ["dress", "wrap", "trim"]),
        ("lf o wall 92 ", ["wall", "sole", "groove"]),
        ("block ", ["lf", "rf", "lh", "rh", "o", "i", "off", "lost"]),
        ("lh o su; block ", ["o", "i", "off", "lost", "on", "lf"]),
        ("block lh i ", ["off", "lost", "on"]),
        ("block lh i off ", ["lost", "not"]),
        ("walk 1 ", ["lf", "rf", "lh", "rh", "gb0-3"]),
        ("cond 3.25 ", ["five"]),
        ("cond 3.5 ", ["five", "nine"]),
        ("fight ", ["lame", "lf", "rf", "lh", "rh", "foot", "shoulder"]),
        ("ill ", ["fever", "lame"]),
        ("fight not ", ["lame", "fever"]),
        ("vet ", ["ok", "again", "no"]),
        ("vet again 3 apr ", ["cm", "mot", "norm", "feet"]),
        ("vet ok cm 36 mot 65 ", ["norm", "feet", "stands", "by", "seen", "felt", "rectal"]),
        ("vet ok not ", ["feet", "stands", "morph"]),
        ("vet ok no", ["norm", "nosample", "not"]),
        ("vet ok seen ", ["eyes", "mouth", "heart"]),
        ("vet ok seen eyes ", ["mouth", "heart", "lungs"]),
        ("vet ok seen eyes mouth felt testes e", ["epididymis", "electro"]),
        ("vet ok by J. Hart ", ["cm", "mot", "norm", "feet", "stands", "seen"]),
        ("vetlook ", ["lame", "foot", "body", "illness", "other"]),
        ("vetlook foot ", ["fit", "unfit", "again", "lf", "rf", "lh", "rh"]),
        ("vetlook foot again 3 may ", ["lf", "rf", "lh", "rh"]),
        ("vetlook body fit ", ["penis", "sheath", "scrotum", "eyes", "mouth", "joint"]),
        ("vetlook body fit joint ", ["lf", "rf", "lh", "rh"]),
        ("body ", ["penis", "sheath", "scrotum", "eyes", "mouth", "joint", "back", "other"]),
        ("body joint ", ["wrong", "watch", "right", "lf", "rf", "lh", "rh"]),
        ("body eyes w", ["wrong", "watch"]),
        ("out ", ["hired"]),
        ("left ", ["sold", "culled", "died"]),
        ("in ", ["lame", "rested"]),
        ("given vet: the product ", ["pain", "until", "for", "no"]),
        ("given vet: product pain until 3 apr ", ["for"]),
        ("given vet: product not ", ["pain"]),
        ("given vet: product no ", ["pain"]),
        ("done ", ["bvd-test", "dung-sample"]),
        ("done bvd-test ", ["lab", "says", "until"]),
        ("done bvd-test lab Sike Laboratories until 3 apr ", ["says"]),
        ("failed d", ["dung-sample"]),
        ("join ", ["Heifers", "Hill cows", '"Hill (late)"', '"none"', "none"]),
        ("join Heifers ", ["reserve", "worker"]),
        ('join "Hill (late)" r', ["reserve"]),
        ("join none ", ["reserve", "worker"]),
        ("LF O S", ["sh", "su", "sc"]),
        ("lf o su, w", ["wrap", "was", "wlf"]),
    ],
)
def test_what_may_come_next_the_most_usual_first(typed: str, first: list[str]) -> None:
    found = nexts(typed)
    if typed.endswith((" ", ";")) or not typed:
        assert found[: len(first)] == first
    else:
        assert set(first) <= set(found)


@pytest.mark.parametrize(
    "typed",
    ["walk ", "kg ", "kg 980 ", "cond ", "vet ok cm ", "lf o wall ", "lf refused ", "given vet",
     "given vet: ", "given vet: product until ", "xyz ", "lf o su@", "lf o su@4", "rest refused ",
     'all ok "note', 'all ok "note; wa', 'all ok "note"', "all ok; then ", "done bvd-test lab ",
     "done bvd-test until ", "vet ok by ",
     'join "Hill (late)"', 'lf "x" o ', 'join Heifers "note', "block zz ",
     "vetlook illness fit lf ", "vetlook foot fit joint ", "vet again stands ",
     "body eyes wrong ", "body eyes lf "],
)  # fmt: skip
def test_where_no_word_of_the_lexicon_can_come_none_is_offered(typed: str) -> None:
    assert nexts(typed) == []


def test_a_groups_name_is_completed_over_its_gaps_and_in_its_quotes() -> None:
    assert complete("join hill", groups=GROUPS) == ["join Hill cows", 'join "Hill (late)"']
    assert complete("all ok; join hill c", groups=GROUPS) == ["all ok; join Hill cows"]
    assert complete('join "hill', groups=GROUPS) == ['join "Hill cows"', 'join "Hill (late)"']
    assert complete("join Hill cows re", groups=GROUPS) == ["join Hill cows reserve"]
    assert complete("join Hill cows reserve ", groups=GROUPS) == []


def test_only_codes_that_fit_the_claw_are_offered() -> None:
    for letter, claw in lex.CLAW_LETTERS.items():
        offered = {word.upper() for word in nexts(f"lf {letter} ")} & CODES.keys()
        assert offered == {code for code in CODES if claw in claw_words(code)}


def test_the_usual_codes_are_codes() -> None:
    assert {code.upper() for code in USUAL} <= CODES.keys()


def test_no_more_are_offered_than_can_be_looked_through() -> None:
    assert len(nexts("lf o ", MOST)) == MOST
    assert len(nexts("lf o ")) > MOST


def test_what_is_whole_already_is_not_offered_again() -> None:
    assert nexts("ALL") == []
    assert nexts("o") == ["out"]


# ---- over what can be written ------------------------------------------------------------------

_WORD = re.compile(r'"(?:[^"]|"")*"|[^\s;"]+')
_LETTERS = re.compile(r"[a-z][a-z-]*", re.IGNORECASE | re.ASCII)


def cuts(line: str) -> list[tuple[str, str]]:
    """(what stands before a word, the word), for every word that a completion can know.

    Not: numbers and days, which the person writes; notes and other texts in quotes; and of a
    treatment the whole part, whose texts are free, as who examined him is. Of a finding only its
    code, of a scale all.
    """
    found = []
    part_start = 0
    for match in _WORD.finditer(line):
        between = line[part_start : match.start()]
        if line[: match.start()].rstrip().endswith(";"):
            part_start, between = match.start(), ""
        head = (between.split() or [match[0]])[0]
        scale = match[0] if "-" in match[0] and match[0][-1].isdigit() else ""
        letters = _LETTERS.match(match[0])
        free = head in ("given", "join", "done", "failed") or "by" in between.split()
        if not free and letters:
            found.append((line[: match.start()], scale or letters[0]))
    return found


@settings(max_examples=examples(100), suppress_health_check=[HealthCheck.too_slow])
@given(any_contents())
def test_each_next_word_of_a_written_line_is_offered(said: list[dict[str, Any]]) -> None:
    for before, word in cuts(write(said)):
        assert word in nexts(before), (before, word)
        if len(word) > 1:
            assert word in nexts(before + word[0], MOST), (before, word)


@settings(max_examples=examples(100))
@given(texts, st.sampled_from((None, *lex.ROLES)))
def test_a_written_join_is_offered_from_its_beginning(name: str, role: str | None) -> None:
    said = {"kind": "join", "group": name} | ({"role": role} if role else {})
    try:
        (content,) = read(write([said]), bull="00417", on=date.fromisoformat(ON), by=None,
                          scales=SCALES)  # fmt: skip
    except ShorthandError:
        assume(False)
    line = write([{"kind": "join", "group": content["group"]}])
    groups = [content["group"]]
    assert line in complete("join ", groups=groups)
    if len(line) > len("join xx"):
        assert line in complete(line[: len("join x")], groups=groups)
    assert f"{line} reserve" in complete(f"{line} ", groups=groups)


LEXICON = (
    *lex.HEADS, *lex.FEET_HEADS, *lex.FEET_WORDS, *lex.FIGURES, *lex.OUTCOMES, *lex.ABOUT,
    *lex.LOOKS, *lex.BODY_PARTS, *lex.BODY_STATES, "no",
    *lex.SUSPECTS, "not", "pain", "until", "reserve", "off", "Hill", ";", ";", "@4", "/2", ":m2",
    '"', '"x"', "2", "3.5", "mm", "3 apr",
)  # fmt: skip
lines = st.lists(st.sampled_from(LEXICON), max_size=8).map(" ".join) | st.text(max_size=30)


@settings(max_examples=examples(500))
@given(lines, st.sampled_from(("", " ", "; ")))
def test_a_completion_begins_with_what_was_typed(typed: str, end: str) -> None:
    text = typed + end
    found = complete(text, groups=GROUPS, checks=CHECKS)
    assert len(found) <= MOST
    assert len(set(found)) == len(found)
    kept = text[: len(text) - len(re.split(r"[\s,;]", text)[-1])]
    for line in found:
        assert line[: len(kept)].casefold() == kept.casefold()
        assert line.casefold() != text.casefold()


ENDS = (
    "", " 1", " 30", " lh i", " i", " o", " su", " o su", " ok", " stable", " pain", " lost",
    " feet", " 3 apr", " x: y", " x", " lame", " lf", " b su", " ok cm 36", " healed",
    " five1-5", " nine", " fever",
    " fit", " lame fit", " eyes wrong", " wrong", " joint fit",
)  # fmt: skip


# A field's path: the words were all read, and what they say together is refused.
REFUSED_WHOLE = re.compile(r"[a-z_]+(\[\d+\])?(\.[a-z_]+)?: ")


def readable(line: str) -> bool:
    """Whether every word of the line, or of the line ended in one of ``ENDS``, is read."""
    for end in ENDS:
        try:
            read(line + end, bull="00417", on=date.fromisoformat(ON), by=None, scales=SCALES)
        except ShorthandError as refused:
            if not REFUSED_WHOLE.match(refused.why):
                continue
        return True
    return False


@settings(max_examples=examples(300), suppress_health_check=[HealthCheck.too_slow])
@given(any_contents(), st.data())
def test_what_is_offered_can_be_read_on(said: list[dict[str, Any]], data: st.DataObject) -> None:
    """A word offered at a cut of a written line leads to a line that the reader takes, unless
    the feet named then would be said both lifted and refused."""
    before, _ = data.draw(st.sampled_from([*cuts(write(said)), ("", "")]))
    line = data.draw(st.sampled_from(complete(before, groups=GROUPS, checks=CHECKS, most=ALL)))
    if "refused" not in line:
        assert readable(line), line
