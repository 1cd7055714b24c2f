"""The first board, read by a process of its own while this one loads the screen's library.

Loading textual and reading the book take about as long as each other; side by side the board
stands that much sooner. Where the system cannot fork, or the reading fails, there is no early
board: the screen then reads for itself, and says what is wrong.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from typing import TYPE_CHECKING

from readiness.system.errors import ReadinessError

if TYPE_CHECKING:
    from readiness.tui.shared.reading import BoardSheet, Seen


class Early:
    """A board on its way: ``take`` waits for it, once."""

    def __init__(self, child: int, pipe: int) -> None:
        self._child = child
        self._pipe = pipe

    def take(self) -> Seen[BoardSheet] | None:
        """The board, None where that process could not read it."""
        with os.fdopen(self._pipe, "rb") as pipe:
            sent = pipe.read()
        os.waitpid(self._child, 0)
        # Only our own child writes into this pipe, so what comes out of it may be unpickled.
        seen: Seen[BoardSheet] | None = pickle.loads(sent) if sent else None
        return seen


def start(read: Callable[[], Seen[BoardSheet]]) -> Early | None:
    """Begin to ``read`` in a process of its own. Call it before any thread was started."""
    if not hasattr(os, "fork"):
        return None
    pipe, end = os.pipe()
    child = os.fork()
    if child:
        os.close(end)
        return Early(child, pipe)
    status = 1
    try:
        sent = pickle.dumps(read())
        with os.fdopen(end, "wb") as out:
            out.write(sent)
        status = 0
    except ReadinessError:
        pass  # nothing sent: the screen reads for itself and says what is wrong
    finally:
        os._exit(status)
