"""The crush between two keys: who comes, who stands in it, what is said of him, what was saved.

Pure: each step gives the session after it, with what there is to do added to ``todo``. Whoever does
that says what came of it by another step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from readiness.crush.before import before_of
from readiness.crush.effects import (
    AskFarm,
    Back,
    Effect,
    Fetch,
    Go,
    KeepDraft,
    KeepRace,
    OpenForm,
    Save,
    Saved,
    Undo,
    Unsaved,
    Write,
)
from readiness.crush.pad import Pad
from readiness.crush.race import Race, expected, farms_due
from readiness.crush.slip import Slip
from readiness.crush.top import pad_for
from readiness.engine.results import Assessment, Board
from readiness.herd.card import Card
from readiness.herd.team import EVERY_FARM, Team, in_team
from readiness.report.rows import rows
from readiness.shorthand import WRITABLE, ShorthandError
from readiness.trade.words import plural

NO_BULL = "No bull is in the crush: / picks one, g lets a group in."
UNREAD = "The line cannot be read yet: l mends it."
OF_NO_BULL = ("group",)
"""The forms that need no bull in the crush."""


@dataclass(frozen=True, slots=True)
class Typing:
    """What is typed: ``what`` is LINE, NOTE or PICK (``readiness.crush.keys``); ``asks`` and
    ``below`` stand under the line. ``began``: the pad before a line; ``why`` that line cannot be
    read. ``found``: the bulls that a text may mean; ``chosen``: the place of the one the arrows
    are on."""

    what: str
    asks: str = ""
    below: str = ""
    began: Pad | None = None
    why: str = ""
    found: tuple[str, ...] = ()
    chosen: int | None = None


Step = Callable[["Session"], "Session"]
"""What takes a session on."""


@dataclass(frozen=True, slots=True)
class Session:
    """``today``: the day of what is said; ``who`` says it. ``first``: the bull to begin with,
    wherever he stands. ``team``: those expected. ``names``: of each bull, as on the board.
    ``unread``: a line of the bull in the crush that cannot be read; ``drafts``: what is half said,
    by bull. ``saves``: the ids of what was saved, the last one last. ``again``: the key that
    ``message`` asks for once more. ``pressed``: the last key, and when (seconds); ``deaf``: it was
    refused, and what follows it in one breath is. ``noted``: a note (of this bull) that goes with
    nothing said yet."""

    today: date
    who: str = ""
    readonly: bool = False
    team: Team = EVERY_FARM
    first: str | None = None
    board: Board | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    handled: frozenset[str] = frozenset()
    race: Race = field(default_factory=Race)
    drafts: Mapping[str, Unsaved] = field(default_factory=dict)
    card: Card | None = None
    pad: Pad | None = None
    unread: str = ""
    typing: Typing | None = None
    message: str = ""
    again: str = ""
    last: Saved | None = None
    saves: tuple[frozenset[str], ...] = ()
    pressed: tuple[str, float] = ("", float("-inf"))
    deaf: bool = False
    noted: tuple[str, str] = ("", "")
    todo: tuple[Effect, ...] = ()

    @property
    def key(self) -> str | None:
        """The bull in the crush."""
        return self.card.assessment.key if self.card else None

    @property
    def bulls(self) -> dict[str, Assessment]:
        """The bulls on the board, by key."""
        return {bull.key: bull for bull in self.board.bulls} if self.board else {}

    @property
    def line(self) -> str:
        """What is said of the bull in the crush, as shorthand."""
        return self.pad.slip.line(self.pad.before.scales) if self.pad else ""

    @property
    def half_entered(self) -> list[str]:
        """The bulls of whom something is said that is not saved, but for the one in the crush."""
        bulls = self.bulls
        return [key for key in self.drafts if key != self.key and key in bulls]

    def called(self, key: str) -> str:
        """His tag and name, as short as on the board."""
        return self.names.get(key, key)

    def do(self, effect: Effect) -> Session:
        return replace(self, todo=(*self.todo, effect))

    def say(self, words: str, again: str = "") -> Session:
        """One calm line until something else is said. ``again``: the key it asks for once more."""
        return replace(self, message=words, again=again)

    # ---- the book is read ----------------------------------------------------------------------

    def opened(
        self, board: Board, handled: Iterable[str], kept: Race, drafts: Mapping[str, Unsaved]
    ) -> Session:
        """For the first time: who is expected today, asked first where bulls of several farms are.
        ``kept``: today's race as it was left; ``drafts``: what earlier windows left half said."""
        now = replace(self._with_board(board, handled), drafts=drafts)
        farms = farms_due(board, now.handled)
        if self.first is None and self.team == EVERY_FARM and len(farms) > 1:
            return now.do(AskFarm(tuple(farms), kept))
        return now.lined_up(self.team, kept)

    def lined_up(self, team: Team, kept: Race) -> Session:
        """Of the race as it was left the bulls of this team who are still to come, then those
        expected; the first one comes."""
        now, bulls = replace(self, team=team), self.bulls
        still = (
            key
            for key in kept.keys
            if key not in self.handled
            and (bull := bulls.get(key))
            and in_team(bull.farm, bull.group, team)
        )
        now = now._expecting(replace(kept, keys=tuple(still)))
        if self.first is not None:
            now = replace(now, race=now.race.pick(self.first))
        names = ", ".join(self.called(key) for key in self.drafts if key in bulls)
        if names:
            now = now.say(f"Half entered and not saved: {names}. / and his tag brings each back.")
        return now.turn(now.race.first)

    def reread(
        self, board: Board, handled: Iterable[str], card: Card | None, *, idle: bool
    ) -> Session:
        """Again, after it changed: without the bulls that are gone, with those newly expected.
        ``card``: that of the bull in the crush when it was read; ``idle``: nobody is on his way."""
        now = self._with_board(board, handled)
        now = now._expecting(now.race.without([k for k in now.race.keys if k not in now.bulls]))
        if card is not None and now.pad is not None and card.assessment.key == now.key:
            return replace(now, card=card, pad=replace(now.pad, before=before_of(card, now.today)))
        return now.turn(now.race.first) if now.card is None and idle else now

    def _with_board(self, board: Board, handled: Iterable[str]) -> Session:
        names = {row.key: row.bull for row in rows(board)}
        return replace(self, board=board, names=names, handled=frozenset(handled))

    def _expecting(self, race: Race) -> Session:
        """This race, and at its end the bulls of the team who are expected besides."""
        bulls = [b for b in self.bulls.values() if in_team(b.farm, b.group, self.team)]
        due = expected(bulls, self.today.toordinal(), self.handled)
        return replace(self, race=race.join(key for key in due if key not in race.out))

    # ---- who stands in the crush ---------------------------------------------------------------

    def turn(self, key: str | None) -> Session:
        """This bull comes into the crush; None: nobody does."""
        now = replace(self, card=None, pad=None) if key is None else self
        return now.do(Fetch(key))

    def arrived(self, key: str, card: Card | None) -> Session:
        """The card of a bull was read; None: he is not on the book any more."""
        if card is not None:
            return self._stand(card)
        now = self._with_race(self.race.done(key))
        return now.turn(now.race.first)

    def _stand(self, card: Card, slip: Slip | None = None) -> Session:
        """The bull of this card stands in the crush, with this slip, or what was half said."""
        before, unread = before_of(card, self.today), ""
        now = slip or Slip(card.assessment.bull, self.today, self.who)
        draft = self.drafts.get(card.assessment.key)
        if slip is None and draft is not None:
            now = replace(now, on=draft.on)
            try:
                now = now.read(draft.line, before.scales)
            except ShorthandError:
                unread = draft.line
        return replace(self, card=card, pad=pad_for(before, now), unread=unread)

    def _with_race(self, race: Race) -> Session:
        """The race as it is now, kept."""
        return replace(self, race=race).do(KeepRace(race))

    def skip(self, step: int) -> Session:
        """Let the others go before him, or (backwards) bring back who was let go last."""
        now = self._with_race(self.race.skip() if step > 0 else self.race.back())
        return now.turn(now.race.first)

    def drop(self) -> Session:
        """He does not come today; what was half said of him is kept."""
        if self.key is None:
            return self
        now = self._with_race(self.race.drop(self.key))
        gone = f"{self.called(self.key)} is out of the race for today"
        return now.turn(now.race.first).say(f"{gone}; / and his tag brings him back.")

    def pick(self, key: str) -> Session:
        """This bull stands in the crush now."""
        return self._with_race(self.race.pick(key)).turn(key)

    def let_in(self, team: Team) -> Session:
        """A whole group or farm comes, whether anything is due or not."""
        bulls = (b for b in self.bulls.values() if in_team(b.farm, b.group, team))
        now = self._with_race(self.race.join(b.key for b in bulls if b.key not in self.handled))
        more = len(now.race.keys) - len(self.race.keys)
        now = now.say(f"{plural(more, 'bull')} more in the race.")
        return now.turn(now.race.first) if now.card is None else now

    # ---- what is said of him -------------------------------------------------------------------

    def take(self, pad: Pad) -> Session:
        """What is said now; kept at once where it changed."""
        changed = self.pad is None or pad.slip != self.pad.slip
        now = replace(self, pad=pad)
        return now.keep(now.line) if changed else now

    def keep(self, line: str) -> Session:
        """Keep what is said of the bull in the crush: the slip's line, or what is being typed."""
        if self.pad is None or self.key is None or self.readonly:
            return self
        on = self.pad.slip.on
        drafts = {**self.drafts, self.key: Unsaved(line, on)}
        if not line.strip():
            del drafts[self.key]
        return replace(self, drafts=drafts).do(KeepDraft(self.key, line, on))

    def left(self, key: str, draft: Unsaved) -> Session:
        """Behind the draft of a bull that is given up stood an older one of his."""
        return replace(self, drafts={**self.drafts, key: draft})

    def form(self, name: str) -> Session:
        """A form is wanted; "": which one is asked."""
        if self.card is None and name not in ("", *OF_NO_BULL):
            return self.say(NO_BULL)
        return self.say(UNREAD) if self.unread else self.do(OpenForm(name))

    def answered(self, kind: str, said: Mapping[str, Any]) -> Session:
        """What a form says: into the slip where shorthand can say it; else it is written at
        once."""
        if kind in WRITABLE and self.pad is not None:
            return self.take(self.pad.done(self.pad.slip.say(kind, said)))
        by = {"by": self.who} if self.who else {}
        content = {"kind": kind, "on": self.today.isoformat(), **by, **said}
        if kind not in OF_NO_BULL and self.card is not None:
            content["bull"] = self.card.assessment.bull
        return self.do(Write(content))

    def written(self, last: Saved) -> Session:
        """What a form says is in the book."""
        return replace(self, last=last).do(Go.READ)

    # ---- saving, undoing -----------------------------------------------------------------------

    def save(self) -> Session:
        """Save what is said of the bull in the crush; the next one comes."""
        pad, key = self.pad, self.key
        if pad is None or self.card is None or key is None:
            return self.say(NO_BULL)
        if self.readonly:
            return self.take(pad.tell("Not saved: the book was opened to be read only."))
        if self.unread:
            return self.take(pad.tell("Not saved: the line cannot be read yet: l mends it."))
        if not pad.slip:
            words = "Nothing is said of him yet: s all sound, n the next bull."
            return self.take(pad.tell(words))
        return self.do(Save(self.card, pad.slip, self.line, self.race.done(key).first))

    def saved(self, key: str, ids: Iterable[str], last: Saved, following: Card | None) -> Session:
        """It is in the book. ``following``: the card of the one who came next then."""
        drafts = {of: draft for of, draft in self.drafts.items() if of != key}
        now = replace(
            self,
            last=last,
            handled=self.handled | {key},
            drafts=drafts,
            saves=(*self.saves, frozenset(ids)),
        )
        now = now._with_race(self.race.done(key)).say("")
        if following is not None and following.assessment.key == now.race.first:
            return now._stand(following)
        return replace(now, card=None, pad=None).turn(now.race.first)

    def undo(self) -> Session:
        """Take back what was last saved from this device: at once what was saved here; what
        another screen wrote is shown first."""
        return self.do(Undo(self.saves[-1] if self.saves else frozenset()))

    def taken_back(self, back: Back, card: Card | None, *, here: bool) -> Session:
        """He stands in the crush again, with what was said of him, to be said better; not where
        something else is half said of him. ``here``: it was saved here last."""
        now = replace(self, last=back.saved, saves=self.saves[:-1] if here else self.saves)
        if card is None:
            return now
        if not back.key:
            return now._stand(card, self.pad.slip if self.pad and self.pad.slip else None)
        now = replace(now, handled=now.handled - {back.key})._with_race(now.race.pick(back.key))
        now = now._stand(card, None if back.key in self.drafts else back.slip)
        return now.keep(now.unread or now.line)


def stay(session: Session) -> Session:
    """Nothing came of it."""
    return session


def codes(session: Session) -> Session:
    """What each code means, by the rules of the bull in the crush."""
    return session.do(Go.CODES) if session.card is not None else session
