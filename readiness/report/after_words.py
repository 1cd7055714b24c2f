"""After the season, in words: who is out still, who should rest, be fed, or see the vet. Nothing
of it holds or clears a bull."""

from __future__ import annotations

from collections.abc import Callable

from readiness.cover.after import AfterSeason, Loss
from readiness.cover.season import CALVES
from readiness.cover.whole import Cover
from readiness.trade.words import Day, day_words, days_words, list_words, number_words

TITLE = "After the season"
STILL_OUT = "still out"
INFORMS = "To know: it holds and clears nobody."


def facts(cover: Cover) -> list[tuple[str, str]]:
    """(of what, whose and why), in the order in which they are read; none of nobody."""
    after, on = cover.after, cover.on
    told: list[tuple[str, Callable[[AfterSeason, Day], str]]] = [
        ("rest", _rest), ("feed and rest", _lost), ("examine", _trouble), ("exam due", _exam),
    ]  # fmt: skip
    said = [(what, [words for each in after if (words := say(each, on))]) for what, say in told]
    first = [(STILL_OUT, _still_out(cover))] if cover.strays else []
    first += [("calves due", calves)] if (calves := _calves(cover)) else []
    found = [*first, *((what, "; ".join(lines)) for what, lines in said if lines)]
    return [*found, ("", INFORMS)] if found else []


def _still_out(cover: Cover) -> str:
    """Who is out still, and why he should not be: that season is over, or there is none."""
    ended = {each.bull.key: each.last_day for each in cover.after if each.back is None}
    why: dict[str, list[str]] = {}
    for bull in cover.strays:
        last = ended.get(bull.key)
        over = None if last is None else f"the season was over on {day_words(last, cover.on)}"
        said = over or "no season of their group is under way"
        why.setdefault(said, []).append(bull.name or bull.bull)
    return "; ".join(f"{', '.join(names)}: {said}" for said, names in why.items())


def _calves(cover: Cover) -> str:
    """Of each group whose season is over, from when to when its calves are due."""
    under_way = {(of.farm, of.group, of.first_calf) for of in cover.groups}
    return "; ".join(
        f"{event.group} {day_words(event.first, cover.on)} to {day_words(event.last, cover.on)}"
        for event in cover.events
        if event.what == CALVES and (event.farm, event.group, event.first) not in under_way
    )


def _name(each: AfterSeason) -> str:
    return each.bull.name or each.bull.bull


def _rest(each: AfterSeason, on: Day) -> str:
    """From when to when, and how much is advised; only where the females were synchronised."""
    rest = each.rest
    if rest is None:
        return ""
    came = "is out still" if each.back is None else f"came in {day_words(each.back, on)}"
    again = f"goes out {'now' if rest.again <= on else day_words(rest.again, on)}"
    least = days_words(rest.until - (each.back or on))
    return (
        f"{_name(each)} {came}, {again}: after synchronised females at least {least}, "
        f"to {day_words(rest.until, on)}"
    )


def _lost(each: AfterSeason, on: Day) -> str:
    """What he lost and has not regained, and what to do before he works again."""
    if not each.lost:
        return ""
    again = list_words({"condition": "score", "kg": "weigh"}[loss.what] for loss in each.lost)
    return (
        f"{_name(each)} lost {list_words(_loss(loss, on) for loss in each.lost)}: {again} him again"
    )


def _loss(loss: Loss, on: Day) -> str:
    """ "0.5 of condition (3.5 on 1 May, 3 on 6 Jul)"."""
    figures = (
        f"{number_words(value)} on {day_words(day, on)}" for day, value in (loss.before, loss.now)
    )
    what = "of condition" if loss.what == "condition" else "kg"
    return f"{number_words(round(loss.lost, 2))} {what} ({', '.join(figures)})"


def _trouble(each: AfterSeason, on: Day) -> str:
    if not each.troubles:
        return ""
    what = list_words(f"{t.what} {day_words(t.day, on)}" for t in each.troubles)
    return f"{_name(each)}, {what}, no examination passed since"


def _exam(each: AfterSeason, on: Day) -> str:
    if not each.exam_due or each.troubles:  # said already
        return ""
    if each.last_passed is not None:
        return f"{_name(each)}, last passed {day_words(each.last_passed, on)}"
    if each.exam is None:
        return f"{_name(each)}, never examined"
    return f"{_name(each)}, {each.exam.outcome} {day_words(each.exam.day, on)}"
