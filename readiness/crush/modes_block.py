"""Blocks: which claw carries one, and whether it goes on, comes off or was lost.

Each question leads back to ``after``: the foot or the claw in the hand, where one is. From the
first question (None) another foot may be named.
"""

from __future__ import annotations

from functools import partial

from readiness.crush.pad import CLAW_KEYS, FOOT_KEYS, Answer, Choice, Mode, Pad
from readiness.trade.codes import CODES
from readiness.trade.feet import BLOCK_CLAWS, partner, spot_words


def begin_block(pad: Pad) -> Pad:
    """Where one block is on, that one is meant until another foot is named."""
    blocks = pad.before.blocks
    return pad.go(_block_on(*blocks[0]) if len(blocks) == 1 else BLOCK_FOOT)


def block_of(foot: str, after: Mode, pad: Pad) -> Pad:
    """Of the foot in the hand: the block that is on it, or which claw is to carry one."""
    on = [claw for at, claw in pad.before.blocks if at == foot]
    return pad.go(_block_on(foot, on[0], after) if len(on) == 1 else block_claw(foot, after))


def fit(foot: str, claw: str, after: Mode | None, pad: Pad) -> Pad:
    """A block on this claw; the word of warning where the claw carries a finding."""
    healed = [item["code"] for item in pad.slip.on_claw("healed", foot, claw)]
    open_there = [each.code for each in pad.before.open if (each.foot, each.claw) == (foot, claw)]
    there = [code for code in open_there if code not in healed]
    there += [item["code"] for item in pad.slip.on_claw("findings", foot, claw)]
    names = ", ".join(CODES[code].name for code in dict.fromkeys(there))
    warning = f"{spot_words(foot, claw)} carries a finding ({names}): block the sound claw."
    slip = pad.slip.anew("block-on", {"foot": foot, "claw": claw})
    return pad.go(after or pad.top, slip, warning if there else "")


def block_claw(foot: str, after: Mode | None = None) -> Choice:
    """Which claw carries it: the sound one."""
    claws = (
        Answer(key, claw, do=partial(carries, foot, claw, after))
        for key, claw in CLAW_KEYS.items()
        if claw in BLOCK_CLAWS
    )
    words = f"Block {foot}: which claw carries it? The sound one."
    return Choice(words, (*claws, Answer("Esc Enter", "none", after)), (foot, ""))


def carries(foot: str, claw: str, after: Mode | None, pad: Pad) -> Pad:
    """This claw carries a block: a new one, or what becomes of the one that is on."""
    on = (foot, claw) in pad.before.blocks and not pad.slip.fits(foot, claw)
    return pad.go(_block_on(foot, claw, after)) if on else fit(foot, claw, after, pad)


_OTHER_FOOT = tuple(Answer(key, foot, block_claw(foot)) for key, foot in FOOT_KEYS.items())
_NONE = Answer("Esc Enter", "none", told="No block is said.")
BLOCK_FOOT = Choice("Block: which foot?", (*_OTHER_FOOT, _NONE))


def _block_on(foot: str, claw: str, after: Mode | None = None) -> Choice:
    """A block that is on: what becomes of it."""
    stays = f"The block on {spot_words(foot, claw)} stays on."
    answers = (
        Answer("-", "taken off", do=partial(_off, foot, claw, after, lost=False)),
        Answer("0", "lost", do=partial(_off, foot, claw, after, lost=True)),
        Answer("+", "a new one fitted", do=partial(fit, foot, claw, after)),
        Answer("= Esc Enter", "stays on", after, told=stays),
        *(() if after else _OTHER_FOOT),
    )
    return Choice(f"The block on {spot_words(foot, claw)}: and now?", answers, (foot, claw))


def _off(foot: str, claw: str, after: Mode | None, pad: Pad, *, lost: bool) -> Pad:
    slip = pad.slip.anew("block-off", {"foot": foot, "claw": claw}, lost=lost or None)
    walk = slip.last("mobility")
    if walk is not None and walk["score"] < pad.before.walk.lame:
        # Said in either order, the walk of the day on which it came off counts as little.
        slip = slip.first("block-off", "mobility")
    there = [item for item in slip.on_claw("findings", foot, partner(claw))]
    names = ", ".join(CODES[item["code"]].name for item in there)
    said = [f"The block is off, and {names} is there still."] if there else []
    if not (after or foot in slip.lifted):
        said.append(f"Look at both claws of {foot}: {foot} is not lifted yet.")
    return pad.go(after or pad.top, slip, " ".join(said))
