"""Work on the book while keys go on being pressed: one errand at a time, and the keys wait."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, NamedTuple, TypeVar

from textual.screen import Screen
from textual.worker import get_current_worker

from readiness.system.background import Background, GivenUp
from readiness.system.breath import BREATH
from readiness.system.errors import ReadinessError
from readiness.tui.shared.program import program_of

MOST_WAITING = 60
"""Keys that wait at most; whoever presses more leans on the keyboard."""

LEADS_ON = ("write", "ask")
"""Errands after which something stands on the screen that has to be seen before the next key."""

Then = Callable[[], object]
Result = TypeVar("Result")


def in_thread(
    screen: Screen[Any],
    job: Callable[[], Then],
    refused: Callable[[ReadinessError], object],
    **how: Any,
) -> None:
    """Do ``job`` in a thread; what it returns is done on the screen. Where that went wrong,
    ``refused`` is told there. ``how``: as a screen's ``run_worker`` takes it."""
    program, seen_first = program_of(screen), how.get("group") in LEADS_ON
    if seen_first:
        program.await_errand(screen)

    def end(then: Then) -> None:
        try:
            then()
        finally:
            if seen_first:
                program.errand_done(screen)

    def work() -> None:
        try:
            then = job()
        except GivenUp:
            return
        except ReadinessError as problem:
            then = partial(refused, problem)
        except BaseException:
            screen.app.call_from_thread(end, lambda: None)
            raise
        screen.app.call_from_thread(end, then)

    screen.run_worker(work, thread=True, **how)


def left_alone(work: Callable[[], Result]) -> Result:
    """Within a job: what ``work`` returns, done aside, so that whoever quits does not wait for it.
    Raises ``GivenUp`` once nobody wants it."""
    worker = get_current_worker()
    return Background(work, may_be_left=True).result(lambda _: not worker.is_cancelled)


class Alone(NamedTuple):
    """What a ``key`` does that has to stand alone: pressed ``at`` so many seconds, ``do``;
    ``spoilt`` is given another character that follows it in one breath."""

    key: str
    at: float
    do: Callable[[], object]
    spoilt: Callable[[str, float], object]


class Errands:
    """Runs errands in a thread for a screen. ``press`` is given the keys that waited, each with
    when it was pressed; ``fail`` what went wrong, in words: the keys that waited mean nothing
    then."""

    def __init__(
        self,
        screen: Screen[None],
        press: Callable[[str, float], object],
        fail: Callable[[str], None],
    ) -> None:
        self._screen = screen
        self._press = press
        self._fail = fail
        self._waiting: list[tuple[str, float]] = []
        self._alone: Alone | None = None
        self.busy = False

    def run(self, job: Callable[[], Then]) -> None:
        """Do ``job`` in a thread; what it returns is done on the screen."""
        self.busy = True
        in_thread(self._screen, lambda: partial(self._done, job()), self._failed, group="book")

    def once_alone(
        self,
        key: str,
        at: float,
        do: Callable[[], object],
        spoilt: Callable[[str, float], object],
    ) -> None:
        """``do`` what this key does, pressed ``at`` so many seconds, once no other character has
        followed it in one breath: it may begin a word. The first that does goes to ``spoilt``."""
        self.busy = True
        self._alone = Alone(key, at, do, spoilt)
        if self._waiting:
            self._follows(*self._waiting.pop(0), first=True)
        elif breath := program_of(self._screen).breath:
            self._screen.set_timer(breath, partial(self._stood_alone, self._alone))
        else:
            self._stood_alone(self._alone)

    def _stood_alone(self, alone: Alone) -> None:
        if alone is self._alone:  # else a key came first
            self._alone = None
            alone.do()

    def _follows(self, key: str, at: float, *, first: bool = False) -> None:
        """A key after the one that has to stand alone."""
        alone = self._alone
        assert alone is not None
        if len(key) > 1 or key == alone.key or at - alone.at >= BREATH:
            self._waiting.insert(0 if first else len(self._waiting), (key, at))
            self._stood_alone(alone)
        else:
            self._alone, self.busy = None, False
            alone.spoilt(key, at)

    def wait(self, key: str, at: float) -> None:
        """A key pressed meanwhile, ``at`` so many seconds."""
        if self._alone is not None:
            self._follows(key, at)
        elif len(self._waiting) < MOST_WAITING:
            self._waiting.append((key, at))

    def hand_on(self) -> None:
        """A dialog opened on the way: once it is there, it has the keys that waited. From the
        screen's own queue: of a key the dialog sends itself, its bindings hear nothing."""
        dialog = self._screen.app.screen
        dialog.call_after_refresh(self._screen.call_later, self._press_all)

    def _press_all(self) -> None:
        waiting, self._waiting = self._waiting, []
        for key in waiting:
            self._press(*key)

    def stop(self) -> None:
        """There is nothing to wait for."""
        self._waiting.clear()
        self._alone, self.busy = None, False

    def free(self) -> None:
        """Nobody is on his way: the keys that waited mean what they mean now."""
        self._alone, self.busy = None, False
        self._screen.call_later(self._go_on)

    def _done(self, then: Then) -> None:
        self.busy = False
        then()
        self._go_on()

    def _go_on(self) -> None:
        """Press the keys that waited, until one has to be waited for."""
        while self._waiting and not self.busy and self._screen.is_active:
            self._press(*self._waiting.pop(0))
        if not self._screen.is_active:
            self.hand_on()

    def _failed(self, problem: ReadinessError) -> None:
        self.stop()
        self._fail(str(problem))
