"""The head of the Bull screen: who he is, and one sentence that says how he stands."""

from __future__ import annotations

from datetime import date

from textual.content import Content

from readiness.desk import Card
from readiness.engine.results import Assessment
from readiness.trade.words import day_words, days_words, plural, when_words
from readiness.tui.looks import ORANGE, QUIET, TEXT, Glyphs
from readiness.tui.reading import caution_words

MONTHS = 12


def age_words(born: str, today: date) -> str:
    """His age: "4 years", "14 months"."""
    then = date.fromisoformat(born)
    months = (today.year - then.year) * MONTHS + today.month - then.month - (today.day < then.day)
    if months < 0:
        return ""
    return plural(months, "month") if months < 3 * MONTHS else plural(months // MONTHS, "year")


def person(card: Card, today: date, glyphs: Glyphs) -> Content:
    """His name, then breed, age, weight and temper, then group and turnout: three lines."""
    profile, bull = card.state.profile, card.assessment
    parts = [glyphs.text(profile["breed"])] if profile.get("breed") else []
    if profile.get("born"):
        parts.append(age_words(str(profile["born"]), today))
    if card.state.weight is not None:
        day, kg = card.state.weight
        parts.append(f"{kg:,.0f} kg on {day_words(date.fromordinal(day), today)}")
    name = " ".join(glyphs.text(bull.name or "").upper())
    warned = caution_words(profile.get("temper"))
    return Content("\n").join(
        [
            Content.assemble((name or "no name written down", f"bold {TEXT}" if name else QUIET)),
            Content.assemble(
                (", ".join(part for part in parts if part) or "breed and age unknown", TEXT),
                (f"   {glyphs.late} {warned}" if warned else "", f"bold {ORANGE}"),
            ),
            Content.assemble((place_words(bull, today, glyphs), QUIET)),
        ]
    )


def place_words(bull: Assessment, today: date, glyphs: Glyphs) -> str:
    """Group, whether a reserve, turnout, farm."""
    farm = [glyphs.text(bull.farm)] if bull.farm else []
    if bull.group is None:
        return ", ".join(["in no group", *farm])
    parts = [glyphs.text(bull.group)]
    if bull.role == "reserve":
        parts.append("reserve")
    if bull.turnout is not None:
        turnout = date.fromordinal(bull.turnout)
        parts.append(f"turnout {day_words(turnout, today)}, {when_words(turnout, today)}")
    return ", ".join([*parts, *farm])


def status_line(bull: Assessment, today: date, glyphs: Glyphs) -> Content:
    """Mark and word, then the sentence."""
    mark = glyphs.mark(bull.status, bull.hold)
    why = {"reason": " for a reason", "checks": ", checks to come"}.get(bull.hold or "", "")
    return Content.assemble(
        (f" {mark.sign} {mark.word}{why} ", f"bold reverse {mark.colour}"),
        (f"  {outlook_words(bull, today)}", TEXT),
    )


def outlook_words(bull: Assessment, today: date) -> str:
    """How he stands against turnout, in one sentence that promises nothing."""
    if bull.outlook == "working":
        return "He is out, working."
    if bull.outlook == "vet-decides":
        return "The vet's examination was unsatisfactory: a person decides, no day is given."
    if bull.earliest_ready is None:
        return "No day can be given."
    ready = day_words(date.fromordinal(bull.earliest_ready), today)
    when = "today" if bull.earliest_ready == today.toordinal() else ready
    if bull.turnout is None or bull.slack_days is None:
        return f"Ready {when} if every check passes; he has no turnout."
    turnout = day_words(date.fromordinal(bull.turnout), today)
    if bull.outlook == "ready":
        return f"Nothing is outstanding for {turnout}."
    if bull.slack_days < 0:
        return (
            f"Ready {when} at the earliest, if every check passes: "
            f"{days_words(-bull.slack_days)} after turnout on {turnout}."
        )
    spare = f"{days_words(bull.slack_days)} before turnout on {turnout}"
    tight = " That is tight." if bull.outlook == "tight" else ""
    return f"Ready {when} if every check passes: {spare}.{tight}"
