"""Reading what was seen and done on feet: "lf o su@4/2 pare wrap", "lh rf ok", "rh refused".

A foot holds until the next one is named, a claw until the next claw or foot is; naming a foot
forgets the claw. Where several feet are named, what follows is said of each of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from typing import Any

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor, ShorthandError
from readiness.shorthand.line import EntrySoFar, LineSoFar
from readiness.trade.codes import CODES, STAGES
from readiness.trade.feet import FEET, HORN_CLAWS, ZONES
from readiness.trade.numbers import as_number

_HEALED_OR_STABLE = lex.word_pattern("healed", "stable")

_PLACES = {
    "refused": "goes right after the foot, in a part of its own, as in rh refused",
    "healed": "goes right after a finding's code, as in o su healed",
    "stable": "goes right after healed, as in o su healed stable",
    "was": "goes after what it is called now, as in o su was sh",
}
"""Words that may stand in one place only, and which."""

_RANGES = {"zone": (min(ZONES), max(ZONES)), "severity": (1, 3)}
_MODIFIERS: dict[str, tuple[re.Pattern[str], Callable[[str], Any]]] = {
    "zone": (lex.ZONE, int),
    "severity": (lex.SEVERITY, int),
    "stage": (lex.STAGE, str.upper),
    "size_mm": (lex.SIZE, as_number),
}
"""What may be said of a finding right after its code, and its value."""

_AFTER_WAS = f"write a finding's code after was: {', '.join(code.lower() for code in CODES)}"


def begins_feet(cursor: Cursor) -> bool:
    """Whether the part names feet."""
    return any(cursor.peek(pattern) for pattern in (lex.FOOT, lex.ALL, lex.REST))


def goes_on_about_feet(cursor: Cursor) -> bool:
    """Whether the part says something of the feet that a part before named."""
    items = (lex.CODE, lex.CLAW, lex.ACT, lex.MEASURE, lex.OK, lex.REFUSED)
    return any(cursor.peek(pattern) for pattern in items)


def read_feet(cursor: Cursor, line: LineSoFar) -> None:
    """One part about feet, into the line's feet entry."""
    if line.feet is None:
        line.feet = line.begin("feet", cursor, lifted=[])
    entry = line.feet
    named = take_feet(cursor, (*entry.fields["lifted"], *entry.fields.get("refused", ())))
    if named == ():
        raise cursor.fail("no foot is left; all four are named before")
    if named:
        line.held, line.claw = named, None
    refused = cursor.take(lex.REFUSED) is not None
    if refused:
        _refuse(cursor, line, entry)
    else:
        _FeetPart(cursor, line, entry).read()
    if (note := cursor.take_quoted()) is not None:
        line.take_note(note, entry)
    if not cursor.done:
        raise cursor.fail_word((), "known after refused") if refused else _stray(cursor)


def _stray(cursor: Cursor) -> ShorthandError:
    """What stands next is no word about feet, or one in the wrong place."""
    word = cursor.next_word().lower()
    if word in _PLACES:
        return cursor.fail(f'"{word}" {_PLACES[word]}')
    if word[:1] in ("@", "/", ":") or word.upper() in STAGES:
        return cursor.fail(f'"{word}" goes right after a finding\'s code, as in su@4/2 or dd:m2')
    return cursor.fail_word(lex.FEET_WORDS, "known about a foot")


def take_feet(cursor: Cursor, before: Collection[str]) -> tuple[str, ...] | None:
    """The feet named next, each once, in the order named; None where none is. The rest are those
    not named ``before``."""
    if cursor.take(lex.ALL):
        return FEET
    if cursor.take(lex.REST):
        return tuple(foot for foot in FEET if foot not in before)
    named: dict[str, None] = {}
    while foot := cursor.take(lex.FOOT):
        named[foot.upper()] = None
    return tuple(named) or None


def _refuse(cursor: Cursor, line: LineSoFar, entry: EntrySoFar) -> None:
    refused = entry.fields.setdefault("refused", [])
    for foot in line.held:
        if foot in entry.fields["lifted"]:
            raise cursor.fail(f"{foot} is said to be lifted too; a foot is one or the other")
        if foot not in refused:
            refused.append(foot)


