"""Forms over the Crush screen, for what is said more rarely. What shorthand can say joins the slip
and is saved with it; a bull's particulars and a group are saved at once."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from readiness.forms import FORMS, Form, form_for, typed_of
from readiness.shorthand import WRITABLE, words
from readiness.tui.crush.group_whose import ask_whose
from readiness.tui.crush.views import Saved
from readiness.tui.shared.dialogs import Choice, Choose
from readiness.tui.shared.form import FormScreen

if TYPE_CHECKING:
    from readiness.herd.card import Card
    from readiness.tui.crush.screen import CrushScreen

OFFERED = ("vet-exam", "vet-look", "treatment", "check", "moved", "join", "bull", "group", "body")
"""In the order of their digits, which hands remember: a new one comes last."""
OF_NO_BULL = ("group",)


def choose_form(screen: CrushScreen) -> None:
    """Ask which form is wanted; without a bull in the crush only a group can be said."""
    names = OFFERED if screen.pad is not None else OF_NO_BULL

    def chosen(at: int | None) -> None:
        if at is not None:
            open_form(screen, names[at])

    choices = [Choice(FORMS[name].title) for name in names]
    screen.app.push_screen(Choose("What is there to say?", choices, screen.tui.glyphs), chosen)


def open_form(screen: CrushScreen, name: str) -> None:
    """Ask for what one form asks; its answer joins what is said."""
    card, glyphs = screen.card, screen.tui.glyphs
    if card is None and name not in OF_NO_BULL:
        screen.say("No bull is in the crush: / picks one, g lets a group in.")
        return
    groups = _groups(screen) if card is not None else []
    checks = [check.name for check in card.rules.checks] if card is not None else []
    form = form_for(name, groups=groups, checks=checks)
    before = _before(card, form)
    title = form.title if card is None or name in OF_NO_BULL else f"{form.title}: {_whose(screen)}"

    def answered(said: dict[str, Any] | None) -> None:
        if said is None or said == before:
            return
        say = partial(_say, screen, form.kind)
        say(said) if form.kind not in OF_NO_BULL else ask_whose(screen, said, say)

    asked = FormScreen(form, glyphs, screen.today, typed_of(form, before), title)
    screen.app.push_screen(asked, answered)


def _before(card: Card | None, form: Form) -> dict[str, Any]:
    """What stands in the fields at first: a bull's particulars as they are; a group is on the farm
    of the bull in the crush, or he could not join it."""
    if card is not None and form.kind == "bull":
        profile = {key: value for key, value in card.state.profile.items() if form.field(key)}
        profile.pop("note", None)
        return profile
    farm = card.assessment.farm if card is not None else None
    return {"farm": farm} if farm and form.kind == "group" else {}


def _groups(screen: CrushScreen) -> list[str]:
    """The groups of the farm of the bull in the crush."""
    assert screen.card is not None and screen.sheet is not None
    farm = screen.card.assessment.farm
    return [line.group for line in screen.sheet.board.groups if line.farm == farm]


def _whose(screen: CrushScreen) -> str:
    return screen.called(screen.key or "")


def _say(screen: CrushScreen, kind: str, said: dict[str, Any]) -> None:
    """Into the slip where shorthand can say it; else saved at once."""
    if kind in WRITABLE and screen.pad is not None:
        screen.take(screen.pad.done(screen.pad.slip.say(kind, said)))
        return
    by = {"by": screen.desk.who} if screen.desk.who else {}
    content = {"kind": kind, "on": screen.today.isoformat(), **by, **said}
    if kind not in OF_NO_BULL and screen.card is not None:
        content["bull"] = screen.card.assessment.bull
    screen.errands.run(partial(_write, screen, content))


def _write(screen: CrushScreen, content: dict[str, Any]) -> Callable[[], None]:
    done = screen.desk.add([content])
    odd = tuple(warning.text for warning in done.warnings)
    whose = content.get("group") or _whose(screen)
    return partial(_written, screen, Saved(f"saved {whose}", (words(content),), (), odd))


def _written(screen: CrushScreen, saved: Saved) -> None:
    screen.last = saved
    screen.paint.all()
    screen.action_reread()
