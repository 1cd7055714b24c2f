"""An entry in plain words, as it is read back to the person who wrote it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from readiness.shorthand.say_feet import feet_sentences
from readiness.system.plain import plain
from readiness.trade.body import STATES, part_words
from readiness.trade.feet import spot_words
from readiness.trade.scales import score_words
from readiness.trade.words import day_words, number_words, plural, sentence

Content = Mapping[str, Any]


def words(content: Content) -> str:
    """One or more plain sentences for any kind of entry, its note at the end."""
    text = plain(_SAYINGS[content["kind"]](content))
    note = content.get("note")
    return f"{text} Note: {plain(note)}" if note else text


def _day(content: Content, key: str) -> str:
    return day_words(date.fromisoformat(content[key]), date.fromisoformat(content["on"]))


def _head(head: str, *parts: str | None) -> str:
    """The sentence "Head: one, two.", or "Head." where nothing more is said."""
    more = ", ".join(text for text in parts if text)
    return sentence(f"{head}: {more}" if more else head)


def _said(content: Content, key: str, text: str) -> str | None:
    """The text with the key's value in place of {}, where the key is there."""
    return text.format(content[key]) if key in content else None


def _flag(content: Content, key: str, word: str, negated: str) -> str | None:
    value = content.get(key)
    return None if value is None else word if value else negated


def _number(content: Content, key: str, text: str) -> str | None:
    return text.format(number_words(content[key])) if key in content else None


def _bull(content: Content) -> str:
    return _head(
        f"Bull {content['bull']}",
        _said(content, "name", "name {}"),
        _said(content, "breed", "{}"),
        f"born {_day(content, 'born')}" if "born" in content else None,
        _said(content, "origin", "{}"),
        f"arrived {_day(content, 'arrived')}" if "arrived" in content else None,
        _said(content, "temper", "temper {}"),
        _flag(content, "heifer_safe", "safe on heifers", "not for heifers"),
        _said(content, "pen", "pen {}"),
        _said(content, "farm", "farm {}"),
    )


_OF_GROUP = {"weeks": "weeks", "females": "number of females", "class": "cows or heifers"}


def _weight(content: Content) -> str:
    return f"Weight {number_words(content['kg'])} kg."


def _group(content: Content) -> str:
    weeks, females = content.get("weeks"), content.get("females")
    return _head(
        f"Group {content['group']}",
        f"turnout {_day(content, 'turnout')}",
        f"for {plural(weeks, 'week')}" if weeks is not None else None,
        plural(females, "female") if females is not None else None,
        content.get("class"),
        *(f"{word} no longer said" for key, word in _OF_GROUP.items() if _taken_away(content, key)),
        _said(content, "farm", "farm {}"),
    )


def _taken_away(content: Content, key: str) -> bool:
    return key in content and content[key] is None


def _join(content: Content) -> str:
    role = _said(content, "role", " as {}") or ""
    if content["group"] is None:
        return f"Out of his group{role}."
    return sentence(f"Joins {content['group']}{role}")


def _block_on(content: Content) -> str:
    return f"Block fitted on {spot_words(content['foot'], content['claw'])}."


def _block_off(content: Content) -> str:
    place = spot_words(content["foot"], content["claw"])
    if content.get("lost"):
        return f"Block lost from {place}."
    return f"Block off {place}{', not lost' if 'lost' in content else ''}."


def _mobility(content: Content) -> str:
    scored = score_words(content["score"], content["scale"])
    return _head(f"walk {scored}", content.get("limb"))


def _condition(content: Content) -> str:
    return f"Condition {score_words(content['score'], content['scale'])}."


def _vet_exam(content: Content) -> str:
    return _head(
        f"Vet examination {content['outcome']}",
        f"again from {_day(content, 'again_on')}" if "again_on" in content else None,
        _number(content, "scrotum_cm", "scrotum {} cm"),
        _number(content, "motility_pct", "motile {} %"),
        _number(content, "normal_pct", "normal sperm {} %"),
        _flag(content, "feet_seen", "feet seen", "feet not seen"),
        _flag(content, "stands", "the vet stands by it", "the vet does not stand by it"),
    )


def _vet_look(content: Content) -> str:
    """An old book may hold looks that say nothing of their outcome."""
    outcome = content.get("outcome", "outcome not said")
    if outcome == "again":
        day = f" on {_day(content, 'again_on')}" if "again_on" in content else ""
        outcome = f"sees him again{day}"
    return _head(f"Vet looked at {_looked_at(content)}", outcome)


def _looked_at(content: Content) -> str:
    about, foot, part = content["about"], content.get("foot"), content.get("part")
    if about == "foot":
        return f"the foot {foot}" if foot else "a foot"
    if about == "body":
        return f"the {part_words(part, content.get('limb'))}" if part else "the body"
    words = {"lame": "lameness", "illness": "illness", "other": "something else"}
    return f"{words[about]} on {foot}" if foot else words[about]


def _body(content: Content) -> str:
    return _head(part_words(content["part"], content.get("limb")), STATES[content["state"]])


def _incident(content: Content) -> str:
    causes = {
        "fight": "fight",
        "fall": "fall",
        "transport": "transport",
        "illness": "ill",
        "other": "trouble",
    }
    return _head(
        causes[content["cause"]],
        _flag(content, "lame", "lame", "not lame"),
        _flag(content, "fever", "fever", "no fever"),
        content.get("limb"),
        _said(content, "suspect", "{} suspected"),
    )


def _treatment(content: Content) -> str:
    return _head(
        f"given by {content['given_by']}",
        content["product"],
        _said(content, "reason", "for {}"),
        _flag(content, "pain_relief", "pain relief", "no pain relief"),
        f"withdrawal until {_day(content, 'withdrawal_until')}"
        if "withdrawal_until" in content
        else None,
    )


def _check(content: Content) -> str:
    return f"Check {content['check']} {'passed' if content['result'] == 'pass' else 'failed'}."


_HIRE = {"out": "on hire", "in": "from hire"}


def _moved(content: Content) -> str:
    head = {"out": "out with the females", "in": "came in", "left": "left"}[content["act"]]
    reason = content.get("reason")
    return _head(head, _HIRE.get(content["act"], reason) if reason == "hired" else reason)


def _strike(content: Content) -> str:
    return _head(f"entry {content['entry']} withdrawn", content.get("why"))


_SAYINGS: dict[str, Callable[[Content], str]] = {
    "bull": _bull,
    "weight": _weight,
    "group": _group,
    "join": _join,
    "feet": feet_sentences,
    "block-on": _block_on,
    "block-off": _block_off,
    "mobility": _mobility,
    "condition": _condition,
    "vet-exam": _vet_exam,
    "vet-look": _vet_look,
    "body": _body,
    "incident": _incident,
    "treatment": _treatment,
    "check": _check,
    "moved": _moved,
    "strike": _strike,
}
