"""What the Bull screen says in tables and lists: reasons, checks, chain, findings, advice, history,
and the sources of all of it. Pure: a card in, styled text out."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from textual.content import Content

from readiness.engine.care import cares, withdrawals
from readiness.engine.results import Check
from readiness.herd.card import Card
from readiness.report import sentences
from readiness.report.blame import blamed_but_foot
from readiness.report.check_days import days_short, last_words, overdue_first, overdue_words
from readiness.trade.codes import severity_words
from readiness.trade.feet import ZONES, spot_words
from readiness.trade.words import day_words, days_words, near_day_words, plural
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, VERMILLION, YELLOW, Glyphs


def _day(ordinal: int, today: date) -> str:
    return day_words(date.fromordinal(ordinal), today)


def _near(ordinal: int, today: date) -> str:
    return near_day_words(date.fromordinal(ordinal), today)


def _lines(lines: Iterable[Content]) -> Content:
    return Content("\n").join(lines)


def nothing(words: str) -> Content:
    return Content.assemble((words, QUIET))


def reasons(card: Card, on: int, glyphs: Glyphs) -> Content:
    """What holds him today, or what makes his GO one with care; then what was blamed, where the
    foot showed something."""
    bull = card.assessment
    lines = [
        Content.assemble((f"{glyphs.hold} ", VERMILLION), (glyphs.text(why.text), TEXT))
        for why in bull.reasons
    ] or [nothing("Nothing holds him today.")]
    lines += [
        Content.assemble((f"{glyphs.late} ", ORANGE), (glyphs.text(said.text), TEXT))
        for said in (*cares(bull), *withdrawals(bull))
    ]
    lines += [
        Content.assemble((f"{glyphs.dot} ", QUIET), (glyphs.text(said), YELLOW))
        for said in blamed_but_foot(card, on)
    ]
    return _lines(lines)


def advice(card: Card, glyphs: Glyphs) -> Content:
    """What to think about: it never holds."""
    found = card.assessment.advice
    if not found:
        return nothing("None.")
    return _lines(
        Content.assemble((f"{glyphs.dot} ", QUIET), (glyphs.text(why.text), TEXT)) for why in found
    )


# ---- checks ----------------------------------------------------------------------------------


def checks(card: Card, width: int, today: date, glyphs: Glyphs) -> Content:
    """From, by, who, what; and why, where there is room (below it where there is not)."""
    found = overdue_first(card.assessment.outstanding)
    if not found:
        return nothing("Nothing is outstanding.")
    rows = [_Row.of(check, today, glyphs) for check in found]
    widths = [max(len(head), *(len(row[at]) for row in rows)) + 2 for at, head in enumerate(_HEADS)]
    left = sum(widths)
    room = max(width - left, 10)
    heads = "".join(f"{head:<{wide}}" for head, wide in zip(_HEADS, widths, strict=True))
    lines = [Content.assemble((f"{heads}check", f"bold {QUIET}"))]
    for check, row in zip(found, rows, strict=True):
        late = f"bold {ORANGE}" if check.overdue else TEXT
        cells = [
            (f"{said:<{wide}}", style)
            for said, wide, style in zip(row, widths, (TEXT, late, QUIET), strict=True)
        ]
        what, *over = folded(glyphs.text(check.text), room)
        lines.append(Content.assemble(*cells, (what, f"bold {TEXT}")))
        below = [(line, f"bold {TEXT}") for line in over]
        on = today.toordinal()
        said = (overdue_words(check, on), last_words(check, on))
        why = "; ".join(filter(None, (*said, sentences.check_why(check, card.assessment, on))))
        below += [(line, QUIET) for line in folded(glyphs.text(why), room) if why]
        lines += [Content.assemble(" " * left, part) for part in below]
    return _lines(lines)


_HEADS = ("from", "  by", "who")


class _Row(NamedTuple):
    """A check's first columns, under ``_HEADS``."""

    start: str
    by: str
    who: str

    @classmethod
    def of(cls, check: Check, today: date, glyphs: Glyphs) -> _Row:
        if check.overdue and check.due is not None:
            start = _near(check.not_before, today) if check.not_before > today.toordinal() else ""
            return cls(start, f"{glyphs.late} {_day(check.due, today)}", check.who)
        dated = check.has_last_day and not days_short(check)
        by = f"  {_near(check.plan_by, today)}" if dated else ""
        return cls(_near(check.not_before, today), by, check.who)


def folded(words: str, width: int) -> list[str]:
    """The words in lines of at most ``width`` cells; a longer word is cut where it must be."""
    return [line.plain.rstrip() for line in Content(words).wrap(width)]


# ---- the chain -------------------------------------------------------------------------------


def chain(card: Card, on: int, glyphs: Glyphs) -> Content:
    """The steps that decide how early he can be ready, as one line of days."""
    words = sentences.chain(card, on)
    if not words:
        return nothing("No chain: there is no day to reach.")
    words = glyphs.text(words.replace("→", glyphs.arrow))
    return Content.assemble((words, TEXT)).highlight_regex(r"\d+ days?", style=f"bold {SKY}")


