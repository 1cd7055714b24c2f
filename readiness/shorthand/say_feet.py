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
Here = dict[str, list[Content]]
"""What is said of one claw, or of the foot as a whole, by the list that it stands in."""
_LISTS = ("findings", "healed", "work", "measures")


def feet_sentences(content: Content) -> str:
    """What was seen and done on each spot; the feet on which only the same was done; those with
    nothing to note; those refused."""
    sentences: list[str] = []
    quiet: list[str] = []
    worked: dict[str, list[str]] = {}
    for foot in content["lifted"]:
        spots = _spots(content, foot)
        claws = list(spots)
        if claws in ([None], ["both"]) and list(spots[claws[0]]) == ["work"]:
            both = ", both claws" if claws == ["both"] else ""
            worked.setdefault(f"{both}: {_done(spots[claws[0]])}", []).append(foot)
        else:
            sentences += [_spot(foot, claw, here) for claw, here in spots.items()]
        if not spots:
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


def _spots(content: Content, foot: str) -> dict[str | None, Here]:
    """The claws of a foot that something is said of, in the order said, each with that."""
    spots: dict[str | None, Here] = {}
    for key in _LISTS:
        for item in content.get(key, ()):
            if item["foot"] == foot:
                spots.setdefault(item.get("claw"), {}).setdefault(key, []).append(item)
    return spots


def _spot(foot: str, claw: str | None, here: Here) -> str:
    parts = [_finding(item) for item in here.get("findings", ())]
    parts += [_healed(item) for item in here.get("healed", ())]
    parts += [_done(here)] if "work" in here else []
    parts += [_measure(item) for item in here.get("measures", ())]
    return sentence(f"{spot_words(foot, claw)}: {'; '.join(parts)}")


def _done(here: Here) -> str:
    return ", ".join(ACT_DONE[item["act"]] for item in here["work"])


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
