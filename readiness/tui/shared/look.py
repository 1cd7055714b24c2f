"""A look at what is open on a foot, entered by a key: the farmer's, before a trimmer is there."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from readiness.crush.before import Before, Open, before_of
from readiness.crush.lift import Lift
from readiness.crush.meaning import meaning
from readiness.crush.pad import Pad
from readiness.crush.slip import Slip
from readiness.crush.top import AskFinding, pad_for
from readiness.engine.results import Check
from readiness.herd.card import Card
from readiness.shorthand import words
from readiness.trade.words import full_day_words, sentence
from readiness.tui.shared.decide import SeenFirst
from readiness.tui.shared.dialogs import Choice
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.keyed import AskDay, Keyed
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.looks import painted

LOOKS = ("look", "clear")
NOTHING = "Nothing is open on his feet that holds him: there is nothing to look at."


class LookAt(SeenFirst[Lift | None], Keyed[Lift | None]):
    """What became of one open finding. Returns the lift that says so; None: it was not looked at.

    What is open on that foot besides and does not hold him is said as it was, or the look at one
    would end it; what holds him stays open until it is spoken of.
    """

    TOPIC = "diary"
    KIND = "form"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "save", "save", show=False)]
    KEYS = "Of a foot that was lifted.  d: another day.  Enter saves, Esc leaves it"

    def __init__(self, found: Open, before: Before, slip: Slip, called: str) -> None:
        super().__init__(f"A look at {called}")
        slip = slip.lift(found.foot)
        for each in before.open:
            if each.foot == found.foot and not each.holds:
                slip = slip.find(each.foot, each.claw, each.code)
        self._asked = replace(pad_for(before, slip), mode=AskFinding((found,)))
        self._pad = self._asked
        self._day, self._foot = slip.on, found.foot
        self._wrapped_since = before.wraps.get(found.foot)

    def body(self) -> ComposeResult:
        yield Static(id="asked", markup=False)
        yield Static(id="answers", markup=False)
        yield Static(id="read", markup=False)
        yield Static(id="said", markup=False)

    def on_mount(self) -> None:
        self.say("")
        self._paint()

    def press(self, key: str) -> bool:
        if key == "d":
            self.app.push_screen(AskDay(self._day, self._asked.slip.on), self._dated)
            return True
        if key == "r" and self._wrapped_since is not None:
            # What each answer begins with, and what stands answered.
            self._asked, self._pad = _rewrapped(self._asked), _rewrapped(self._pad)
            self._paint()
            return True
        asking = self._pad.mode != self._pad.top
        now = (self._pad if asking else self._asked).press(key)
        if now is None:
            return False
        self.say("")
        self._take(now)
        return True

    def _take(self, now: Pad) -> None:
        if now.refused:
            self.refuse(now.said)
        else:
            self._pad = now
            self._paint()

    def _dated(self, day: date | None) -> None:
        self._day = day or self._day
        self._paint()

    def would_lose(self) -> bool:
        return self._pad.slip != self._asked.slip

    def action_save(self) -> None:
        if self._pad.mode == self._asked.mode:
            self.refuse("First what became of it: = as it was, + worse, - less, h healed.")
            return
        if self._pad.mode != self._pad.top and (now := self._pad.press("enter")) is not None:
            self._take(now)  # how bad it is now need not be said
        self.dismiss(Lift(self._pad.slip.contents).dated(self._day))

    def _paint(self) -> None:
        pad, glyphs = self._pad, self.tui.glyphs
        answered = pad.mode == pad.top
        asking = self._asked if answered else pad
        keys = "   ".join(f"{key} {words}" for key, words, _ in asking.keys if key != "Esc")
        said = " ".join(pad.slip.said()) if answered else "nothing is said yet."
        parts = {
            "asked": (asking.question, "strong"),
            "answers": (keys, ""),
            "read": (f"{full_day_words(self._day)}: {said}{self._of_wrap()}", ""),
        }
        for name, (text, role) in parts.items():
            self.query_one(f"#{name}", Static).update(painted((glyphs.text(text), role)))

    def _of_wrap(self) -> str:
        """What the look means for a wrap that is on: whoever sees the foot takes it off."""
        since, slip = self._wrapped_since, replace(self._pad.slip, on=self._day)
        if since is None or not slip.unwraps(self._foot, since):
            return ""
        if "wrap" in slip.acts(self._foot):
            return f" {self._foot} is wrapped anew (r: it is not)."
        return f" The wrap on {self._foot} counts as off then (r: a new one is on)."


def _rewrapped(pad: Pad) -> Pad:
    """With the old wrap off and a new one on; or, where that is said, without a word of it."""
    (foot,) = pad.slip.lifted
    slip = pad.slip
    if "wrap" in slip.acts(foot):
        return replace(pad, slip=slip.rewrap(foot, on=False))
    return replace(pad, slip=slip.rewrap(foot, on=True).rewrap(foot, on=True))


# ---- from a screen -------------------------------------------------------------------------------


def ask_look(screen: LiveScreen[Any], key: str, check: Check | None = None) -> None:
    """Ask what became of what is open on this bull's feet; ``check``: of what that one looks at."""
    if screen.desk.readonly:
        screen.tui.tell("Nothing is entered: the book was opened to be read only.", wrong=True)
        return

    def job() -> Callable[[], None]:
        return partial(_choose, screen, screen.desk.card(key), check)

    in_thread(screen, job, screen.refuse, group="ask", exit_on_error=False)


