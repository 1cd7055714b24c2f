"""A job done in a process of its own, beside what this one goes on with."""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from functools import partial
from typing import TypeVar

from readiness.system.errors import ReadinessError

Given = TypeVar("Given")


def forked(job: Callable[[], Given]) -> Callable[[], Given | None] | None:
    """Begin a job in a process of its own; what is returned waits for it, once, and gives what came
    of it, None where it could not be done: whoever asks does it himself then, and says what is
    wrong. None at once where the system cannot fork. Call it before any thread was started."""
    if not hasattr(os, "fork"):
        return None
    pipe, end = os.pipe()
    child = os.fork()
    if child:
        os.close(end)
        return partial(_taken, child, pipe)
    try:
        told = pickle.dumps(job())
        with os.fdopen(end, "wb") as out:
            out.write(told)
    except (ReadinessError, OSError, MemoryError):
        pass  # told by nothing
    finally:
        os._exit(0)


def _taken(child: int, pipe: int) -> Given | None:
    with os.fdopen(pipe, "rb") as coming:
        told = coming.read()
    os.waitpid(child, 0)
    # Only our own child writes into this pipe, so what comes out of it may be unpickled.
    given: Given | None = pickle.loads(told) if told else None
    return given
