"""What may stand next where the line is about feet."""

from __future__ import annotations

from dataclasses import dataclass, field

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import Cursor
from readiness.shorthand.feet_parts import take_foot_names
from readiness.trade.codes import CODES, claw_words
from readiness.trade.feet import ACTS, FEET, HORN_CLAWS

_ALL = lex.word_pattern("all")
_REST = lex.word_pattern("rest")
_OK = lex.word_pattern("ok")
_REFUSED = lex.word_pattern("refused")
_HEALED = lex.word_pattern("healed")
_STABLE = lex.word_pattern("stable")
_NOT = lex.word_pattern("not")
_WAS = lex.word_pattern("was")
_ACT = lex.word_pattern(*ACTS)
_MEASURE = lex.word_pattern(*lex.MEASURE_KEYS)
_MM = lex.word_pattern("mm")

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
        left = self._left()
        rest = ["rest"] if self.named and left else []
        heads = [head for head in lex.HEADS if head not in (*_SELDOM, lex.NEW_FEET)] + [*_SELDOM]
        if self.named:
            goes_on = [*self.claws(), *(self.items() if self.held else ())]
            again = [foot.lower() for foot in self.named]
            return [*left, *rest, *heads, *dict.fromkeys((*goes_on, *again)), lex.NEW_FEET]
        return ["all", *left, *heads]

    def take(self, cursor: Cursor) -> list[str]:
        """Over one part about feet; the words that may stand at its end."""
        feet = self._take_feet(cursor)
        if feet:
            self.held, self.claw = feet, None
            self.named += [foot for foot in feet if foot not in self.named]
        if cursor.take(_REFUSED):
            return []
        return _FeetEnd(self, cursor).words(just_named=bool(feet))

    def _take_feet(self, cursor: Cursor) -> tuple[str, ...]:
        if cursor.take(_ALL):
            return FEET
        if cursor.take(_REST):
            return tuple(foot for foot in FEET if foot not in self.named)
        return take_foot_names(cursor)

    def _left(self) -> list[str]:
        return [foot.lower() for foot in FEET if foot not in self.named]

    def claws(self) -> list[str]:
        """The letters of the claws, where a foot is held."""
        return list(lex.CLAW_LETTERS) if self.held else []

    def items(self) -> list[str]:
        """What may be said where a claw, or none, is in force: the usual codes, work, measures, and
        the other codes."""
        codes = [code for code in _CODES if self._fits(code.upper())]
        usual, others = codes[:5], codes[5:]
        measures = lex.MEASURE_KEYS if self.claw in HORN_CLAWS else ()
        return [*usual, *_ACTS_AFTER, *measures, *others]

    def _fits(self, code: str) -> bool:
        """Whether the code can be said now; skin needs no saying."""
        claws = claw_words(code)
        return claws == ("skin",) or self.claw in claws


class _FeetEnd:
    """What follows the feet's names, up to the end of the part."""

    def __init__(self, line: FeetLine, cursor: Cursor) -> None:
        self.line = line
        self.cursor = cursor

    def words(self, *, just_named: bool) -> list[str]:
        """What may stand at the end of the part; ``just_named``: it names the feet."""
        found = self._after_feet() if just_named else []
        while not self.cursor.done:
            after = self._item()
            if after is None:
                return []
            found = after
        return found

    def _after_feet(self) -> list[str]:
        held = [foot.lower() for foot in self.line.held]
        more = [foot.lower() for foot in FEET if foot.lower() not in held]
        return ["ok", *self.line.claws(), *_ACTS_AFTER, "refused", *more, *self.line.items()]

    def _more(self, *first: str) -> list[str]:
        return [*first, *self.line.items(), *self.line.claws()]

    def _item(self) -> list[str] | None:
        """Over the next item; what may follow it, None where it is none or not whole."""
        cursor, line = self.cursor, self.line
        if code := cursor.take(lex.CODE):
            return self._finding(code.lower())
        if claw := cursor.take(lex.CLAW):
            line.claw = lex.CLAW_WORDS[claw.lower()]
            return [word for word in line.items() if self._on_this_claw(word)]
        if act := cursor.take(_ACT):
            at = _ACTS_AFTER.index(act.lower())
            return self._more(*_ACTS_AFTER[at + 1 :])
        if cursor.take(_MEASURE):
            if cursor.take(lex.NUMBER) is None:
                return [] if cursor.done else None
            cursor.take(_MM)
            return [*lex.MEASURE_KEYS, *self._more()]
        return self._more(*_ACTS_AFTER) if cursor.take(_OK) else None

    def _on_this_claw(self, word: str) -> bool:
        """Right behind a claw's name only what belongs there can be said."""
        code = word.upper()
        return code not in CODES or self.line.claw in claw_words(code)

    def _finding(self, code: str) -> list[str] | None:
        cursor = self.cursor
        plain = True
        while not cursor.done:
            if any(cursor.take(hint) for hint in (lex.ZONE, lex.SEVERITY, lex.STAGE, lex.SIZE)):
                plain = False
            elif cursor.take(_WAS):
                if cursor.done:
                    return [other for other in _CODES if other != code]
                if cursor.take(lex.CODE) is None:
                    return None
                plain = False
            else:
                break
        if plain and cursor.take(_HEALED):
            return self._healed()
        if not cursor.done:
            return []
        return self._more(*(("healed",) if plain else ()), "was", *_ACTS_AFTER)

    def _healed(self) -> list[str]:
        cursor = self.cursor
        negated = cursor.take(_NOT) is not None
        if cursor.take(_STABLE):
            return self._more()
        return ["stable"] if negated else self._more("stable", "not")
