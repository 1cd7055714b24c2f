"""When the screen has nothing left to do: told by asyncio's own queue, not by the processor's load.

Textual's pilot guesses that from how busy the process was in the last 20 ms. That costs 40 ms and
more a key, and under load, or while a thread waits for a disk, the guess is wrong. Here nothing is
guessed: no task of the loop can go on but for a timer, a thread or another key.
"""

from __future__ import annotations

import asyncio
from typing import Any

IN_A_ROW = 3  # looks at the loop; between two of them it takes in what is due and what threads left
LONGEST = 1.0  # seconds, as in Textual: something that never rests must not hold a test up


async def quiet(min_sleep: float = 0, max_sleep: float = LONGEST) -> None:
    """Wait until nothing is left to do. Stands for ``textual._wait.wait_for_idle``, with its
    arguments; there is nothing that ``min_sleep`` could make surer here."""
    loop: Any = asyncio.get_running_loop()
    end = loop.time() + max_sleep
    seen = 0
    while seen < IN_A_ROW and loop.time() < end:
        await asyncio.sleep(0)
        seen = 0 if loop._ready else seen + 1
