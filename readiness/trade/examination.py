"""The words of a vet's breeding examination: which parts were examined and how, how semen was got
and judged, what was seen of his libido. What it adds up to is for the vet to say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby
from typing import Any

from readiness.trade.words import list_words

PARTS = {
    "eyes": "eyes",
    "mouth": "mouth",
    "heart": "heart",
    "lungs": "lungs",
    "back": "back",
    "joints": "joints",
    "legs": "legs",
    "sheath": "sheath",
    "penis": "penis",
    "scrotum": "scrotum",
    "testes": "testes",
    "epididymis": "epididymis",
    "cords": "spermatic cords",
    "glands": "accessory glands",
}
"""Part → its name in running text. Feet are said apart: they answer what was asked of the vet."""

WAYS = {
    "seen": "looked at",
    "felt": "felt",
    "rectal": "felt through the rectum",
    "scanned": "scanned",
    "heard": "listened to",
}
"""How a part was examined → in words."""

NO_SAMPLE = "no-sample"
COLLECTED = {
    "electro-ejaculation": "semen by electro-ejaculation",
    "artificial-vagina": "semen with an artificial vagina",
    "massage": "semen by massage through the rectum",
    "after-service": "semen after a service",
    NO_SAMPLE: "no semen could be got",
}
"""How semen was got → in words."""

JUDGED = {
    "gross": "mass motion",
    "individual": "single sperm under the microscope",
    "computer": "computer",
}
"""How motility was judged → in words."""

KEEN, NOT_SEEN = "keen", "not-seen"
LIBIDO = {
    KEEN: "keen",
    "slow": "slow",
    "unwilling": "would not serve",
    NOT_SEEN: "not seen",
}
"""Libido, as the vet saw it → in words."""

CALLED = {
    "outcome": (
        ("satisfactory", ("ok", "passed", "pass")),
        ("deferred", ("again", "retest", "defer")),
        ("unsatisfactory", ("no", "failed", "fail")),
    ),
    "collection": (
        ("electro-ejaculation", ("electro", "ee")),
        ("artificial-vagina", ("av",)),
        ("massage", ("massage",)),
        ("after-service", ("service",)),
        (NO_SAMPLE, ("nosample", "none")),
    ),
    "libido": (
        ("keen", ("keen", "good")),
        ("slow", ("slow",)),
        ("unwilling", ("unwilling",)),
        (NOT_SEEN, ("unseen", "not tested")),
    ),
}
"""Field of a vet's examination → what people call each of its values, the word of a line of
shorthand first. Lines, forms and sheets take them."""


def left_open(exam: Mapping[str, Any]) -> dict[str, str]:
    """What the content of a ``vet-exam`` leaves open even where the vet passes him, in words, by
    its field: no semen, its shape not looked at, a libido that is not keen."""
    found = {}
    if exam.get("collection") == NO_SAMPLE:
        found["collection"] = COLLECTED[NO_SAMPLE]
    if exam.get("morphology") is False:
        found["morphology"] = "the shape of his sperm was not looked at"
    if (libido := exam.get("libido", NOT_SEEN)) not in (KEEN, NOT_SEEN):
        found["libido"] = f"libido: {LIBIDO[libido]}"
    return found


def settled(exam: Mapping[str, Any]) -> set[str]:
    """The fields of which the content of a ``vet-exam`` leaves nothing open: who counted sperm had
    semen, and looked at its shape."""
    counted = {"collection"} if "motility_pct" in exam else set()
    counted |= {"collection", "morphology"} if "normal_pct" in exam else set()
    said = {name for name in ("collection", "morphology") if name in exam}
    said |= {"libido"} if exam.get("libido") == KEEN else set()
    return counted | said - left_open(exam).keys()


def examined_words(examined: Iterable[tuple[str, str]]) -> list[str]:
    """The parts of (part, way) by how they were examined: "looked at eyes and mouth"."""
    return [
        f"{WAYS[way]} {list_words(PARTS[part] for part, _ in same)}"
        for way, same in groupby(examined, key=lambda one: one[1])
    ]
