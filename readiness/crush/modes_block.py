"""Blocks: which claw carries one, and whether it goes on, comes off or was lost."""

from __future__ import annotations

from dataclasses import dataclass

from readiness.crush.answers import FOOT_KEYS, NOWHERE, feet_keys
from readiness.crush.pad import DONE, Key, Mode, Pad
from readiness.history.finding import claws_of
from readiness.trade.codes import CODES
from readiness.trade.feet import spot_words

CLAWS = {"o": "outer", "i": "inner", "1": "outer", "2": "inner"}


def begin_block(pad: Pad) -> Pad:
    """Where one block is on, that one is meant until another foot is named."""
    blocks = pad.standing.blocks
    return pad.go(BlockOn(*blocks[0]) if len(blocks) == 1 else BlockFoot())


def fit(pad: Pad, foot: str, claw: str, after: Mode) -> Pad:
    """A block on this claw; the word of warning where the claw carries a finding."""
    there = [
        found.code
        for found in pad.standing.open
        if (found.foot, found.claw) == (foot, claw)
        and not any(
            item["code"] == found.code and item["foot"] == foot and claw in claws_of(item["claw"])
            for item in pad.slip.feet.get("healed", ())
        )
    ]
    there += [
        item["code"]
        for item in pad.slip.feet.get("findings", ())
        if item["foot"] == foot and claw in claws_of(item["claw"])
    ]
    names = ", ".join(CODES[code].name for code in dict.fromkeys(there))
    warning = f"{spot_words(foot, claw)} carries a finding ({names}): block the sound claw."
    return pad.go(after, pad.slip.block_on(foot, claw), warning if there else "")


@dataclass(frozen=True, slots=True)
class BlockFoot:
    """Which foot the block is on, or goes on."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "Block: which foot?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*feet_keys(), Key("Esc", "none")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in FOOT_KEYS:
            return pad.go(BlockClaw(FOOT_KEYS[key]))
        return pad.done() if key in DONE else None


@dataclass(frozen=True, slots=True)
class BlockClaw:
    """Which claw carries it: the sound one."""

    foot: str

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, ""

    def question(self, pad: Pad) -> str:
        return f"Block {self.foot}: which claw carries it? The sound one."

    def keys(self, pad: Pad) -> list[Key]:
        return [Key("o", "outer"), Key("i", "inner"), Key("Esc", "none")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.done()
        if key not in CLAWS:
            return None
        claw = CLAWS[key]
        if (self.foot, claw) in pad.standing.blocks:
            return pad.go(BlockOn(self.foot, claw))
        return fit(pad, self.foot, claw, pad.top)


@dataclass(frozen=True, slots=True)
class BlockOn:
    """A block that is on: what becomes of it."""

    foot: str
    claw: str

    @property
    def place(self) -> tuple[str, str]:
        return self.foot, self.claw

    def question(self, pad: Pad) -> str:
        return f"The block on {spot_words(self.foot, self.claw)}: and now?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            Key("f", "taken off"),
            Key("l", "lost"),
            Key("n", "a new one fitted"),
            *feet_keys(),
            Key("Esc", "stays on"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.done()
        if key in FOOT_KEYS:
            return pad.go(BlockClaw(FOOT_KEYS[key]))
        if key == "n":
            return fit(pad, self.foot, self.claw, pad.top)
        if key not in ("f", "l"):
            return None
        slip = pad.slip.block_off(self.foot, self.claw, lost=key == "l")
        looked = self.foot in slip.lifted
        said = (
            "" if looked else f"Look at both claws of {self.foot}: {self.foot} is not lifted yet."
        )
        return pad.done(slip, said)
