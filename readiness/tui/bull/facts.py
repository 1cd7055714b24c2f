"""The head of the Bull screen, and what it says in tables and lists: reasons, checks, chain,
findings, advice, history, and the sources of all of it. Pure: a card in, styled text out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from textual.content import Content

from readiness.engine.care import cares, withdrawals
from readiness.engine.results import Check, Link
from readiness.herd.card import Card
from readiness.herd.selection import overdue_first
from readiness.report import sentences, vet_form
from readiness.report.blame import blamed_but_foot
from readiness.report.bull_text import in_words
from readiness.report.check_days import days_short, last_words, overdue_words
from readiness.report.rows import mark
from readiness.report.rules_text import value_words
from readiness.trade.feet import spot_words
from readiness.trade.temper import CAUTION
from readiness.trade.words import Day, day_words, days_words, near_day_words
from readiness.tui.shared.looks import ORANGE, QUIET, ROLES, SKY, TEXT, VERMILLION, YELLOW, Glyphs


def person(card: Card, on: int, glyphs: Glyphs) -> Content:
    """His name, then breed, age, weight and temper, then group and turnout: three lines."""
    name = " ".join(glyphs.text(card.assessment.name or "").upper())
    temper = CAUTION.get(str(card.state.profile.get("temper")))
    lines = [
        Content.assemble((name or "no name written down", f"bold {TEXT}" if name else QUIET)),
        Content.assemble(
            (glyphs.text(sentences.person(card, on)), TEXT),
            (f"   {glyphs.late} {temper}" if temper else "", f"bold {ORANGE}"),
        ),
        Content.assemble((glyphs.text(sentences.standing_in(card, on)), QUIET)),
    ]
    return Content("\n").join(lines)


def status_line(card: Card, on: int, glyphs: Glyphs) -> Content:
    """Mark and word, then the sentence."""
    bull = card.assessment
    if card.state.gone:
        return Content.assemble((" He has left: nothing is asked for.", TEXT))
    state = mark(bull)
    said = " ".join([sentences.outlook(bull, on), *sentences.withdrawal_lines(bull)])
    return Content.assemble(
        (f" {glyphs.sign(state)} {sentences.STATUS[state]} ", f"bold reverse {ROLES[state]}"),
        (f"  {glyphs.text(said)}", TEXT),
    )


def _lines(lines: Iterable[Content], none: str) -> Content:
    """The lines under one another; ``none``: what to say where there is none."""
    return Content("\n").join(list(lines) or [Content.styled(none, QUIET)])


def _marked(sign: str, colour: str, said: str, more: str = "", style: str = TEXT) -> Content:
    return Content.assemble((f"{sign} ", colour), (said, style), (more, QUIET))


def reasons(card: Card, on: Day, glyphs: Glyphs) -> Content:
    """What holds him today, or what his GO rests on and what makes it one with care; then what was
    blamed, where the foot showed something."""
    bull = card.assessment
    aside = (*cares(bull), *withdrawals(bull))
    rests = glyphs.text(sentences.rests_on(card, on))
    lines = [
        *(_marked(glyphs.hold, VERMILLION, glyphs.text(why.text)) for why in bull.reasons),
        *([] if bull.reasons else [Content.styled("Nothing holds him today.", QUIET)]),
        *([Content.styled(rests, TEXT)] if rests else []),
        *(_marked(glyphs.late, ORANGE, glyphs.text(said.text)) for said in aside),
    ]
    for said in blamed_but_foot(card, on):
        lines.append(_marked(glyphs.dot, QUIET, glyphs.text(said), style=YELLOW))
    return _lines(lines, "")


def advice(card: Card, glyphs: Glyphs) -> Content:
    """What to think about: it never holds."""
    said = (glyphs.text(why.text) for why in card.assessment.advice)
    return _lines((_marked(glyphs.dot, QUIET, each) for each in said), "None.")


# ---- checks ----------------------------------------------------------------------------------

_HEADS = ("from", "  by", "who")


def checks(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    """From, by, who, what; and why, where there is room (below it where there is not)."""
    found = overdue_first(card.assessment.outstanding)
    rows = [_first_columns(check, on, glyphs) for check in found]
    widths = [max(len(row[at]) for row in [_HEADS, *rows]) + 2 for at in range(len(_HEADS))]
    left = sum(widths)
    room = max(width - left, 10)
    heads = "".join(f"{head:<{wide}}" for head, wide in zip(_HEADS, widths, strict=True))
    lines = [Content.styled(f"{heads}check", f"bold {QUIET}")] if found else []
    for check, row in zip(found, rows, strict=True):
        styles = (TEXT, f"bold {ORANGE}" if check.overdue else TEXT, QUIET)
        cells = [(f"{said:<{w}}", s) for said, w, s in zip(row, widths, styles, strict=True)]
        first, *below = _what_and_why(check, card, on, room, glyphs)
        lines.append(Content.assemble(*cells, first))
        lines += [Content.assemble(" " * left, part) for part in below]
    return _lines(lines, "Nothing is outstanding.")


def _first_columns(check: Check, on: Day, glyphs: Glyphs) -> tuple[str, str, str]:
    """What stands under ``_HEADS``."""
    start = near_day_words(check.not_before, on)
    if check.overdue and check.due is not None:
        late = f"{glyphs.late} {day_words(check.due, on)}"
        return start if check.not_before > on else "", late, check.who
    dated = check.has_last_day and not days_short(check)
    return start, f"  {near_day_words(check.plan_by, on)}" if dated else "", check.who


def _what_and_why(
    check: Check, card: Card, on: Day, room: int, glyphs: Glyphs
) -> list[tuple[str, str]]:
    said = (overdue_words(check, on), last_words(check, on))
    why = "; ".join(filter(None, (*said, sentences.check_why(check, card.assessment, on))))
    return [
        *((line, f"bold {TEXT}") for line in folded(glyphs.text(check.text), room)),
        *((line, QUIET) for line in folded(glyphs.text(why), room) if why),
    ]


def folded(words: str, width: int) -> list[str]:
    """The words in lines of at most ``width`` cells; a longer word is cut where it must be."""
    return [line.plain.rstrip() for line in Content(words).wrap(width)]


# ---- the chain -------------------------------------------------------------------------------


def chain(card: Card, on: Day, glyphs: Glyphs) -> Content:
    """The steps that decide how early he can be ready, as one line of days."""
    words = glyphs.text(sentences.chain(card, on).replace("→", glyphs.arrow))
    if not words:
        return _lines((), "No steps: there is no day to reach.")
    return Content.styled(words, TEXT).highlight_regex(r"\d+ days?", style=f"bold {SKY}")


# ---- findings and blocks ---------------------------------------------------------------------


def findings(card: Card, on: Day, glyphs: Glyphs) -> Content:
    """Open findings, those that hold first; blocks that are on or just off, wraps, and what is fit
    to work though not gone."""
    none = "No open findings, no blocks, no wraps."
    return _lines((*_open(card, on, glyphs), *_blocks(card, on, glyphs)), none)


def _open(card: Card, on: Day, glyphs: Glyphs) -> Iterator[Content]:
    for found, name, place, how, zone in in_words(card):
        sign, colour = (glyphs.hold, VERMILLION) if found.holds else (glyphs.dot, YELLOW)
        seen = f"; found {day_words(found.first, on)}"
        if found.looked != found.first:
            seen += f", last looked at {day_words(found.looked, on)}"
        yield _marked(sign, colour, f"{found.code} {name} {place}, {how}", f"{zone}{seen}")


def _blocks(card: Card, on: Day, glyphs: Glyphs) -> Iterator[Content]:
    state = card.state
    for block in state.blocks.values():
        ago = f", fitted {day_words(block.day, on)}, {days_words(on - block.day)} ago"
        place = spot_words(block.foot, block.claw)
        yield _marked(glyphs.hold, VERMILLION, f"block on {place}", ago)
    for block in state.block_off.values():
        yield _marked(glyphs.dot, QUIET, sentences.block_off_words(block, on), style=QUIET)
    for wrap in state.wraps.values():
        ago = f", put on {day_words(wrap.day, on)}, {days_words(on - wrap.day)} ago"
        yield _marked(glyphs.hold, VERMILLION, f"wrap on {wrap.foot}", ago)
    for (foot, claw, code), day in sorted(state.feet.stable.items()):
        name = f"{card.rules.findings[code].name} {spot_words(foot, claw)}"
        words = f"{name}, fit to work though not gone, said on {day_words(day, on)}"
        yield _marked(glyphs.dot, QUIET, words, style=QUIET)


# ---- the vet ---------------------------------------------------------------------------------


def vet(card: Card, width: int, on: Day, glyphs: Glyphs) -> Content:
    """His last examination row by row, then the last of each test, and until when it holds."""
    exam = [(glyphs.text(what), glyphs.text(said)) for what, said in vet_form.examination(card, on)]
    left = max((len(what) for what, _ in exam), default=0) + 2
    lines = []
    for what, said in exam:
        for at, line in enumerate(folded(said, max(width - left, 10))):
            lead = " " * left if at else f"{what:<{left}}"
            lines.append(Content.assemble((lead, QUIET), (line, TEXT)))
    for said, holds in vet_form.tests(card, on):
        more = glyphs.text(f"; {holds}" if holds else "")
        lines.append(_marked(glyphs.dot, QUIET, glyphs.text(said), more))
    return _lines(lines, "No examination and no test is written down yet.")


# ---- history ---------------------------------------------------------------------------------


def history(card: Card, words: tuple[str, ...], width: int, on: Day, glyphs: Glyphs) -> Content:
    """Every entry, newest first; ``words`` says each in a sentence."""
    lines = []
    for entry, said in zip(card.entries, words, strict=True):
        when = f"{day_words(entry.day, on):<12}"
        later = " (dated ahead: it does not count yet)" if entry.day > on else ""
        by = f" {entry.body['by']}" if entry.body.get("by") else ""
        text = glyphs.text(f"{said}{later}{by}")
        for at, line in enumerate(folded(text, max(width - len(when), 10))):
            lead = " " * len(when) if at else when
            lines.append(Content.assemble((lead, QUIET), (line, TEXT)))
    return _lines(lines, "Nothing is written down yet.")


# ---- sources ---------------------------------------------------------------------------------


def sources(card: Card, on: Day, glyphs: Glyphs) -> Content:
    """Each rule used for him today: for what, its words, value, standing and source; of a GO those
    by which what it rests on counts."""
    bull = card.assessment
    used: dict[str, list[str]] = {}
    said = [(each.rule, each.text) for each in (*bull.reasons, *bull.advice)]
    said += [(check.rule, check.text) for check in bull.outstanding]
    said += [(step.rule, _step(step)) for step in bull.chain]
    said += [(rule, words) for words, rules in sentences.resting(card, on) for rule in rules]
    for rule, text in said:
        used.setdefault(rule, []).append(text)
    used.pop("today", None)
    lines = (line for rule, what in used.items() for line in _rule(rule, what, card, glyphs))
    return _lines(lines, "No rule is in play today.")


def _step(link: Link) -> str:
    return f"{link.text}, {days_words(link.days)}" if link.days else link.text


def _rule(rule: str, what: Iterable[str], card: Card, glyphs: Glyphs) -> Iterator[Content]:
    yield Content.styled(glyphs.text("; ".join(dict.fromkeys(what))), f"bold {TEXT}")
    value = card.rules.values.get(rule)
    if value is None:
        yield Content.styled(f"  {glyphs.text(rule)}: the farm's own check", QUIET)
        return
    shown = glyphs.text(f"{rule} = {value_words(value)}")
    mine = ", this farm's own value" if value.overridden else ""
    yield Content.assemble((f"  {glyphs.text(value.text)} ", TEXT), (shown + mine, SKY))
    yield Content.styled(f"  {glyphs.text(value.rests_on)}", QUIET)
