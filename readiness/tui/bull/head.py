"""The head of the Bull screen: who he is, and one sentence that says how he stands."""

from __future__ import annotations

from textual.content import Content

from readiness.herd.card import Card
from readiness.report import sentences
from readiness.report.rows import mark
from readiness.trade.temper import CAUTION
from readiness.tui.shared.looks import ORANGE, QUIET, ROLES, TEXT, Glyphs


def person(card: Card, on: int, glyphs: Glyphs) -> Content:
    """His name, then breed, age, weight and temper, then group and turnout: three lines."""
    name = " ".join(glyphs.text(card.assessment.name or "").upper())
    temper = CAUTION.get(str(card.state.profile.get("temper")))
    lines = [
        Content.assemble((name or "no name written down", f"bold {TEXT}" if name else QUIET)),
        Content.assemble(
            (glyphs.text(sentences.person(card, on)), TEXT),
            (f"   {glyphs.late} {temper}" if temper else "", f"bold {ORANGE}"),
        ),
        Content.assemble((glyphs.text(sentences.standing_in(card, on)), QUIET)),
    ]
    return Content("\n").join(lines)


def status_line(card: Card, on: int, glyphs: Glyphs) -> Content:
    """Mark and word, then the sentence."""
    bull = card.assessment
    if card.state.gone:
        return Content.assemble((" He has left: nothing is asked for.", TEXT))
    state = mark(bull)
    said = " ".join([sentences.outlook(bull, on), *sentences.withdrawal_lines(bull)])
    return Content.assemble(
        (f" {glyphs.sign(state)} {sentences.STATUS[state]} ", f"bold reverse {ROLES[state]}"),
        (f"  {glyphs.text(said)}", TEXT),
    )