# ---- findings and blocks ---------------------------------------------------------------------


def findings(card: Card, today: date, glyphs: Glyphs) -> Content:
    """Open findings, those that hold first; blocks that are on or just off, wraps, and what is fit
    to work though not gone."""
    lines = []
    for found in sorted(card.state.feet.open.values(), key=lambda f: (not f.holds, f.first, f.key)):
        rule = card.rules.findings[found.code]
        how = (
            f"stage {found.stage or 'unknown'}"
            if rule.holds_stages
            else severity_words(found.severity)
        )
        zone = "" if found.zone is None else f", zone {found.zone} ({ZONES[found.zone]})"
        sign, colour = (glyphs.hold, VERMILLION) if found.holds else (glyphs.dot, YELLOW)
        seen = (
            "" if found.looked == found.first else f", last looked at {_day(found.looked, today)}"
        )
        lines.append(
            Content.assemble(
                (f"{sign} ", colour),
                (f"{found.code} {rule.name} {spot_words(found.foot, found.claw)}, {how}", TEXT),
                (f"{zone}; found {_day(found.first, today)}{seen}", QUIET),
            )
        )
    for block in card.state.blocks.values():
        on = today.toordinal() - block.day
        lines.append(
            Content.assemble(
                (f"{glyphs.hold} ", VERMILLION),
                (f"block on {spot_words(block.foot, block.claw)}", TEXT),
                (f", fitted {_day(block.day, today)}, {plural(on, 'day')} ago", QUIET),
            )
        )
    for block in card.state.block_off.values():
        how = "lost" if block.lost else "off"
        words = f"block {spot_words(block.foot, block.claw)} {how} {_day(block.day, today)}"
        lines.append(Content.assemble((f"{glyphs.dot} ", QUIET), (words, QUIET)))
    for wrap in card.state.wraps.values():
        since = plural(today.toordinal() - wrap.day, "day")
        lines.append(
            Content.assemble(
                (f"{glyphs.hold} ", VERMILLION),
                (f"wrap on {wrap.foot}", TEXT),
                (f", put on {_day(wrap.day, today)}, {since} ago", QUIET),
            )
        )
    for (foot, claw, code), day in sorted(card.state.feet.stable.items()):
        name = f"{card.rules.findings[code].name} {spot_words(foot, claw)}"
        words = f"{name}, fit to work though not gone, said on {_day(day, today)}"
        lines.append(Content.assemble((f"{glyphs.dot} ", QUIET), (words, QUIET)))
    return _lines(lines) if lines else nothing("No open findings, no blocks, no wraps.")


# ---- history ---------------------------------------------------------------------------------


def history(card: Card, words: tuple[str, ...], width: int, today: date, glyphs: Glyphs) -> Content:
    """Every entry, newest first; ``words`` says each in a sentence."""
    if not card.entries:
        return nothing("Nothing is written down yet.")
    lines = []
    for entry, said in zip(card.entries, words, strict=True):
        when = f"{_day(entry.day, today):<12}"
        later = " (dated ahead: it does not count yet)" if entry.day > today.toordinal() else ""
        by = entry.body.get("by")
        text = said + later + (f" {by}" if by else "")
        for number, line in enumerate(folded(glyphs.text(text), max(width - len(when), 10))):
            lead = when if number == 0 else " " * len(when)
            lines.append(Content.assemble((lead, QUIET), (line, TEXT)))
    return _lines(lines)


# ---- sources ---------------------------------------------------------------------------------


def sources(card: Card, glyphs: Glyphs) -> Content:
    """Each rule used for him today: for what, its words, value, standing and source."""
    bull, values = card.assessment, card.rules.values
    used: dict[str, list[str]] = {}
    for remark in (*bull.reasons, *bull.advice):
        used.setdefault(remark.rule, []).append(remark.text)
    for check in bull.outstanding:
        used.setdefault(check.rule, []).append(check.text)
    for link in bull.chain:
        step = f"{link.text}, {days_words(link.days)}" if link.days else link.text
        used.setdefault(link.rule, []).append(step)
    lines: list[Content] = []
    for rule, what in used.items():
        value = values.get(rule)
        if rule == "today":
            continue
        lines.append(
            Content.assemble((glyphs.text("; ".join(dict.fromkeys(what))), f"bold {TEXT}"))
        )
        if value is None:
            lines.append(Content.assemble((f"  {glyphs.text(rule)}: the farm's own check", QUIET)))
            continue
        shown = glyphs.text(f"{rule} = {value.value} {value.unit}".rstrip())
        mine = ", this farm's own value" if value.overridden else ""
        lines.append(Content.assemble((f"  {glyphs.text(value.text)} ", TEXT), (shown + mine, SKY)))
        lines.append(Content.assemble((f"  {value.standing}: {glyphs.text(value.source)}", QUIET)))
    return _lines(lines) if lines else nothing("No rule is in play today.")
