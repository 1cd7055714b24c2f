"""From the Bull screen to a corrected entry: which one, what instead, written in one batch."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any

from readiness.entries.entry import Entry
from readiness.forms import form_for, typed_of
from readiness.shorthand import WRITABLE, Scales, words
from readiness.system.errors import BookBusy, CannotWrite, ReadinessError
from readiness.trade.words import full_day_words
from readiness.tui.bull.correct import Correction, CorrectLine
from readiness.tui.shared.dialogs import Choice, Choose
from readiness.tui.shared.form import FormScreen

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen
    from readiness.tui.shared.reading import BullSheet

COMMON = ("kind", "on", "by", "bull")


def choose_entry(screen: LiveScreen[BullSheet], sheet: BullSheet) -> None:
    """Ask which of his entries is wrong, newest first."""
    entries = sheet.card.entries
    if screen.desk.readonly:
        screen.tui.tell("Nothing is corrected: the book was opened to be read only.", wrong=True)
        return
    if not entries:
        screen.say("Nothing is written down of him yet.")
        return

    def chosen(at: int | None) -> None:
        if at is not None:
            _correct(screen, sheet, entries[at])

    choices = [Choice(_when(entry), said) for entry, said in zip(entries, sheet.words, strict=True)]
    dialog = Choose("Which entry is to be corrected?", choices, screen.tui.glyphs)
    screen.app.push_screen(dialog, chosen)


def _when(entry: Entry) -> str:
    by = f", {entry.body['by']}" if entry.body.get("by") else ""
    return f"{full_day_words(entry.day)}{by}"


def _correct(
    screen: LiveScreen[BullSheet],
    sheet: BullSheet,
    entry: Entry,
    typed: Mapping[str, str] | None = None,
) -> None:
    """Ask what is to be said instead. ``typed``: what was typed before, where it could not be
    written."""

    def answered(correction: Correction | None) -> None:
        if correction is not None:
            write = partial(_write, screen, sheet, correction)
            screen.run_worker(write, group="write", thread=True, exit_on_error=False)

    rules, glyphs = sheet.card.rules, screen.tui.glyphs
    if entry.kind in WRITABLE:
        scales = Scales(rules.default_mobility, rules.default_condition)
        asked = CorrectLine(entry, scales, glyphs, screen.desk.on, typed)
        screen.app.push_screen(asked, answered)
        return

    form = form_for(entry.kind, content=entry.body)

    def filled(said: dict[str, Any] | None) -> None:
        if said is not None:
            kept = {key: value for key, value in entry.body.items() if key in COMMON}
            answered(Correction(entry, ({**kept, **said},), typed_of(form, said)))

    title = f"Correct what was said on {_when(entry)}"
    before = typed_of(form, entry.body) if typed is None else typed
    day = date.fromordinal(entry.day)
    screen.app.push_screen(FormScreen(form, glyphs, day, before, title), filled)


def _write(screen: LiveScreen[BullSheet], sheet: BullSheet, correction: Correction) -> None:
    """Write it, and say what was withdrawn and what is said instead. Where the book takes nothing
    just now, it is asked again, with all that was typed."""
    desk, entry = screen.desk, correction.entry
    try:
        if correction.contents:
            done = desk.correct(entry.id, correction.contents)
        else:
            done = desk.strike(entry.id, "withdrawn")
    except ReadinessError as problem:
        screen.app.call_from_thread(screen.tui.tell, str(problem), wrong=True)
        if isinstance(problem, BookBusy | CannotWrite) and screen.is_current:
            screen.app.call_from_thread(_correct, screen, sheet, entry, correction.typed)
        return
    said = " ".join(words(content) for content in correction.contents)
    odd = "".join(f" {warning.text}." for warning in done.warnings)
    told = f"Withdrawn: {words(entry.body)}" + (f" Said instead: {said}" if said else "") + odd
    screen.app.call_from_thread(screen.tui.tell, told)
    screen.app.call_from_thread(screen.action_reread)
