"""One bull as text: why, what would make him ready, and what is known of him."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from readiness.engine.results import Check, Remark
from readiness.engine.say import early, grade
from readiness.herd.card import Card
from readiness.herd.selection import overdue_first
from readiness.history.finding import Finding
from readiness.report import sentences, vet_form
from readiness.report.blame import blamed_but_foot
from readiness.report.check_days import from_by_words
from readiness.report.look import Look, headed, wrapped
from readiness.report.rows import mark
from readiness.shorthand import words
from readiness.system.plain import plain
from readiness.trade.feet import ZONES, spot_words
from readiness.trade.temper import CAUTION
from readiness.trade.words import Day, day_words, full_day_words

VET = "Every day here holds only if every check passes; the vet decides on all that is the vet's."


LEFT = "He has left: he is on no board, and nothing is asked for."


def bull_text(card: Card, on: Day, look: Look) -> str:
    """Everything about one bull on day ``on``, ``look.width`` columns wide at most."""
    width = look.width - 2
    lines = _head(card, on, width, look)
    exam = vet_form.examination(card, on)
    chain = "" if card.state.gone else sentences.chain(card, on)
    for title, part in (
        ("Why", remarks(card.assessment.reasons)),
        ("Outstanding", _outstanding(card, on)),
        ("Earliest day, step by step", [(chain, "")] if chain else ()),
        ("Open findings", findings(card, on)),
        ("Blocks and wraps", _blocks(card, on)),
        ("The vet's last examination", ((f"{what}: {said}", "") for what, said in exam)),
        ("Tests and checks of your own", vet_form.tests(card, on)),
        ("Blamed, and what the foot showed", ((said, "") for said in blamed_but_foot(card, on))),
        ("Advice (holds nobody)", remarks(card.assessment.advice)),
        ("History, newest first", _history(card, on)),
    ):
        lines += _section(title, part, width, look)
    return "\n".join([*lines, "", *wrapped(VET, width)])


def _head(card: Card, on: Day, width: int, look: Look) -> list[str]:
    bull = card.assessment
    name = f"{bull.bull} {bull.name}" if bull.name else bull.bull
    temper = CAUTION.get(str(card.state.profile.get("temper")))
    caution = look.paint("alert", f"   ! {temper}") if temper else ""
    lines = [
        *headed(name, full_day_words(on), width),
        sentences.person(card, on) + caution,
        sentences.standing_in(card, on),
        "",
    ]
    if card.state.gone:
        return [*lines, LEFT]
    state = mark(bull)
    lines.append(look.paint(state, f"{look.sign(state)} {sentences.STATUS[state]}"))
    for said in sentences.standing(card, on):
        lines += wrapped(said, width)
    return lines


def _section(title: str, part: Iterable[tuple[str, str]], width: int, look: Look) -> list[str]:
    """A title over its lines, each with what stands beneath it further in; nothing for no lines."""
    lines: list[str] = []
    for line, below in part:
        lines += [f"  {cut}" for cut in wrapped(plain(line), width - 2, "  ")]
        lines += [f"      {cut}" for cut in wrapped(plain(below), width - 6)]
    return ["", look.paint("head", title), *lines] if lines else []


def _sourced(said: Remark | Check) -> str:
    """The rule that something rests on, with its standing and source."""
    rule = f"{said.rule}, {said.standing}"
    return f"{rule}: {said.source}" if said.source else rule


def remarks(said: Iterable[Remark]) -> Iterator[tuple[str, str]]:
    """Each in words, and what it rests on."""
    return ((each.text, _sourced(each)) for each in said)


def check_below(check: Check, card: Card, on: Day) -> str:
    """What stands under a check: why it is asked for, and what that rests on."""
    why = sentences.check_why(check, card.assessment, on)
    return f"{why}. {_sourced(check)}" if why else _sourced(check)


def _outstanding(card: Card, on: Day) -> Iterator[tuple[str, str]]:
    for check in overdue_first(card.assessment.outstanding):
        late = "! " if check.overdue else ""
        said = f"{late}{from_by_words(check, on)}, {check.who}: {check.text}"
        yield said, check_below(check, card, on)


def in_words(card: Card) -> Iterator[tuple[Finding, str, str, str, str]]:
    """The open findings, those that hold first; of each its name, its place, how bad it is, and
    ", zone 4 (where that is)", empty where no zone was said."""
    for finding in sorted(
        card.state.feet.open.values(), key=lambda f: (not f.holds, f.first, f.key)
    ):
        rule = card.rules.findings[finding.code]
        how = grade(finding.severity, finding.stage, bool(rule.holds_stages))
        zone = "" if finding.zone is None else f", zone {finding.zone} ({ZONES[finding.zone]})"
        yield finding, rule.name, spot_words(finding.foot, finding.claw), how, zone


def findings(card: Card, on: Day) -> Iterator[tuple[str, str]]:
    """The open findings, then what is fit to work though not gone: each in words, and since when
    it is known."""
    for finding, name, place, how, zone in in_words(card):
        holds = "holds him" if finding.holds else "does not hold him"
        first, looked = day_words(finding.first, on), day_words(finding.looked, on)
        since = f"first found {first}, last looked at {looked}"
        staged = bool(card.rules.findings[finding.code].holds_stages)
        told = (since, early(finding, staged, on))
        yield f"{place}: {name}, {how}{zone}; {holds}", "; ".join(filter(None, told))
    for (foot, claw, code), day in sorted(card.state.feet.stable.items()):
        name = card.rules.findings[code].name
        said = f"said on {day_words(day, on)}"
        yield f"{spot_words(foot, claw)}: {name}, fit to work though not gone", said


def _blocks(card: Card, on: Day) -> Iterator[tuple[str, str]]:
    for block in card.state.blocks.values():
        fitted = day_words(block.day, on)
        yield f"{spot_words(block.foot, block.claw)}: on since {fitted}", ""
    for block in card.state.block_off.values():
        how = "lost" if block.lost else "off"
        yield f"{spot_words(block.foot, block.claw)}: {how} {day_words(block.day, on)}", ""
    for wrap in card.state.wraps.values():
        yield f"{wrap.foot}: wrapped since {day_words(wrap.day, on)}", ""


def _history(card: Card, on: Day) -> Iterator[tuple[str, str]]:
    for entry in card.entries:
        by = f"by {entry.body['by']}, " if "by" in entry.body else ""
        when = day_words(entry.day, on)
        yield f"{when}  {words(entry.body)}", f"{by}entry {entry.id}"
