"""What may stand next where the line is about feet."""

from __future__ import annotations

from dataclasses import dataclass, field

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor
from readiness.shorthand.feet_parts import take_feet
from readiness.trade.codes import CODES, claw_words
from readiness.trade.feet import FEET, HORN_CLAWS

USUAL = ("su", "wlf", "wla", "sh", "hhe", "dd", "ip", "id")
"""The codes offered first (project choice); the others follow in the order of the lexicon."""

_ACTS_AFTER = ("pare", "dress", "wrap", "trim", "unwrap")
"""The work in the order in which it is done on a finding; an old wrap comes off before any."""

_SELDOM = ("transport", "trouble")
"""The beginnings offered last."""

_CODES = (*USUAL, *(code.lower() for code in CODES if code.lower() not in USUAL))


@dataclass
class FeetLine:
    """What the line has said of feet so far: the feet ``named`` in this entry, those ``held`` (what
    follows is said of them), and the ``claw`` in force."""

    named: list[str] = field(default_factory=list)
    held: tuple[str, ...] = ()
    claw: str | None = None

    def begin_anew(self) -> None:
        """What follows on feet is another entry."""
        self.named, self.held, self.claw = [], (), None

    def beginnings(self) -> list[str]:
        """The words that may begin a part."""
        left = [foot.lower() for foot in FEET if foot not in self.named]
        rest = ["rest"] if self.named and left else []
        heads = [head for head in lex.HEADS if head not in (*_SELDOM, lex.NEW_FEET)] + [*_SELDOM]
        if self.named:
            goes_on = [*self._claws(), *(self._items() if self.held else ())]
            again = [foot.lower() for foot in self.named]
            return [*left, *rest, *heads, *dict.fromkeys((*goes_on, *again)), lex.NEW_FEET]
        return ["all", *left, *heads]

    def take(self, cursor: Cursor) -> list[str]:
        """Over one part about feet; the words that may stand at its end."""
        found: list[str] = []
        if feet := take_feet(cursor, self.named):
            self.held, self.claw = feet, None
            self.named += [foot for foot in feet if foot not in self.named]
            found = self._after_feet()
        if cursor.take(lex.REFUSED):
            return []
        while not cursor.done:
            after = self._item(cursor)
            if after is None:
                return []
            found = after
        return found

    def _claws(self) -> list[str]:
        """The letters of the claws, where a foot is held."""
        return list(lex.CLAW_LETTERS) if self.held else []

    def _items(self) -> list[str]:
        """What may be said where a claw, or none, is in force: the usual codes, work, measures, and
        the other codes."""
        fits = {code: claw_words(code.upper()) for code in _CODES}  # skin needs no saying
        codes = [c for c, claws in fits.items() if claws == ("skin",) or self.claw in claws]
        usual, others = codes[:5], codes[5:]
        measures = lex.MEASURE_KEYS if self.claw in HORN_CLAWS else ()
        return [*usual, *_ACTS_AFTER, *measures, *others]

    def _after_feet(self) -> list[str]:
        held = [foot.lower() for foot in self.held]
        more = [foot.lower() for foot in FEET if foot.lower() not in held]
        return ["ok", *self._claws(), *_ACTS_AFTER, "refused", *more, *self._items()]

    def _more(self, *first: str) -> list[str]:
        return [*first, *self._items(), *self._claws()]

    def _item(self, cursor: Cursor) -> list[str] | None:
        """Over the next item; what may follow it, None where it is none or not whole."""
        if code := cursor.take(lex.CODE):
            return self._finding(cursor, code.lower())
        if claw := cursor.take(lex.CLAW):
            self.claw = lex.CLAW_WORDS[claw.lower()]
            return [word for word in self._items() if self._on_this_claw(word)]
        if act := cursor.take(lex.ACT):
            at = _ACTS_AFTER.index(act.lower())
            return self._more(*_ACTS_AFTER[at + 1 :])
        if cursor.take(lex.MEASURE):
            if cursor.take(lex.NUMBER) is None:
                return [] if cursor.done else None
            cursor.take(lex.MM)
            return [*lex.MEASURE_KEYS, *self._more()]
        return self._more(*_ACTS_AFTER) if cursor.take(lex.OK) else None

    def _on_this_claw(self, word: str) -> bool:
        """Right behind a claw's name only what belongs there can be said."""
        code = word.upper()
        return code not in CODES or self.claw in claw_words(code)

    def _finding(self, cursor: Cursor, code: str) -> list[str] | None:
        plain = True
        while not cursor.done:
            if any(cursor.take(hint) for hint in (lex.ZONE, lex.SEVERITY, lex.STAGE, lex.SIZE)):
                plain = False
            elif cursor.take(lex.WAS):
                if cursor.done:
                    return [other for other in _CODES if other != code]
                if cursor.take(lex.CODE) is None:
                    return None
                plain = False
            else:
                break
        if plain and cursor.take(lex.HEALED):
            return self._healed(cursor)
        if not cursor.done:
            return []
        return self._more(*(("healed",) if plain else ()), "was", *_ACTS_AFTER)

    def _healed(self, cursor: Cursor) -> list[str]:
        negated = cursor.take(lex.NOT) is not None
        if cursor.take(lex.STABLE):
            return self._more()
        return ["stable"] if negated else self._more("stable", "not")
