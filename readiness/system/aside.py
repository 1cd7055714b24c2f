"""Work that hears nobody while it runs, in a thread that is left alone when it is given up."""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from time import monotonic
from typing import Generic, TypeVar

What = TypeVar("What")
BEAT = 0.1


class GivenUp(Exception):
    """Nobody waits for the result any more."""


class Aside(Generic[What]):
    """Runs ``work`` in a thread of its own, which ends with the program at the latest."""

    def __init__(self, work: Callable[[], What]) -> None:
        self._work = work
        self._found: list[What] = []
        self._failed: list[BaseException] = []
        self._thread = Thread(target=self._run, daemon=True)

    def _run(self) -> None:
        try:
            self._found.append(self._work())
        except BaseException as problem:  # raised again where somebody waits for it
            self._failed.append(problem)

    def result(self, still: Callable[[float], bool]) -> What:
        """What ``work`` returns, or raises. ``still`` is told every moment how many seconds it has
        taken; where it says no longer, ``GivenUp`` is raised at once."""
        begun = monotonic()
        self._thread.start()
        while self._thread.is_alive():
            self._thread.join(BEAT)
            if not still(monotonic() - begun):
                raise GivenUp
        if self._failed:
            raise self._failed[0]
        return self._found[0]
