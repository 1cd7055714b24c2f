"""An entry in plain words, as it is read back to the person who wrote it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from readiness.shorthand.lexicon import CAUSE_TO_WORD
from readiness.shorthand.say_feet import feet_sentences
from readiness.system.plain import plain
from readiness.trade.body import STATES, part_words
from readiness.trade.feet import spot_words
from readiness.trade.scales import score_words
from readiness.trade.words import day_words, number_words, plural, sentence

Content = Mapping[str, Any]
Saying = str | tuple[str, str]
"""A text with the field's value in place of {}; of a flag the words for yes and for no."""

_DAYS = ("born", "arrived", "turnout", "again_on", "withdrawal_until")


def words(content: Content) -> str:
    """One or more plain sentences for any kind of entry, its note at the end."""
    head, fields = _SAYINGS[content["kind"]]
    head = head.format_map(content) if isinstance(head, str) else head(content)
    more = (_said(content, key, saying) for key, saying in fields.items() if key in content)
    text = plain(_listed(head, more))
    note = content.get("note")
    return f"{text} Note: {plain(note)}" if note else text


def _listed(head: str, more: Iterable[str]) -> str:
    """The sentence "Head: one, two.", or "Head." where nothing more is said."""
    said = ", ".join(text for text in more if text)
    return sentence(f"{head}: {said}" if said else head)


def _said(content: Content, key: str, saying: Saying) -> str:
    value = content[key]
    if isinstance(saying, tuple):
        return saying[0] if value else saying[1]
    if key in _DAYS:
        value = day_words(date.fromisoformat(value), date.fromisoformat(content["on"]))
    return saying.format(value if isinstance(value, str) else number_words(value))


_OF_GROUP = {"weeks": "weeks", "females": "number of females", "class": "cows or heifers"}


def _group(content: Content) -> str:
    weeks, females = content.get("weeks"), content.get("females")
    parts = (
        _said(content, "turnout", "turnout {}"),
        f"for {plural(weeks, 'week')}" if weeks is not None else "",
        plural(females, "female") if females is not None else "",
        content.get("class") or "",
        *(
            f"{word} no longer said"
            for key, word in _OF_GROUP.items()
            if content.get(key, "") is None
        ),
        f"farm {content['farm']}" if "farm" in content else "",
    )
    return _listed(f"Group {content['group']}", parts)


def _join(content: Content) -> str:
    role = f" as {content['role']}" if "role" in content else ""
    group = content["group"]
    return f"{'Out of his group' if group is None else f'Joins {group}'}{role}"


def _block_on(content: Content) -> str:
    return f"Block fitted on {spot_words(content['foot'], content['claw'])}"


def _block_off(content: Content) -> str:
    place = spot_words(content["foot"], content["claw"])
    if content.get("lost"):
        return f"Block lost from {place}"
    return f"Block off {place}{', not lost' if 'lost' in content else ''}"


def _scored(content: Content) -> str:
    name = {"mobility": "walk", "condition": "condition"}[content["kind"]]
    return f"{name} {score_words(content['score'], content['scale'])}"


def _vet_look(content: Content) -> str:
    """An old book may hold looks that say nothing of their outcome."""
    outcome = content.get("outcome", "outcome not said")
    if outcome == "again":
        day = _said(content, "again_on", " on {}") if "again_on" in content else ""
        outcome = f"sees him again{day}"
    return f"Vet looked at {_looked_at(content)}: {outcome}"


def _looked_at(content: Content) -> str:
    about, foot, part = content["about"], content.get("foot"), content.get("part")
    if about == "foot":
        return f"the foot {foot}" if foot else "a foot"
    if about == "body":
        return f"the {part_words(part, content.get('limb'))}" if part else "the body"
    words = {"lame": "lameness", "illness": "illness", "other": "something else"}
    return f"{words[about]} on {foot}" if foot else words[about]


def _body(content: Content) -> str:
    return f"{part_words(content['part'], content.get('limb'))}: {STATES[content['state']]}"


def _check(content: Content) -> str:
    return f"Check {content['check']} {'passed' if content['result'] == 'pass' else 'failed'}"


_MOVED = {"out": "out with the females", "in": "came in", "left": "left"}
_HIRE = {"out": "on hire", "in": "from hire"}


def _moved(content: Content) -> str:
    act, reason = content["act"], content.get("reason")
    why = _HIRE.get(act, reason) if reason == "hired" else reason
    return f"{_MOVED[act]}: {why}" if why else _MOVED[act]


_SAYINGS: dict[str, tuple[str | Callable[[Content], str], dict[str, Saying]]] = {
    "bull": (
        "Bull {bull}",
        {
            "name": "name {}",
            "breed": "{}",
            "born": "born {}",
            "origin": "{}",
            "arrived": "arrived {}",
            "temper": "temper {}",
            "heifer_safe": ("safe on heifers", "not for heifers"),
            "pen": "pen {}",
            "farm": "farm {}",
        },
    ),
    "weight": (lambda content: f"Weight {number_words(content['kg'])} kg", {}),
    "group": (_group, {}),
    "join": (_join, {}),
    "feet": (feet_sentences, {}),
    "block-on": (_block_on, {}),
    "block-off": (_block_off, {}),
    "mobility": (_scored, {"limb": "{}"}),
    "condition": (_scored, {}),
    "vet-exam": (
        "Vet examination {outcome}",
        {
            "again_on": "again from {}",
            "scrotum_cm": "scrotum {} cm",
            "motility_pct": "motile {} %",
            "normal_pct": "normal sperm {} %",
            "feet_seen": ("feet seen", "feet not seen"),
            "stands": ("the vet stands by it", "the vet does not stand by it"),
        },
    ),
    "vet-look": (_vet_look, {}),
    "body": (_body, {}),
    "incident": (
        lambda content: CAUSE_TO_WORD[content["cause"]],
        {
            "lame": ("lame", "not lame"),
            "fever": ("fever", "no fever"),
            "limb": "{}",
            "suspect": "{} suspected",
        },
    ),
    "treatment": (
        "given by {given_by}",
        {
            "product": "{}",
            "reason": "for {}",
            "pain_relief": ("pain relief", "no pain relief"),
            "withdrawal_until": "withdrawal until {}",
        },
    ),
    "check": (_check, {}),
    "moved": (_moved, {}),
    "strike": ("entry {entry} withdrawn", {"why": "{}"}),
}
"""Kind → how its sentence begins, and how each other field is said, in this order."""
