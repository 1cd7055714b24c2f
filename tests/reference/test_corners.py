"""The random books reach what they are for: every corner that is named here, counted."""

from __future__ import annotations

from collections import Counter
from datetime import date
from itertools import product

import pytest

from .books import (
    LOOKS,
    OWN_CHECKS,
    examined_twice,
    random_book,
    some_written_ahead,
)
from .corners import corners_reached

ON = date(2026, 4, 3)
BOOKS, BULLS = 64, 40

FEET = """
begins again worse, no sooner healed; begins again in another zone, no sooner healed
said first to be slight, too soon after it spread; found, of what was no lesion
renamed to dermatitis that is open, no stage said; severe, of what was over
what has no name, slight before
holds in another zone, too; renamed, holds in another zone, too
listed low, not in the zone that nobody named; listed low, in the zone that nobody named, too
renamed low in every zone; renamed to a slight one, not said
one with another, a name borne before; spot beside a rename that is not believed
unwrapped with no wrap on
a later stage that holds; listed low in another zone; listed low in another zone, said first
listed low in the same zone; renamed back to what begins anew; renamed low in another zone
renamed low, another spot says; said first to be slight, too soon
thin sole measured, TS listed healed
block fitted again; block lost; block off; block off with none on
block on a claw that carries a finding; block by a finding that held before its clock
healed in time; healed on its plausible day; healed stable; healed too soon
healed what is not open; holds as it did not before; listed low in time; listed low too soon
listed low, on its plausible day; new, DD of unknown stage; new, severity not said
open long after it was found; reaches the vet column; reaches the vet column again
rename of what is not open; renamed and newly holding; renamed low in time
renamed low too soon; renamed low, not said; renamed to DD; renamed to IP; renamed to SW
renamed to TN; renamed to TU; renamed to a code that is open
renamed to an open code, both held; renamed to an open code, it was put off
renamed, clock kept; renamed, severity not said; same finding twice in one entry
series of looks over; severity said later for the first time
severity said, once said under another name; silence ends what does not hold
silence leaves what holds; taken at once: no longer holds; thin sole measured
thin sole measured, TS listed; unwrapped the same day; wrap and unwrap in one entry
wrap left by a lift of the same day; wrap off by a later lift; walked on a block
walked on a wrap
"""
LAME = """
worst score, a look at another lame foot
foot suspected, not which; shoulder suspected, not which; stifle suspected, not which;
 ill and suspected, no more
lame event that asks no further back; lame of another limb
sound, but masked
asked foot refused; only refused; came in lame; lame again after a mild day
lame event that asks from an earlier day; lame for long; lame on a block or wrap, no limb named
lame, nothing found; look at a foot that lameness did not ask for; mild again too soon
mild day; sound too soon; sound: mild twice ends the run; sound: the best ends the run
worst score; hurt, the back suspected; pain relief known by a word
pain word, but said to be none
"""
VET = """
fit on the day of the unfit; examined on the day of the unfit
examined too soon after a look about illness; at work, found ill by a vet
low beside satisfactory, taken over; low beside deferred, taken over
low beside unsatisfactory, taken over; good enough on its own day only; unfit ended, as to his walk
a figure taken over; again on that very day
examined twice on a day, with other words
body ended by a look; body ended by an examination; deferred; deferred to a day
examined too soon after illness; fit, yet unfit stands; motility_pct under its minimum
normal_pct under its minimum; right, yet wrong stands; scrotum_cm under its minimum
two looks of a day say again of the same; unfit ended by a look
unfit ended by an examination; unsatisfactory; vet asked for what is open, past memory
vet-again answered by a look; vet-again answered by an examination
walk waits for vet-look about the body; walk waits for vet-again about the body
"""
OTHER = """
arrived, from where is not said; arrived, though born here
born on a day that nobody knows
bull said again; done while out; entry of a later day; group said again
group said again, a field taken away; in after he was out hired; in from hire, said
in after he left; condition of before he came in; entry after he left
heifers by the name of their group alone
last day of the season; no day fits; not on the board; one thing is wanting
out, a person decides; out, said twice; own check: a fail after a pass;
own check: failed and passed on a day;
own check: held, and no longer at turnout; season over; struck
went out with all done
"""


