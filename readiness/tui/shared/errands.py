"""Work on the book while keys go on being pressed: one errand at a time, and the keys wait."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from textual.screen import Screen

from readiness.system.errors import ReadinessError

MOST_WAITING = 60
"""Keys that wait at most; whoever presses more leans on the keyboard."""

Then = Callable[[], None]


class Errands:
    """Runs errands in a thread for a screen. ``press`` is given the keys that waited; ``fail`` what
    went wrong, in words: the keys that waited mean nothing then."""

    def __init__(
        self, screen: Screen[None], press: Callable[[str], object], fail: Callable[[str], None]
    ) -> None:
        self._screen = screen
        self._press = press
        self._fail = fail
        self._waiting: list[str] = []
        self.busy = False

    def run(self, job: Callable[[], Then]) -> None:
        """Do ``job`` in a thread; what it returns is done on the screen."""
        self.busy = True
        self._screen.run_worker(partial(self._work, job), group="book", thread=True)

    def wait(self, key: str) -> None:
        """A key pressed meanwhile."""
        if len(self._waiting) < MOST_WAITING:
            self._waiting.append(key)

    def hand_on(self) -> None:
        """A dialog opened on the way: the keys that waited were meant for it."""
        waiting, self._waiting = self._waiting, []
        for key in waiting:
            self._press(key)

    def stop(self) -> None:
        """There is nothing to wait for."""
        self._waiting.clear()
        self.busy = False

    def _work(self, job: Callable[[], Then]) -> None:
        try:
            then = job()
        except ReadinessError as problem:
            self._screen.app.call_from_thread(self._failed, str(problem))
        else:
            self._screen.app.call_from_thread(self._done, then)

    def _done(self, then: Then) -> None:
        self.busy = False
        then()
        while self._waiting and not self.busy:
            self._press(self._waiting.pop(0))

    def _failed(self, words: str) -> None:
        self.stop()
        self._fail(words)
