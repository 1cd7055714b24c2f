"""When Python looks for garbage that goes in circles. Of its own accord it does so amid a key:
2 to 5 ms of every third, 20 to 40 ms now and then (a day of 50 bulls on two cores)."""

from __future__ import annotations

import gc

MUCH = 20_000
"""Objects made since it last looked: the keys for some ten bulls."""


def put_off() -> None:
    """Until ``as_usual`` it looks only where ``collected`` is called; and never again through what
    is there by now: the entries of a big book stay all day."""
    gc.freeze()
    gc.disable()


def collected() -> None:
    """Look now, while nobody waits, where much was made meanwhile."""
    if not gc.isenabled() and gc.get_count()[0] > MUCH:
        gc.collect()


def as_usual() -> None:
    gc.enable()
