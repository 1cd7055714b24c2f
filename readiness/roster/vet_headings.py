"""What the headings of a vet's sheet mean: plain words of the trade in the spellings people use.

The words are chosen here from everyday English; they follow no program's or society's form.
"""

from __future__ import annotations

VET_SPELLINGS: dict[str, tuple[str, ...]] = {
    "on": (
        "examined on", "date examined", "exam date", "date of exam", "examination date",
        "date of examination", "date", "day", "visit", "visit date",
    ),
    "outcome": (
        "outcome", "vet's word", "vet outcome", "result of examination", "examination result",
        "exam result", "classification", "passed or failed",
    ),
    "again_on": ("again on", "again", "retest on", "retest date", "recheck", "recheck on"),
    "scrotum_cm": (
        "scrotum", "scrotum cm", "scrotal circumference", "scrotal circumference cm", "sc", "sc cm",
        "circumference", "circumference cm", "scrotal circ", "scrotal circ cm", "scrotal cm",
    ),
    "collection": (
        "collection", "collected by", "collection method", "semen by", "how collected",
        "semen collection",
    ),
    "motility_pct": (
        "motility", "progressive motility", "motile",
        "motility per cent",
    ),
    "motility_by": (
        "motility by", "motility method", "how motility was judged", "motility judged by",
    ),
    "morphology": ("morphology", "morphology done", "shape looked at"),
    "normal_pct": (
        "normal", "normal sperm",
        "normal morphology",
    ),
    "libido": ("libido", "libido seen"),
    "examined": ("examined", "parts examined", "parts", "what was examined", "physical"),
    "feet_seen": ("feet", "feet seen", "feet looked at", "feet examined"),
    "stands": ("stands", "stands by it", "vet stands by it"),
    "examiner": ("examiner", "examined by", "vet", "vet's name", "vet name", "veterinary surgeon"),
    "check": ("test", "test name", "which test", "tested for"),
    "result": ("result", "test result"),
    "laboratory": ("laboratory", "lab", "tested by", "laboratory name", "lab name"),
    "reading": (
        "reading", "they wrote", "laboratory wrote", "lab wrote", "laboratory result", "lab result",
    ),
    "sampled_on": (
        "sampled", "sampled on", "sample date", "date of sample", "date sampled", "tested on",
        "date tested", "test date", "date of test", "sample taken",
    ),
    "valid_until": (
        "valid until", "valid to", "validity", "expires", "expires on", "expiry", "expiry date",
        "holds until",
    ),
}  # fmt: skip
"""Field → its headings, beside those of tag, name and note. Case, spaces and punctuation do not
count. ``sampled_on`` is the day of a test, where that is another than ``on``."""

TELLING = ("outcome", "check")
"""A vet's sheet has a column for at least one of these."""

VET_FIELD_WORDS = {
    "on": "day examined",
    "outcome": "the vet's word",
    "again_on": "again on",
    "scrotum_cm": "scrotum",
    "collection": "how semen was got",
    "motility_pct": "motility",
    "motility_by": "how motility was judged",
    "normal_pct": "normal sperm",
    "examined": "parts examined",
    "feet_seen": "feet looked at",
    "stands": "stands by it",
    "examiner": "examined by",
    "check": "test",
    "reading": "what the laboratory wrote",
    "sampled_on": "day of the sample",
    "valid_until": "valid until",
}
"""Fields whose name does not say it to a reader."""
