"""What each code of a finding means, what it asks for, and where that is from."""

from __future__ import annotations

from textual.content import Content

from readiness.rules.model import FindingRule, Rules
from readiness.trade.codes import CODES, SEVERITIES, STAGE_NAMES, STAGES
from readiness.trade.feet import ZONES
from readiness.trade.words import list_words
from readiness.tui.shared.dialogs import Paper
from readiness.tui.shared.looks import QUIET, TEXT, Glyphs

STANDARD = (
    "The codes are those of the ICAR Claw Health Atlas (2015, 2nd edition 2020), an international "
    "standard of recording; what each means is said here in our own words. The zones are numbered "
    "as by the International Lameness Committee (Kuopio 2008; partly from memory), the stages of "
    "digital dermatitis as by Döpfer et al. and Berry et al. 2012."
)
_VALUES = ("look.days.{}", "clear.days.{}", "finding.{}.vet_from", "finding.{}.vet_open")


def codes_paper(rules: Rules, glyphs: Glyphs) -> Paper:
    """Every code, then the zones and the stages."""
    parts: list[tuple[str, str]] = [(f"{STANDARD}\n\n", QUIET)]
    for code, known in CODES.items():
        parts.append((f"{known.name[:1].upper()}{known.name[1:]} ({code})", f"bold {TEXT}"))
        where = {"claw": "on a claw", "skin": "of the skin", "any": "anywhere"}[known.claw]
        parts.append((f", {where}. {known.meaning} {_asks(rules.findings[code])}\n", TEXT))
        parts += [(f"    {glyphs.text(source)}\n", QUIET) for source in _sources(code, rules)]
    zones = "; ".join(f"{number} {words}" for number, words in ZONES.items())
    stages = "; ".join(f"{stage} {STAGE_NAMES[stage]}" for stage in STAGES)
    parts += [("\nZones: ", f"bold {TEXT}"), (f"{zones}.\n", TEXT)]
    parts += [("Stages of DD: ", f"bold {TEXT}"), (f"{stages}.", TEXT)]
    large = rules.limits.stage_m2_from
    parts.append((f" An active one is large from {large} mm.\n", TEXT))
    return Paper("What each code means", Content.assemble(*parts))


def _asks(rule: FindingRule) -> str:
    """Whether it holds him, when to look, from when healed can be believed, when the vet looks."""
    said = [_holds(rule)]
    if rule.looks:
        said.append(f"Look after {list_words(map(str, rule.looks))} days.")
    if rule.clear:
        days = list(dict.fromkeys(rule.clear))
        by_severity = f" ({', '.join(SEVERITIES.values())})" if len(days) > 1 else ""
        said.append(f"Healed can be believed from day {', '.join(map(str, days))}{by_severity}.")
    if rule.vet_from:
        said.append(f"The vet looks where it is {SEVERITIES[rule.vet_from]} or worse.")
    if rule.vet_open:
        said.append(f"The vet looks where it is still open after {rule.vet_open} days.")
    return " ".join(said)


def _holds(rule: FindingRule) -> str:
    if rule.holds_stages:
        return f"Holds him at {list_words(rule.holds_stages)}, or at a stage not known."
    if not rule.holds_from:
        return "Does not hold him."
    start = "" if rule.holds_from == 1 else f" from {SEVERITIES[rule.holds_from]}"
    return f"Holds him{start}."


def _sources(code: str, rules: Rules) -> list[str]:
    """The standing and source of what it asks for, each once."""
    found = [rules.values.get(each.format(code)) for each in _VALUES]
    said = [value.rests_on for value in found if value is not None]
    return list(dict.fromkeys(said))