def _choose(screen: LiveScreen[Any], card: Card, check: Check | None) -> None:
    """Which finding, where that is not said; those asked for soonest first."""
    before = before_of(card, screen.desk.on)
    holding = [each for each in before.open if each.holds]
    if check is not None:
        holding = [each for each in holding if _of(check, each)]
    then = partial(_ask, screen, card, before)
    if len(holding) == 1:
        then(holding[0])
    elif holding:
        looks = [each for each in card.assessment.outstanding if each.check in LOOKS]
        looks.sort(key=lambda each: each.last_day)
        holding.sort(key=lambda found: _place(found, looks))
        choices = [Choice(each.words, each, _asked_of(each, looks)) for each in holding]
        screen.choose("A look at which?", choices, then)
    else:
        screen.tui.tell(NOTHING)


def _of(check: Check, found: Open) -> bool:
    return (check.foot, check.claw, check.code) == (found.foot, found.claw, found.code)


def _place(found: Open, looks: Collection[Check]) -> int:
    return next((at for at, check in enumerate(looks) if _of(check, found)), len(looks))


def _asked_of(found: Open, looks: Collection[Check]) -> str:
    """Who is to look at it."""
    return next((f"{check.text}: {check.who}" for check in looks if _of(check, found)), "")


def _ask(screen: LiveScreen[Any], card: Card, before: Before, found: Open) -> None:
    bull = card.assessment
    slip = Slip(bull.bull, screen.desk.on, screen.desk.who or "")

    def looked(lift: Lift | None) -> None:
        if lift is not None:
            job = partial(_written, screen, card, lift)
            in_thread(screen, job, screen.refuse, group="write", exit_on_error=False)

    called = f"{bull.bull} {bull.name or ''}".strip()
    screen.app.push_screen(LookAt(found, before, slip, called), looked)


def _written(screen: LiveScreen[Any], card: Card, lift: Lift) -> Callable[[], None]:
    """Write it; then say what it means for him."""
    desk, before = screen.desk, card.assessment
    done = desk.add(lift.contents)
    means = meaning(before, desk.card(before.key, last=True).assessment, desk.on.toordinal())
    said = [*map(words, lift.contents), *map(sentence, (w.text for w in done.warnings))]
    told = f"Saved of {before.bull}: {' '.join((*said, *map(sentence, means)))}"

    def then() -> None:
        screen.tui.tell(told)
        screen.action_reread()

    return then
