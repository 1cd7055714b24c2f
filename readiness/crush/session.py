"""The crush between two keys: who comes, who stands in it, what is said of him, what was saved.

Pure: each step gives the session after it, with what there is to do added to ``todo``. Whoever does
that says what came of it by another step.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from readiness.crush.before import before_of
from readiness.crush.effects import (
    AskFarm,
    Batch,
    Effect,
    Fetch,
    KeepDraft,
    KeepRace,
    Saved,
    Unsaved,
)
from readiness.crush.line import Typing
from readiness.crush.pad import Pad, Steps
from readiness.crush.race import Race, expected, farms_due, waits_for
from readiness.crush.slip import Slip
from readiness.crush.top import pad_for
from readiness.engine.results import Assessment, Board, Check
from readiness.herd.card import Card
from readiness.herd.done import Done, feet_left
from readiness.herd.team import EVERY_FARM, Team, in_team
from readiness.report.rows import rows
from readiness.shorthand import ShorthandError
from readiness.trade.words import plural

NO_BULL = "No bull is in the crush: / picks one, g lets a group in."
UNREAD = "The line cannot be read yet: l mends it."
HALF = "is half entered"

Step = Callable[["Session"], "Session"]
"""What takes a session on."""


@dataclass(frozen=True, slots=True)
class Session:
    """``today``: the day of what is said; ``who`` says it. ``first``: the bull to begin with,
    wherever he stands. ``team``: those expected. ``names``: of each bull, as on the board.
    ``handled``: what was done today on those who have been through. ``unread``: a line of the bull
    in the crush that cannot be read; ``drafts``: what is half said, by bull; ``pads``: with the
    keys that said it, where they were pressed here; ``came``: the pad with which the one in the
    crush came, None where it was given to him. ``saves``: what was saved, the last one last.
    ``again``: the key that ``message`` asks for once more. ``pressed``: the last key, when
    (seconds), and whether it was taken for one held down; ``breath``: when the first of the keys
    was that were typed without a rest up to it; ``deaf``: it was refused, and what follows it at
    once is; ``doubted``: a foot's digit that came too soon after itself: its foot, where a claw
    follows; ``told``: when something was last told of a key. ``missed``: a key was refused since
    he came; ``lost``: what was said of him and is not any more, since something else was said in
    its place, and nobody was asked about; ``halved``: he came half entered, and nobody was asked
    yet whether all of that is his;
    ``named``: who was last brought by his tag. ``noted``: a note (of this bull) that goes with
    nothing said yet. ``let``: whom a group let in: due or not, he waits until he has been through.
    """

    today: date
    who: str = ""
    readonly: bool = False
    team: Team = EVERY_FARM
    first: str | None = None
    board: Board | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    handled: Mapping[str, Done] = field(default_factory=dict)
    race: Race = field(default_factory=Race)
    drafts: Mapping[str, Unsaved] = field(default_factory=dict)
    pads: Mapping[str, Pad] = field(default_factory=dict)
    card: Card | None = None
    pad: Pad | None = None
    came: Pad | None = None
    unread: str = ""
    typing: Typing | None = None
    message: str = ""
    again: str = ""
    last: Saved | None = None
    saves: tuple[Batch, ...] = ()
    pressed: tuple[str, float, bool] = ("", float("-inf"), False)
    breath: float = float("-inf")
    deaf: bool = False
    doubted: str = ""
    told: float = float("-inf")
    missed: bool = False
    lost: str = ""
    halved: bool = False
    named: str | None = None
    noted: tuple[str, str] = ("", "")
    let: frozenset[str] = frozenset()
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
    def through(self) -> list[str]:
        """Who is done: has been through, and neither waits again, is half entered nor left over."""
        again, bulls = {*self.race.keys, *self.race.out, *self.drafts}, self.bulls
        done = (key for key, done in self.handled.items() if not done.refused)
        return [key for key in done if key in bulls and key not in again]

    @property
    def half_entered(self) -> list[str]:
        """The bulls of whom something is said that is not saved, but for the one in the crush."""
        bulls = self.bulls
        return [key for key in self.drafts if key != self.key and key in bulls]

    def half_said(self, but: str | None = None) -> str:
        """A sentence that names all who are half entered, but for this bull."""
        bulls = self.bulls
        names = ", ".join(self.called(key) for key in self.drafts if key in bulls and key != but)
        return f"Half entered and not saved: {names}." if names else ""

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
        self, board: Board, handled: Mapping[str, Done], kept: Race, drafts: Mapping[str, Unsaved]
    ) -> Session:
        """For the first time: who is expected today, asked first where bulls of several farms are.
        ``kept``: today's race as it was left; ``drafts``: what earlier windows left half said."""
        now = replace(self.with_board(board, handled), drafts=drafts)
        farms = farms_due(board, now.handled)
        if self.first is None and self.team == EVERY_FARM and len(farms) > 1:
            return now.do(AskFarm(tuple(farms), kept))
        return now.lined_up(self.team, kept)

    def lined_up(self, team: Team, kept: Race) -> Session:
        """Of the race as it was left the bulls of this team who are still to come, then those
        expected; the first one comes."""
        now, bulls = replace(self, team=team), self.bulls
        due = now._due()
        still = (
            key
            for key in kept.keys
            if (key not in self.handled or key in due)
            and (bull := bulls.get(key))
            and in_team(bull.farm, bull.group, team)
        )
        race = replace(kept, keys=tuple(still))
        let = frozenset(race.keys).difference(due)
        now = replace(now, let=let)._expecting(race)
        begins = now.race.first if self.first is None else self.first
        now = now.turn(begins) if self.first is None else now.pick(self.first)
        half = now.half_said(begins)
        return now.say(f"{half} / and his tag brings each back.") if half else now

    def reread(
        self, board: Board, handled: Mapping[str, Done], card: Card | None, *, idle: bool
    ) -> Session:
        """Again, after it changed: without the bulls that are gone, or were put through elsewhere,
        with those newly expected. ``card``: that of the bull in the crush when it was read;
        ``idle``: nobody is on his way."""
        now = self.with_board(board, handled)
        waited = {*self._due()}.difference(self.let).union(handled.keys() - self.handled)
        due = now._due()
        over = {key for key in waited if key not in due and key not in (self.key, *self.drafts)}
        now = now._expecting(
            now.race.without([k for k in now.race.keys if k not in now.bulls or k in over])
        )
        if card is not None and card.assessment.key == now.key:
            if not (card.state.gone and idle) or now.line:
                new = card.assessment.key in handled.keys() - self.handled and not now.line
                over_now = new and now._is_done(card.assessment.key)
                race = now.race.done(card.assessment.key) if over_now else now.race
                return (now if race == now.race else now.with_race(race)).refreshed(card)
            now = replace(now.with_race(now.race.done(card.assessment.key)), card=None, pad=None)
        return now.turn(now.race.first) if now.card is None and idle else now

    def with_board(self, board: Board, handled: Mapping[str, Done]) -> Session:
        names = {row.key: row.bull for row in rows(board)}
        return replace(self, board=board, names=names, handled=dict(handled))

    def refreshed(self, card: Card) -> Session:
        """The card of the bull in the crush, read anew."""
        pad = self.pad and replace(self.pad, before=before_of(card, self.today))
        return replace(self, card=card, pad=pad)

    def _due(self) -> list[str]:
        """The bulls of the team who are expected."""
        bulls = [b for b in self.bulls.values() if in_team(b.farm, b.group, self.team)]
        return expected(bulls, self.today.toordinal(), self.handled)

    def _expecting(self, race: Race) -> Session:
        """This race, and at its end those expected besides."""
        return replace(self, race=race.join(key for key in self._due() if key not in race.out))

    def waits(self, bull: Assessment) -> list[Check]:
        """The checks for which he is expected today."""
        return waits_for(bull, self.today.toordinal(), self.handled)

    def feet_left(self, bull: Assessment) -> list[str]:
        """The feet of one who has been through that are asked for by any day, and not lifted."""
        return feet_left(bull, self.today.toordinal(), self.handled[bull.key], whenever=True)

    # ---- who stands in the crush ---------------------------------------------------------------

    def turn(self, key: str | None) -> Session:
        """This bull comes into the crush; None: nobody does. That the one who leaves it is half
        entered is said: he looks as if he were done."""
        leaves = self.key if self.key != key and self.key in self.drafts else None
        now = self.say(f"{self.called(leaves)} stays half entered, not saved." if leaves else "")
        if key is None:
            now = replace(now, pads=now.pads_left(), card=None, pad=None)
        return now.do(Fetch(key))

    def arrived(self, key: str, card: Card | None) -> Session:
        """The card of a bull was read; None: he is not on the book any more."""
        if card is not None:
            return self.stand(card)
        now = self.with_race(self.race.done(key))
        return now.turn(now.race.first)

    def stand(self, card: Card, slip: Slip | None = None, steps: Steps = ()) -> Session:
        """The bull of this card stands in the crush, with this slip, said by these ``steps``; else
        with what was half said of him."""
        key, before, unread, told = card.assessment.key, before_of(card, self.today), "", ""
        now = slip or Slip(card.assessment.bull, self.today, self.who)
        draft = self.drafts.get(key)
        if slip is None and draft is not None:
            now = replace(now, on=draft.on)
            try:
                now = now.read(draft.line, before.scales)
            except ShorthandError:
                unread = draft.line
            left = self.pads.get(key)
            steps = left.steps if left is not None and left.slip == now else ()
            told = f"{self.called(key)} {HALF}, not saved"
        pad = replace(pad_for(before, now), steps=steps)
        pads = {of: left for of, left in self.pads_left().items() if of != key}
        came = replace(self, card=card, pad=pad, came=pad, unread=unread, pads=pads)
        after = replace(came, missed=False, lost="", halved=bool(told and now))
        how = f". {UNREAD}" if unread else f": {pad.takes_back}"
        return after.say(f"{told}{how} {self.message}".strip()) if told else after

    def pads_left(self) -> dict[str, Pad]:
        """The pads of those half entered, the one in the crush among them."""
        mine = {self.key: self.pad} if self.key and self.pad and self.pad.slip else {}
        return {**self.pads, **mine}

    def with_race(self, race: Race) -> Session:
        """The race as it is now, kept."""
        return replace(self, race=race).do(KeepRace(race))

    def skip(self, step: int) -> Session:
        """Let the others go before him, or (backwards) bring back who was let go last. One who is
        done stands before the race, not in it."""
        waits = self.key is None or self.key in self.race.keys
        on = self.race.skip() if waits else self.race
        now = self.with_race(on if step > 0 else self.race.back())
        return now.turn(now.race.first)

    def drop(self) -> Session:
        """He does not come today; what was half said of him is kept."""
        if self.key is None:
            return self
        if self.key in self.through:
            return self.turn(self.race.first).say(f"{self.called(self.key)} is done today.")
        now = self.with_race(self.race.drop(self.key))
        half = ", half entered" if self.key in self.drafts else ""
        gone = f"{self.called(self.key)} is out of the race for today{half}"
        return now.turn(now.race.first).say(f"{gone}; / and his tag brings him back.")

    def pick(self, key: str) -> Session:
        """This bull stands in the crush now. Who is done stays done, until more is said of him."""
        now = self if key in self.through else self.with_race(self.race.pick(key))
        return replace(now, named=key).turn(key)

    def let_in(self, team: Team) -> Session:
        """A group or farm comes next, due or not, but for those through and asked for no foot."""
        bulls = [b for b in self.bulls.values() if in_team(b.farm, b.group, team)]
        was = {b.key: self.handled.get(b.key, Done()).in_hand for b in bulls}
        still = [b.key for b in bulls if not was[b.key] or self.feet_left(b)]
        now = replace(self, let=self.let.union(still))
        now = now.with_race(self.race.first_come(still, self.key))
        more, through = len(now.race.keys) - len(self.race.keys), len(bulls) - len(still)
        now = now.turn(now.race.first) if now.card is None else now
        been = f"; {through} through today already, Tab lists them" if through else ""
        come = f"{plural(len(still), 'bull')} next, {more} of them"
        come = plural(more, "bull") if team == EVERY_FARM else come
        return now.say(f"{come} new in the race{been}.")

    # ---- what is said of him -------------------------------------------------------------------

    def take(self, pad: Pad) -> Session:
        """What is said now; kept at once where it changed."""
        changed = self.pad is None or pad.slip != self.pad.slip
        over = changed and not pad.slip and HALF in self.message
        halved = self.halved and bool(pad.slip)
        now = replace(self, pad=pad, message="" if over else self.message, halved=halved)
        return now.keep(now.line) if changed else now

    def keep(self, line: str) -> Session:
        """Keep what is said of the bull in the crush: the slip's line, or what is being typed."""
        if self.pad is None or self.key is None or self.readonly:
            return self
        on = self.pad.slip.on
        drafts = {**self.drafts, self.key: Unsaved(line, on)}
        if not line.strip():
            del drafts[self.key]
        now = replace(self, drafts=drafts).do(KeepDraft(self.key, line, on))
        waits = line.strip() or not now._is_done(self.key)
        race = self.race.pick(self.key) if waits else self.race.done(self.key)
        return now if race == now.race else now.with_race(race)

    def _is_done(self, key: str) -> bool:
        """Whether nothing more was asked of one who stands in the race, before it was said."""
        bull = self.bulls.get(key)
        if bull is None or key not in replace(self, race=self.race.done(key)).through:
            return False
        let = key in self.let and (self.feet_left(bull) or not self.handled[key].in_hand)
        return not (self.waits(bull) or let)

    def left(self, key: str, draft: Unsaved) -> Session:
        """Behind the draft of a bull that is given up stood an older one of his."""
        return replace(self, drafts={**self.drafts, key: draft})


def stay(session: Session) -> Session:
    """Nothing came of it."""
    return session
