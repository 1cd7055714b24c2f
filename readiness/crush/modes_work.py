"""What is done to a foot or a claw in the hand: work by its key, and the wrap round the foot."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from readiness.crush.pad import Answer, Mode, Pad
from readiness.crush.slip import WRAPS, Slip
from readiness.trade.feet import ACTS

ACT_KEYS = {act[0]: act for act in ACTS if act not in WRAPS}


def work(foot: str, claw: str | None, after: Mode) -> Iterator[Answer]:
    """What may be done there, by key."""
    for key, act in ACT_KEYS.items():
        yield Answer(key, act, after, partial(Slip.work, foot=foot, claw=claw, act=act))


def wrap(foot: str, after: Mode, pad: Pad) -> Pad:
    """Round the foot, whatever claw is in the hand."""
    slip = pad.slip.rewrap(foot, on=foot in pad.before.wraps)
    said = slip.acts(foot)
    words = "a wrap goes on" if "wrap" in said else "no wrap"
    if "unwrap" in said:
        words = "the old wrap comes off, a new one goes on" if "wrap" in said else "the wrap is off"
    return pad.go(after, slip, f"{foot}: {words}.")


def wrap_words(pad: Pad, foot: str) -> str:
    """What the key of the wrap does now."""
    said, on = pad.slip.acts(foot), foot in pad.before.wraps
    if "wrap" in said:
        return "wrap off"
    if "unwrap" in said:
        return "a new wrap"
    return "wrap off" if on else "wrap"
