"""The first board, read by a process of its own while this one loads the screen's library.

Loading textual and reading the book take about as long as each other; side by side the board
stands that much sooner. Where the system cannot fork, or the reading fails, there is no early
board: the screen then reads for itself, and says what is wrong.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, TypeAlias

from readiness.system.errors import ReadinessError

if TYPE_CHECKING:
    from readiness.tui.shared.reading import BoardSheet, Seen

Early: TypeAlias = "Callable[[], Seen[BoardSheet] | None]"
"""Waits, once, for a board on its way; None where that process could not read it."""


def start(read: Callable[[], Seen[BoardSheet]]) -> Early | None:
    """Begin to ``read`` in a process of its own. Call it before any thread was started."""
    if not hasattr(os, "fork"):
        return None
    pipe, end = os.pipe()
    child = os.fork()
    if child:
        os.close(end)
        return partial(_take, child, pipe)
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


def _take(child: int, pipe: int) -> Seen[BoardSheet] | None:
    with os.fdopen(pipe, "rb") as coming:
        sent = coming.read()
    os.waitpid(child, 0)
    # Only our own child writes into this pipe, so what comes out of it may be unpickled.
    seen: Seen[BoardSheet] | None = pickle.loads(sent) if sent else None
    return seen
