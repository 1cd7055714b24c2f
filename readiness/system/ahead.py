"""Work begun in a thread while its caller does something else.

The database connects and reads in its own code, outside Python's lock: meanwhile the engine is
imported and the rules are read, which takes a tenth off a cold board.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

T = TypeVar("T")


class Ahead(Generic[T]):
    """Begins ``work`` at once; ``result`` waits for it and gives what it gave, or raises what it
    raised."""

    def __init__(self, work: Callable[[], T]) -> None:
        self._work = work
        self._given: list[T] = []
        self._raised: Exception | None = None
        self._thread = threading.Thread(target=self._run)
        self._thread.start()

    def _run(self) -> None:
        try:
            self._given.append(self._work())
        except Exception as problem:  # not lost: result raises it
            self._raised = problem

    def result(self) -> T:
        self._thread.join()
        if self._raised is not None:
            raise self._raised
        return self._given[0]
