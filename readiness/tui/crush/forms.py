"""Forms over the Crush screen, for what is said more rarely. What shorthand can say joins the slip
and is saved with it; a bull's particulars and a group are saved at once."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Any

from readiness.crush.by_form import OF_NO_BULL, answered, open_form
from readiness.crush.session import Session, Step, stay
from readiness.forms import FORMS, ON, Form, form_for, typed_of
from readiness.history.groups import Key
from readiness.shorthand import WRITABLE
from readiness.trade.ages import FROM
from readiness.tui.crush.asking import Offer, ask_whose
from readiness.tui.shared.form import FormScreen

OFFERED = (
    "vet-word", "vet-look", "treatment", "check", "moved", "join", "bull", "group", "vet-exam"
)  # fmt: skip
"""In the order of their digits, which hands remember: a new one comes last. What the vet decides
comes first, all that he examined last. A part of his body is said by a key of its own."""
WITH_HIM = "Arrows. Enter on last, then Enter saves. Esc: back. F1: help"
Said = dict[str, Any]


def ask_form() -> Offer:
    """Which form is wanted. A digit means the same form whoever stands in the crush, and nobody."""

    def of(name: str) -> Step:
        return lambda session: open_form(session, name)

    return Offer("What is there to say?", {FORMS[name].title: of(name) for name in OFFERED}, stay)


def form_screen(
    name: str, session: Session, groups: Callable[[], Collection[Key]]
) -> tuple[FormScreen, Callable[[Said | None], Offer | Step]]:
    """What one form asks, and what comes of what it says. ``groups``: all that there are."""
    card, form = session.card, form_for(name)
    title = form.title
    if card is not None:
        lines = session.board.groups if session.board else ()
        of_farm = [line.group for line in lines if line.farm == card.assessment.farm]
        form = form_for(name, groups=of_farm, checks=[check.name for check in card.rules.checks])
        if name not in OF_NO_BULL:
            title = f"{title}: {session.called(card.assessment.key)}"
    before = _before(session, form)

    def then(said: Said | None) -> Offer | Step:
        if said is None or {key: said[key] for key in said if key != ON} == before:
            return stay
        if name in OF_NO_BULL:
            return ask_whose(said, groups())
        return lambda now: answered(now, form.kind, said)

    screen = FormScreen(form, session.today, typed_of(form, before), title)
    if card is not None and form.kind in WRITABLE:
        screen.KEYS = WITH_HIM  # type: ignore[misc]  # of this form
    return screen, then


def _before(session: Session, form: Form) -> dict[str, Any]:
    """A bull's particulars as they are; a group is on the farm of the bull in the crush, or he
    could not join it."""
    card = session.card
    if card is not None and form.kind == "bull":
        anew = ("note", ON)  # what is said of each entry
        profile = card.state.profile.items()
        asked = {*(field.key for field in form.fields), FROM}  # said with the birth
        return {key: said for key, said in profile if key in asked.difference(anew)}
    farm = card.assessment.farm if card is not None else None
    return {"farm": farm} if farm and form.kind == "group" else {}
