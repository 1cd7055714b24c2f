"""A feet entry in words, foot by foot and claw by claw:
"RH outer: sole ulcer, moderate, zone 4; pared, dressed."
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from readiness.trade.codes import CODES, finding_words
from readiness.trade.feet import ACT_DONE, FEET, MEASURES, feet_words, spot_words
from readiness.trade.words import list_words, number_words, sentence

Content = Mapping[str, Any]
_LISTS = ("findings", "healed", "work", "measures")


def feet_sentences(content: Content) -> str:
    """What was seen and done on each spot; the feet on which only the same was done; those with
    nothing to note; those refused."""
    sentences: list[str] = []
    quiet: list[str] = []
    worked: dict[str, list[str]] = {}
    for foot in content["lifted"]:
        claws = _claws(content, foot)
        if _only_worked(content, foot, claws):
            both = ", both claws" if claws == ["both"] else ""
            worked.setdefault(f"{both}: {_done(content, foot, claws[0])}", []).append(foot)
        else:
            sentences += [_spot(content, foot, claw) for claw in claws]
        if not claws:
            quiet.append(foot)
    sentences += [sentence(f"{feet_words(feet)}{done}") for done, feet in worked.items()]
    if quiet:
        sentences.append(sentence(f"{feet_words(quiet)} lifted, nothing to note"))
    if refused := content.get("refused"):
        every = len(refused) == len(FEET)
        sentences.append(
            "No foot could be lifted."
            if every
            else sentence(f"{feet_words(refused)} could not be lifted")
        )
    return " ".join(sentences)


def _claws(content: Content, foot: str) -> list[str | None]:
    """The claws of a foot that something is said of, in the order said."""
    claws = [
        item.get("claw") for key in _LISTS for item in content.get(key, ()) if item["foot"] == foot
    ]
    return list(dict.fromkeys(claws))


def _only_worked(content: Content, foot: str, claws: list[str | None]) -> bool:
    """Whether work on the whole foot, or on both its claws, is all that is said of it."""
    if claws not in ([None], ["both"]):
        return False
    others = (item for key in _LISTS if key != "work" for item in content.get(key, ()))
    return not any(item["foot"] == foot for item in others)


def _spot(content: Content, foot: str, claw: str | None) -> str:
    here = {
        key: [
            item
            for item in content.get(key, ())
            if item["foot"] == foot and item.get("claw") == claw
        ]
        for key in _LISTS
    }
    parts = [_finding(item) for item in here["findings"]]
    parts += [_healed(item) for item in here["healed"]]
    if here["work"]:
        parts.append(_done(content, foot, claw))
    parts += [_measure(item) for item in here["measures"]]
    return sentence(f"{spot_words(foot, claw)}: {'; '.join(parts)}")


def _done(content: Content, foot: str, claw: str | None) -> str:
    """The work on one claw, or on the foot as a whole."""
    return ", ".join(
        ACT_DONE[item["act"]]
        for item in content.get("work", ())
        if item["foot"] == foot and item.get("claw") == claw
    )


def _finding(item: Content) -> str:
    parts = [finding_words(item["code"], item.get("severity"), item.get("stage"))]
    if "zone" in item:
        parts.append(f"zone {item['zone']}")
    if "size_mm" in item:
        parts.append(f"{number_words(item['size_mm'])} mm")
    if "was" in item:
        parts.append(f"called {CODES[item['was']].name} before")
    return ", ".join(parts)


def _healed(item: Content) -> str:
    stable = {None: "", True: ", stable: fit to work though not gone", False: ", not stable"}
    return f"{CODES[item['code']].name} healed{stable[item.get('stable')]}"


def _measure(item: Content) -> str:
    return list_words(
        f"{word} {number_words(item[key])} mm" for key, word in MEASURES.items() if key in item
    )