def named() -> list[str]:
    text = f"{FEET}{LAME}{VET}{OTHER}".replace("\n", ";")
    corners = [corner.strip() for corner in text.split(";") if corner.strip()]
    kinds = ("", " limb", " fever", " lame", " lame limb", " lame fever", " lame limb fever")
    causes = ("fight", "fall", "transport", "illness", "other")
    corners += [f"incident {cause}{kind}" for cause, kind in product(causes, kinds)]
    outcomes = ("fit", "unfit", "again")
    for about, names in (
        ("foot", ("all", "foot")),
        ("lame", ("all", "foot")),
        ("body", ("all", "part", "limb")),
        ("illness", ("all",)),
        ("other", ("all",)),
    ):
        corners += [f"vet-look {about} {o} {n}" for o, n in product(outcomes, names)]
    parts = ("penis", "sheath", "scrotum", "eyes", "mouth", "joint", "back", "other")
    corners += [f"body {p} {s}" for p, s in product(parts, ("wrong", "watch", "right"))]
    corners += [f"body joint {state} limb" for state in ("wrong", "watch", "right")]
    checks = [own["name"] for own in OWN_CHECKS]
    corners += [f"went out without {c}" for c in ("feet", "mobility", "condition", "vet-exam")]
    corners += [f"went out without {c}" for c in checks]
    corners += [f"check {c}" for c in (*checks, *CHECKS.split())] + [
        f"reason {r}" for r in REASONS.split()
    ]
    corners += [f"reason check:{c}" for c in checks]
    return corners + [f"outlook {o}" for o in OUTLOOKS.split()] + ["hold None", "hold checks"]


CHECKS = """
feet lift look clear block-off block-look wrap-off walk-again mobility condition condition-again
vet-exam vet-look vet-again quarantine age
"""
REASONS = """
finding block wrap body lame condition vet vet-figures unfit lift vet-look vet-again quarantine age
heifers went-out ill
"""
OUTLOOKS = "ready on-track tight too-late vet-decides wrong-group no-turnout working"


@pytest.fixture(scope="module")
def reached() -> Counter[str]:
    count: Counter[str] = Counter()
    for seed in range(BOOKS):
        book = random_book(seed, BULLS, 12, ON)
        count += corners_reached(book, ON, {"checks": OWN_CHECKS})
    return count


def test_random_books_reach_every_corner(reached: Counter[str]) -> None:
    table = {corner: reached[corner] for corner in named()}
    assert {corner: times for corner, times in table.items() if times == 0} == {}


def test_random_books_reach_a_low_figure_that_a_later_word_of_its_day_does_not_have() -> None:
    books = [examined_twice(random_book(seed, BULLS, 12, ON)) for seed in range(4)]
    reached = sum((corners_reached(book, ON) for book in books), Counter[str]())
    assert reached["low, and not so in a later word of that day"] > 3


def test_random_books_reach_every_kind_of_look_that_was_written_ahead() -> None:
    books = [some_written_ahead(random_book(seed, BULLS, 12, ON)) for seed in range(16)]
    reached = sum((corners_reached(book, ON) for book in books), Counter[str]())
    met = {f"written ahead{wrong}: {look}" for wrong, look in product(("", ", wrong"), LOOKS)}
    assert met - reached.keys() == {"written ahead, wrong: block-off"}


def test_enough_bulls_go_that_one_wrongly_held_shows(reached: Counter[str]) -> None:
    """A board on which every bull is held would agree with an engine that holds every bull."""
    bulls = reached["on the board"]
    assert (bulls > BOOKS * BULLS * 0.8, reached["hold None"] > bulls * 0.04) == (True, True)
