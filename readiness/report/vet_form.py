"""The vet's form of a bull: his last examination in full, and the last of each test, in words. What
the vet said stands there as he said it, with the figures beside it; nothing is concluded here."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from readiness.engine.bull_checks import least_figure
from readiness.engine.own import holds_until, last_of
from readiness.entries.entry import Entry
from readiness.herd.card import Card
from readiness.system.plain import plain
from readiness.trade.examination import COLLECTED, JUDGED, LIBIDO, examined_words
from readiness.trade.words import Day, day_words, number_words, when_words

Row = tuple[str, str]
"""What it is about, and what was said of it."""

FIGURES = {
    "scrotum_cm": ("scrotum", "cm"),
    "motility_pct": ("motility", "%"),
    "normal_pct": ("normal sperm", "%"),
}


def examination(card: Card, on: Day) -> list[Row]:
    """The last examination, row by row; its last row names what was not written down. None where
    there was none."""
    entry = _entry(card, card.state.exam.entry if card.state.exam else "")
    if entry is None:
        return []
    said = dict(_said(card, entry, on))
    silent = [what for what in ASKED if what not in said]
    rows = [(what, plain(words)) for what, words in said.items()]
    return [*rows, ("not written down", ", ".join(silent))] if silent else rows


ASKED = (
    "examined by", "scrotum", "semen", "motility", "normal sperm", "libido", "parts examined",
    "feet",
)  # fmt: skip
"""What is named where it was not written down."""


def _said(card: Card, entry: Entry, on: Day) -> Iterator[Row]:
    body, exam = entry.body, card.state.exam
    assert exam is not None
    yield "examined", day_words(entry.day, on)
    if "examiner" in body:
        yield "examined by", str(body["examiner"])
    if "by" in body:
        yield "written down by", str(body["by"])
    again = body.get("again_on")
    later = f", again from {day_words(date.fromisoformat(again), on)}" if again else ""
    stands = ", and he stands by it" if body.get("stands") else ""
    yield "the vet's word", f"{body['outcome']}{later}{stands}"
    if "collection" in body:
        yield "semen", COLLECTED[body["collection"]].removeprefix("semen ")
    for name, (what, unit) in FIGURES.items():
        if name in exam.figures:
            day, figure, _ = min(exam.figures[name], key=lambda measured: measured.value)
            least = number_words(least_figure(card.state, name, day))
            taken = "" if day == entry.day else f", measured {day_words(day, on)}"
            how = JUDGED.get(body.get("motility_by", ""), "") if name == "motility_pct" else ""
            words = f"{number_words(figure)} {unit}, least {least}{how and f', {how}'}{taken}"
            yield what, words
    if "motility_by" in body and "motility_pct" not in exam.figures:
        yield "motility", JUDGED[body["motility_by"]]
    if "morphology" in body:
        yield "morphology", "done" if body["morphology"] else "not done"
    if "libido" in body:
        yield "libido", LIBIDO[body["libido"]]
    if "examined" in body:
        parts = examined_words((one["part"], one["how"]) for one in body["examined"])
        yield "parts examined", "; ".join(parts)
    if "feet_seen" in body:
        yield "feet", "looked at" if body["feet_seen"] else "not looked at"
    if "note" in body:
        yield "note", str(body["note"])


def tests(card: Card, on: Day) -> list[Row]:
    """The last of each test and own check: its name with how it went, and below it how long it
    holds, where anybody says so."""
    rules = {own.name.casefold(): own for own in card.rules.checks}
    rows = []
    for name, told in sorted(card.state.checks.items()):
        last = last_of(told)
        entry = _entry(card, last.entry)
        body = entry.body if entry else {"check": name}
        lab, reading = body.get("laboratory", ""), body.get("reading", "")
        what = f"{body['check']}: {'passed' if last.passed else 'failed'} {day_words(last.day, on)}"
        words = ", ".join(filter(None, (what, f"tested by {lab}" if lab else "", reading)))
        until = holds_until(last, rules.get(name)) if last.passed else None
        rows.append((plain(words), _holds(until, on)))
    return rows


def _holds(until: Day | None, on: Day) -> str:
    if until is None:
        return ""
    if until < on:
        return f"out of date: held until {day_words(until, on)}"
    return f"holds until {day_words(until, on)}, {when_words(until, on)}"


def _entry(card: Card, id_: str) -> Entry | None:
    return next((entry for entry in card.entries if entry.id == id_), None)
