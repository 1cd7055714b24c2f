"""The day of turnout in words: for the text and for the page at the gate."""

from __future__ import annotations

from readiness.cover.turnout import Goer, TurnoutDay, may_go
from readiness.engine.care import cares
from readiness.engine.reasons import NOTED
from readiness.engine.results import Assessment
from readiness.report.cover_headline import headline
from readiness.trade.scales import MOBILITY
from readiness.trade.temper import warned
from readiness.trade.words import Day, day_words, days_words, weekday_words

WALK_AGAIN = (
    "Walk each of them once more on the day, before the gate: what a look on the day shows goes "
    "before all that is written here."
)
NOBODY, ALL_OUT = "Nobody is GO.", "All who are GO are out already."
TOO_EARLY = "Nobody who is GO may go today already."
GOES = "Goes"


def title(day: TurnoutDay) -> str:
    """Which group, where, and how its day lies to the day of the book."""
    cover = day.cover
    where = f" at {cover.farm}" if cover.farm else ""
    return f"Turnout of {cover.group}{where}, {weekday_words(cover.turnout, day.on)}"


def enough(day: TurnoutDay) -> str:
    """Whether those who are ready carry the females."""
    return headline(day.cover)


def nobody(day: TurnoutDay) -> str:
    """Why there is nobody to let out."""
    if any(bull.status == "GO" for bull in day.stays):
        return TOO_EARLY
    return ALL_OUT if any(bull.status == "GO" for bull in day.out) else NOBODY


def early_words(day: TurnoutDay) -> str:
    """How long before turnout that is; nothing on the day and after it."""
    early = day.cover.turnout - day.on
    return f", {days_words(early)} before turnout" if early > 0 else ""


def parts(day: TurnoutDay) -> list[tuple[str, list[tuple[Assessment, str]]]]:
    """(heading, each bull and what is said of him) in the order in which they are read."""
    reserve = [(b, reserve_words(b, day.on)) for b in day.reserve]
    return [
        (GOES, [(each.bull, goer_words(each, day.on)) for each in day.goes]),
        ("Stays", [(bull, stayer_words(bull, day.on)) for bull in day.stays]),
        ("Reserve", reserve),
        ("Out already", [(bull, working_words(bull)) for bull in day.out]),
    ]


def state(bull: Assessment) -> str:
    """The state in which he is shown: reason, checks, go or care."""
    return bull.hold or ("care" if cares(bull) else "go")


def name(bull: Assessment) -> str:
    """By what he is called at the gate, and what to be careful of."""
    return warned(f"{bull.name} {bull.bull}" if bull.name else bull.bull, bull.temper)


def goer_words(goer: Goer, on: Day) -> str:
    """How old his last walk is, and what is said beside his GO."""
    walk = goer.walk
    if walk is None:
        return "; ".join(["never walked", *_but(goer.bull)])
    ago = on - walk.day
    when = "today" if ago == 0 else f"{days_words(ago)} ago"
    scale = MOBILITY[walk.scale].short
    return "; ".join([f"walked {when}, {walk.score} ({scale})", *_but(goer.bull)])


def _but(bull: Assessment) -> list[str]:
    """What is dangerous first."""
    told = sorted(cares(bull), key=lambda said: said.rule != "heifers.safe")
    return [f"but: {said.text}" for said in told]


def stayer_words(bull: Assessment, on: Day) -> str:
    """Why he stays, what is dangerous first, and from when he could go."""
    ready, turnout = bull.earliest_ready, bull.turnout
    why = why_not(bull, on)
    if ready is None:
        return f"{why}; a person must decide"
    when = "today" if ready <= on else f"from {day_words(ready, on)}"
    in_time = turnout is not None and on < turnout and ready <= turnout
    could = "could go with them, ready" if in_time else "could follow"
    return f"{why}; {could} {when}, if every check passes"


def is_held(bull: Assessment) -> str:
    """What goes between his name and why he may not go."""
    return "is" if bull.status == "GO" else "is on HOLD:"


def why_not(bull: Assessment, on: Day) -> str:
    """What holds him; of one who is GO for his turnout, what is too early today."""
    if bull.status == "GO":
        day = "turnout" if bull.turnout is None else day_words(bull.turnout, on)
        early = f" ({bull.chain[-1].text})" if bull.chain else ""
        return f"GO for {day}, too early today{early}"
    told = sorted(bull.reasons, key=lambda reason: reason.rule != "heifers.safe")
    return "; ".join(reason.text for reason in told) if told else _checks(bull)


def reserve_words(bull: Assessment, on: Day) -> str:
    """Whether one in reserve could go in the place of another."""
    if not may_go(bull, on):
        return stayer_words(bull, on)
    return "; ".join(["GO, to replace one who stays", *_but(bull)])


def working_words(bull: Assessment) -> str:
    """How one stands who is out already; on HOLD also what was noted when he was let out."""
    if bull.status == "GO":
        return "working"
    first, *others = bull.reasons
    noted = [why.text for why in others if why.rule == NOTED]
    return f"bring him in: {'; '.join([first.text, *noted])}"


def _checks(bull: Assessment) -> str:
    return f"checks to come: {', '.join(check.text for check in bull.outstanding)}"