class _FeetPart:
    """What follows the feet's names in one part."""

    def __init__(self, cursor: Cursor, line: LineSoFar, entry: EntrySoFar) -> None:
        self.cursor = cursor
        self.line = line
        self.entry = entry
        self.claw_just_named = False
        self.measures: dict[str, dict[str, Any]] = {}

    def read(self) -> None:
        """To the end of the part. Raises ``ShorthandError``."""
        any_item = False
        while self._take_item():
            any_item = True
        if self.claw_just_named or not any_item:
            raise self._nothing_said()
        for foot in self.line.held:
            if foot in self.entry.fields.get("refused", ()):
                raise self.cursor.fail(f"{foot} is said to be refused too; it is one or the other")
            if foot not in self.entry.fields["lifted"]:
                self.entry.fields["lifted"].append(foot)

    def _nothing_said(self) -> Exception:
        if self.cursor.done or self.cursor.peek(_HEALED_OR_STABLE):
            return self.cursor.fail(
                "says nothing about the foot; write ok, "
                "or what was found or done, as in o su@4/2 pare"
            )
        return _stray(self.cursor)

    def _take_item(self) -> bool:
        cursor = self.cursor
        if code := cursor.take(lex.CODE):
            self._finding(code.upper())
        elif claw := cursor.take(lex.CLAW):
            self.line.claw = lex.CLAW_WORDS[claw.lower()]
            self.claw_just_named = True
            return True
        elif act := cursor.take(lex.ACT):
            self._add("work", {"act": act.lower()}, self.line.claw)
        elif measure := cursor.take(lex.MEASURE):
            self._measure(measure.lower())
        elif not cursor.take(lex.OK):
            return False
        self.claw_just_named = False
        return True

    def _add(self, key: str, item: dict[str, Any], claw: str | None) -> None:
        for foot in self.line.held:
            place = {"foot": foot} if claw is None else {"foot": foot, "claw": claw}
            self.entry.add(key, place | item, self.cursor.number)

    def _finding(self, code: str) -> None:
        claw = self._claw_for(code)
        modifiers = self._modifiers()
        if not self.cursor.take(lex.HEALED):
            self._add("findings", {"code": code} | modifiers, claw)
            return
        if modifiers:
            raise self.cursor.fail(
                f"{code.lower()} healed takes no zone, severity, stage, size or was; leave them out"
            )
        healed: dict[str, Any] = {"code": code}
        if self.cursor.take(lex.NOT):
            self.cursor.need(lex.STABLE, "write stable after not")
            healed["stable"] = False
        elif self.cursor.take(lex.STABLE):
            healed["stable"] = True
        self._add("healed", healed, claw)

    def _claw_for(self, code: str) -> str:
        """The claw in force, if the code can be there; skin needs no saying."""
        claw = self.line.claw
        fits = CODES[code].claw
        if fits == "skin" and not (self.claw_just_named and claw != "skin"):
            return "skin"
        if claw is None or (fits == "claw" and claw == "skin" and not self.claw_just_named):
            letters = "o, i or b" if fits == "claw" else "o, i, b or s"
            raise self.cursor.fail(f"which claw? write {letters} before {code.lower()}")
        if fits != "any" and (fits == "skin") != (claw == "skin"):
            right = "s (skin)" if fits == "skin" else "o, i or b"
            raise self.cursor.fail(
                f"{code.lower()} ({CODES[code].name}) is not of {claw}; write {right} before it"
            )
        return claw

    def _modifiers(self) -> dict[str, Any]:
        found: dict[str, Any] = {}
        while (modifier := self._modifier()) is not None:
            key, value = modifier
            low, high = _RANGES.get(key, (value, value))
            if not low <= value <= high:
                raise self.cursor.fail(f"{key} {value} is out of range; write {low} to {high}")
            if key in found:
                name = key.removesuffix("_mm")
                raise self.cursor.fail(f"says {name} twice of one finding; say it once")
            found[key] = value
        self._no_stray_mark()
        return found

    def _modifier(self) -> tuple[str, Any] | None:
        for key, (pattern, value_of) in _MODIFIERS.items():
            if text := self.cursor.take(pattern):
                return key, value_of(text)
        if self.cursor.take(lex.WAS):
            return "was", self.cursor.need(lex.CODE, _AFTER_WAS).upper()
        return None

    def _no_stray_mark(self) -> None:
        """A mark (@ / :) with something behind it that they do not take; a size in which a comma
        may part it from a severity."""
        marks = {
            "@": f"@ takes a zone from {min(ZONES)} to {max(ZONES)}",
            "/": "/ takes a severity from 1 to 3",
            ":": f": takes a stage of dd: {', '.join(STAGES)}",
        }
        if both := self.cursor.take(lex.SEVERITY_OR_SIZE):
            one, _, size = both.partition(",")
            raise self.cursor.fail(
                f'"{both}" reads two ways: write {one}.{size}, or /{one} {size} for severity '
                "and size"
            )
        mark = self.cursor.next_word()[:1]
        if mark in marks:
            word = self.cursor.next_word()
            stage = "; a stage follows a colon, as in dd:m2" if word[1:].upper() in STAGES else ""
            raise self.cursor.fail(f'"{word}": {marks[mark]}{stage if mark != ":" else ""}')

    def _measure(self, word: str) -> None:
        claw = self.line.claw
        if claw not in HORN_CLAWS:
            raise self.cursor.fail(f"which claw? write o, i or b before {word}")
        why = f"write millimetres after {word}, as in {word} 92"
        value = as_number(self.cursor.need(lex.NUMBER, why))
        self.cursor.take(lex.MM)
        key = lex.MEASURE_KEYS[word]
        for foot in self.line.held:
            begun = self.measures.get(f"{foot} {claw}")
            if begun is not None and key not in begun:
                begun[key] = value
                continue
            measure = {"foot": foot, "claw": claw, key: value}
            self.measures[f"{foot} {claw}"] = measure
            self.entry.add("measures", measure, self.cursor.number)
