"""A whole day in the crush: fifty bulls, seeded, with slips put right by undo. It ends in exactly
the book that was meant."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.build import standing
from tests.crush.yard import BookYard
from tests.tui.estate import FEET, ago, ahead, bull, desk_at

BULLS = 50
SCORES = {"0": 3.0, "2": 3.25, "5": 3.5, "7": 3.75}
CODES = {"su": "SU", "wlf": "WLF", "hhe": "HHE", "ds": "DS"}
CLAWS = {"o": "outer", "i": "inner"}
OTHER = {"outer": "inner", "inner": "outer"}
Said = list[dict[str, Any]]


def herd() -> Iterator[dict[str, Any]]:
    yield {"kind": "group", "on": ago(90), "group": "Heifers", "turnout": ahead(9),
           "farm": "Sallow Fell"}  # fmt: skip
    for number in range(1, BULLS + 1):
        yield from bull(f"{number:05}", f"Bull {number}", "Heifers")


class Day:
    """What is pressed of each bull, and what is meant by it."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)

    def visit(self) -> tuple[list[str], Said]:
        """Keys up to but not with the saving, and the entries that they mean."""
        feet: dict[str, Any] = {"kind": "feet", "lifted": []}
        said: Said = [feet]
        keys: list[str] = []
        for foot in self.random.sample(range(4), self.random.choice([0, 0, 0, 0, 1, 2])):
            keys += self._finding(foot, feet, said)
        keys.append("s")
        feet["lifted"] += [foot for foot in FEET if foot not in feet["lifted"]]
        score = self.random.choice([0, 0, 0, 1, 3])
        walk: dict[str, Any] = {"kind": "mobility", "scale": "gb0-3", "score": score}
        keys += ["w", str(score)]
        if score >= 2:
            limb = self.random.randrange(4)
            keys.append(str(limb + 1))
            walk["limb"] = FEET[limb]
        part = self.random.choice(sorted(SCORES))
        keys += ["c", "3", part]
        score_of = SCORES[part]
        cond = {"kind": "condition", "scale": "five",
                "score": int(score_of) if score_of.is_integer() else score_of}  # fmt: skip
        return keys, [*said, walk, cond]

    def _finding(self, foot: int, feet: dict[str, Any], said: Said) -> list[str]:
        claw = self.random.choice(sorted(CLAWS))
        typed = self.random.choice(sorted(CODES))
        zone = self.random.randint(2, 8)
        name = FEET[foot]
        finding: dict[str, Any] = {"foot": name, "claw": CLAWS[claw], "code": CODES[typed]}
        keys = [str(foot + 1), claw, *typed, str(zone)]
        finding["zone"] = zone
        if severity := self.random.randint(0, 3):
            keys += ["v", str(severity)]
            finding["severity"] = severity
        feet["lifted"].append(name)
        feet.setdefault("findings", []).append(finding)
        for act in self.random.sample(["pare", "dress"], self.random.randint(0, 2)):
            keys.append(act[0])
            feet.setdefault("work", []).append({"foot": name, "claw": CLAWS[claw], "act": act})
        if self.random.random() < 0.3:
            keys.append("b")
            said.append({"kind": "block-on", "foot": name, "claw": OTHER[CLAWS[claw]]})
        return [*keys, "enter"]


@pytest.mark.long
def test_fifty_bulls_with_slips_end_in_exactly_the_book_that_was_meant(tmp_path: Path) -> None:
    day = Day(20260403)
    desk = desk_at(tmp_path / "bulls.duckdb", list(herd()))
    before = {entry.id for entry in desk.book.snapshot().entries}
    yard = BookYard(desk)
    meant: dict[str, Said] = {}
    assert len(yard.session.race.keys) == BULLS
    while (key := yard.session.key) is not None:
        keys, said = day.visit()
        how = day.random.random()
        if how < 0.2:  # saved wrong, noticed, taken back and said right
            assert yard.press("t", "w", "1", "enter").session.key != key
            assert yard.press("u").session.key == key
            yard.press("l", *["backspace"] * 60, "escape")
        elif how < 0.3:  # half entered, another one comes first
            if yard.press(*keys, "n").session.key == key:
                yard.press("enter")
                meant[key] = said
                continue
            assert yard.press("/", *key[-3:], "enter").session.key == key
            keys = []
        elif how < 0.4:  # a key too many, taken back at once
            keys = ["k", "9", "9", "backspace", "backspace", "backspace", *keys]
        yard.press(*keys, "enter")
        meant[key] = said
    yard.drafts.close()
    assert len(meant) == BULLS
    held = found(standing(desk.book), before)
    for key, said in meant.items():
        assert held.pop(key) == ordered(said), key
    assert held == {}


def found(entries: list[Any], before: set[str]) -> dict[str, Said]:
    """What stands in the book of each bull, in the order written."""
    by_bull: dict[str, Said] = {}
    for entry in entries:
        if entry.id not in before:
            body = {k: v for k, v in entry.body.items() if k not in ("on", "bull", "by")}
            by_bull.setdefault(entry.bull, []).append(body)
    return {key: ordered(said) for key, said in by_bull.items()}


def ordered(said: Said) -> Said:
    """The entries of one bull; the lists of a feet entry in the order of feet and claws, since the
    line says them foot by foot."""
    return sorted(
        ({k: _sorted(v) for k, v in entry.items()} for entry in said), key=lambda e: str(e["kind"])
    )


def canonical(item: object) -> str:
    return json.dumps(item, sort_keys=True)


def _sorted(value: Any) -> Any:
    return sorted(value, key=canonical) if isinstance(value, list) else value
