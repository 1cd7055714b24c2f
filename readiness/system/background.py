"""Work done in a thread while its caller does something else, or listens for a key.

By hand, not through ``concurrent.futures``: that imports ``logging``, and every board would pay for
it; nor would an executor leave alone, when the program ends, what nobody waits for any more.
"""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from time import monotonic
from typing import Generic, TypeVar

T = TypeVar("T")
BEAT = 0.1
"""Seconds between two questions whether somebody still waits."""


class GivenUp(Exception):
    """Nobody waits for the result any more."""


class Background(Generic[T]):
    """Begins ``work`` at once. ``may_be_left``: the program may end before it is done."""

    def __init__(self, work: Callable[[], T], *, may_be_left: bool = False) -> None:
        self._work = work
        self._result: list[T] = []
        self._problem: BaseException | None = None
        self._thread = Thread(target=self._run, daemon=may_be_left)
        self._begun = monotonic()
        self._thread.start()

    def _run(self) -> None:
        try:
            self._result.append(self._work())
        except BaseException as problem:  # raised again where somebody waits for it
            self._problem = problem

    def result(self, still: Callable[[float], bool] | None = None) -> T:
        """What ``work`` returns, or raises. ``still`` is told every moment how many seconds it has
        taken; where it says no longer, ``GivenUp`` is raised at once."""
        while self._thread.is_alive():
            self._thread.join(BEAT if still else None)
            if still and not still(monotonic() - self._begun):
                raise GivenUp
        if self._problem is not None:
            raise self._problem
        return self._result[0]
