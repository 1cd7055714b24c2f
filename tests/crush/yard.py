"""The crush without its screen: keys in; the session, and what it asks for, out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache, partial
from typing import Any, TypeVar

from readiness.book.drafts import Drafts
from readiness.crush import effects as do
from readiness.crush.giving import given
from readiness.crush.keys import escaped, press
from readiness.crush.race import Race
from readiness.crush.saving import saved
from readiness.crush.session import Session, Step
from readiness.crush.typed import begun, choose, complete_word, entered, leave, typed
from readiness.desk.desk import Desk
from readiness.engine.results import Board
from readiness.herd.board import assess_book, groups_on
from readiness.herd.card import Card
from readiness.herd.done import Done
from readiness.history import history
from readiness.tui.crush.desk import carry_out, keep, left_over, read_crush, undo
from readiness.tui.crush.entry import bulls_like
from tests.build import RULES, entries_of
from tests.tui.estate import DAY, FEET, estate

WHO = "A. Trimmer"
SOUND = Done(("feet",), frozenset(FEET))
Kind = TypeVar("Kind")
COMES = 0.02
"""Seconds after a key until the one who comes by it stands there."""


def board_and_cards(contents: list[dict[str, Any]]) -> tuple[Board, dict[str, Card]]:
    """The board of these entries, and the card of each bull on it by his key."""
    book, on = entries_of(contents), DAY.toordinal()
    board = assess_book(book, RULES, on)
    groups = groups_on([entry for entry in book if entry.kind == "group"], RULES, on)
    cards = {}
    for bull in board.bulls:
        own, rules = [entry for entry in book if entry.bull == bull.key], RULES.for_farm(bull.farm)
        state = history(own, rules, on, bull.key)
        cards[bull.key] = Card(bull, state, tuple(reversed(own)), rules, groups)
    return board, cards


@cache
def the_estate() -> tuple[Board, dict[str, Card]]:
    return board_and_cards(estate())


class Yard:
    """A crush on the estate, or on other entries. Cards are handed over as they are asked for;
    whatever else is, is in ``asked``. Keys come ten seconds after one another."""

    def __init__(
        self,
        *keys: str,
        contents: list[dict[str, Any]] | None = None,
        kept: Race | None = None,
        drafts: Mapping[str, do.Unsaved] | None = None,
        handled: tuple[str, ...] = (),
        **session: Any,
    ) -> None:
        self.board, self.cards = board_and_cards(contents) if contents else the_estate()
        self.begin(Session(DAY, WHO, **session))
        done = dict.fromkeys(handled, SOUND)
        self.step(lambda now: now.opened(self.board, done, kept or Race(), drafts or {}))
        self.press(*keys)

    def begin(self, session: Session) -> None:
        self.session = session
        self.asked: list[do.Effect] = []
        self.meant = True
        self.text, self._at, self._stood = "", 0.0, 0.0

    def step(self, step: Step) -> None:
        after = step(self.session)
        if after.key != self.session.key:
            self._stood = self._at + COMES
        self.session = replace(after, todo=())
        for effect in after.todo:
            self.do(effect)

    def do(self, effect: do.Effect) -> None:
        """What the screen does with an effect."""
        if isinstance(effect, do.Fetch) and effect.key is not None:
            key, card, slip = effect.key, self.cards.get(effect.key), effect.given
            if slip is not None:
                self.step(lambda now: given(now, key, card, slip))
            else:
                self.step(lambda now: now.arrived(key, card))
        elif isinstance(effect, do.Type):
            self.text = effect.text
        elif isinstance(effect, do.Press):
            self.press(effect.key)
        self.asked.append(effect)

    def press(self, *keys: str, apart: float = 10.0) -> Yard:
        """These keys, so many seconds apart, into the line where something is typed."""
        for key in keys:
            self._at += apart
            if self.session.typing is not None:
                self._type(key)
            else:
                after, self.meant = press(self.session, key, self._at, self._stood)
                self.step(lambda _, after=after: after)  # type: ignore[misc]
        return self

    def _type(self, key: str) -> None:
        if key in ("up", "down"):
            self.step(lambda now: choose(now, 1 if key == "down" else -1))
            return
        taken = begun(self.session, self.text, key, partial(bulls_like, self.session.board))
        if taken is not None:
            self.step(lambda _: taken)
            return
        keys = {
            "enter": lambda now: entered(now, self.text),
            "escape": lambda now: escaped(leave(now, self.text), self._at),
            "tab": lambda now: complete_word(now, self.text),
        }
        if key in keys:
            self.step(keys[key])
        else:
            self.text = self.text[:-1] if key == "backspace" else self.text + key
        if key not in ("enter", "escape"):
            found = bulls_like(self.session.board, self.text)
            self.step(lambda now: typed(now, self.text, found))

    def last(self, kind: type[Kind]) -> Kind:
        """What of this kind was last asked for."""
        return next(effect for effect in reversed(self.asked) if isinstance(effect, kind))

    def saves(self, *ids: str) -> Yard:
        """What was last asked to be saved is in the book, under these ids."""
        save = self.last(do.Save)
        follows = self.cards.get(save.following or "")
        key = save.card.assessment.key
        self.step(lambda now: saved(now, key, ids, do.Saved(f"saved {key}"), follows))
        return self


class BookYard(Yard):
    """A crush over a real book: what is asked for is done at once."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self.drafts = desk, Drafts(desk.book.path)
        self.begin(Session(desk.on, WHO))
        left, seen = left_over(desk, self.drafts), read_crush(desk, None)
        self.step(lambda now: now.opened(seen.board, seen.handled, Race(), left))

    def do(self, effect: do.Effect) -> None:
        self.asked.append(effect)
        match effect:
            case do.Fetch(str()) | do.Save() | do.Give() | do.Instead() | do.Write():
                self.step(carry_out(self.desk, self.drafts, self.session, effect))
            case do.KeepDraft():
                self.step(keep(self.drafts, effect))
            case do.KeepRace(race):
                self.drafts.keep_race(self.desk.on.isoformat(), race.keys, race.out)
            case do.Type(text):
                self.text = text
            case do.Press(key):
                self.press(key)
            case do.Go.READ:
                seen = read_crush(self.desk, self.session.key)
                self.step(lambda now: now.reread(seen.board, seen.handled, seen.card, idle=True))
            case do.Undo(ids):
                assert ids == frozenset(entry.id for entry in self.desk.last_said())
                self.step(undo(self.desk, self.session, here=True))
