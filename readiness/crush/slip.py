"""What has been said of the bull in the crush, before it is saved: immutable, and at every step
whole entries.

It holds the very contents that will be written, so that the line of shorthand, the feet on the
screen and the words that read them back are three views of one thing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from readiness.history.finding import claws_of
from readiness.shorthand import Scales, read, words, write
from readiness.shorthand.lexicon import FEET_LISTS
from readiness.trade.feet import ACT_DONE, FEET, claws_overlap, partner, spot_words

Content = Mapping[str, Any]
_FEET = "feet"
WRAPS = ("wrap", "unwrap")


@dataclass(frozen=True, slots=True)
class Slip:
    """``bull``: his tag as written; ``on``: the day of what is said; ``by``: who says it."""

    bull: str
    on: date
    by: str = ""
    contents: tuple[Content, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.contents)

    # ---- its views -----------------------------------------------------------------------------

    def line(self, scales: Scales) -> str:
        """All of it as one line of shorthand."""
        return write(self.contents, scales)

    def said(self) -> list[str]:
        """All of it in words, a sentence or two for each entry."""
        return [words(content) for content in self.contents]

    def read(self, text: str, scales: Scales) -> Slip:
        """The slip that this line says instead. Raises ``ShorthandError``."""
        if not text.strip():
            return replace(self, contents=())
        found = read(text, bull=self.bull, on=self.on, by=self.by or None, scales=scales)
        return replace(self, contents=tuple(found))

    def unsaid_in(self, after: Slip) -> list[str]:
        """What ``after`` says no longer, in words: a score in whose place another one stands, work
        that was taken away."""
        done = after.feet.get("work", ())
        gone = [work for work in self.feet.get("work", ()) if work not in done]
        left = [
            said
            for said in self.contents
            if said["kind"] != _FEET and not any(_says(now, said) for now in after.contents)
        ]
        return [*map(words, left), *(_work_words(work) for work in gone)]

    # ---- entries -------------------------------------------------------------------------------

    def all_of(self, kind: str) -> list[Content]:
        return [content for content in self.contents if content["kind"] == kind]

    def last(self, kind: str) -> Content | None:
        """The last entry of this kind."""
        return next(iter(reversed(self.all_of(kind))), None)

    def say(self, kind: str, said: Mapping[str, Any]) -> Slip:
        """One more entry with just these fields, of which one may be null."""
        return self._with(len(self.contents), {**self._content(kind, {}), **said})

    def put(self, kind: str, **said: Any) -> Slip:
        """The entry of this kind, in place of one said before: a walk scored twice is scored
        anew."""
        at = self._place(kind, len(self.contents))
        return self._with(at, self._content(kind, said))

    def without(self, kind: str, **said: Any) -> Slip:
        """Without the entries of this kind that say this."""
        return replace(
            self, contents=tuple(c for c in self.contents if not _says(c, {"kind": kind, **said}))
        )

    def note(self, text: str) -> Slip:
        """A note on the feet where feet were lifted, else on the last entry. Empty: none."""
        if not self.contents:
            return self
        at = self._place(_FEET, len(self.contents) - 1)
        kept = {key: value for key, value in self.contents[at].items() if key != "note"}
        return self._with(at, {**kept, **({"note": text} if text else {})})

    def anew(self, kind: str, place: Content, **said: Any) -> Slip:
        """An entry of this kind on this place; said twice, the last counts. What is None is not
        said."""
        rest = self.without(kind, **place)
        return rest._with(len(rest.contents), self._content(kind, {**place, **said}))

    def fits(self, foot: str, claw: str) -> bool:
        """Whether a new block on this claw is said."""
        place = {"kind": "block-on", "foot": foot, "claw": claw}
        return any(_says(content, place) for content in self.contents)

    def first(self, kind: str, before: str) -> Slip:
        """The entries of this kind said ahead of the first of kind ``before``."""
        moved = self.all_of(kind)
        rest = [content for content in self.contents if content["kind"] != kind]
        at = next((n for n, each in enumerate(rest) if each["kind"] == before), len(rest))
        return replace(self, contents=(*rest[:at], *moved, *rest[at:]))

    # ---- feet ----------------------------------------------------------------------------------

    @property
    def feet(self) -> Content:
        """What is said of the feet; empty lists where nothing is. A line may say two lifts of one
        day: the last is the one in hand."""
        return self.last(_FEET) or {"lifted": []}

    @property
    def lifted(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(f for said in self.all_of(_FEET) for f in said["lifted"]))

    @property
    def refused(self) -> tuple[str, ...]:
        """The feet that would not lift at all."""
        feet = (foot for said in self.all_of(_FEET) for foot in said.get("refused", ()))
        return tuple(foot for foot in dict.fromkeys(feet) if foot not in self.lifted)

    @property
    def untouched(self) -> tuple[str, ...]:
        """The feet of which nothing has been said."""
        return tuple(foot for foot in FEET if foot not in (*self.lifted, *self.refused))

    def lift(self, *feet: str) -> Slip:
        """These feet were lifted."""
        return self._saying(self._lists(*feet))

    def refuse(self, foot: str) -> Slip:
        """This foot would not lift: what was said of it falls away."""
        lists = self._lists(foot)
        lists["lifted"].remove(foot)
        lists["refused"].append(foot)
        for key in FEET_LISTS:
            lists[key] = [item for item in lists[key] if item["foot"] != foot]
        return self._saying(lists)

    def find(self, foot: str, claw: str, code: str, **more: Any) -> Slip:
        """A finding: with what is said of it already, and ``more`` (None takes a field away)."""
        lists = self._lists(foot)
        made = _renew(lists["findings"], {"foot": foot, "claw": claw, "code": code}, more)
        lists["healed"] = _apart(lists["healed"], made)
        lists["findings"] = _still_so_called(lists["findings"], made)
        return self._saying(lists)

    def finding(self, foot: str, claw: str, code: str) -> Content | None:
        """What is said of this finding, if anything is."""
        place = {"foot": foot, "claw": claw, "code": code}
        return next((f for f in self.feet.get("findings", ()) if _says(f, place)), None)

    def on_claw(self, what: str, foot: str, claw: str) -> list[Content]:
        """What is said of a claw, of it alone or of both; ``what``: findings or healed."""
        said = self.feet.get(what, ())
        return [i for i in said if i["foot"] == foot and claw in claws_of(i["claw"])]

    def heal(self, foot: str, claw: str, code: str, *, stable: bool = False) -> Slip:
        """Seen healed, or ``stable``: fit to work though not gone."""
        lists = self._lists(foot)
        made = {"foot": foot, "claw": claw, "code": code} | ({"stable": True} if stable else {})
        lists["findings"] = _still_so_called(_apart(lists["findings"], made), made)
        lists["healed"] = [*_apart(lists["healed"], made), made]
        return self._saying(lists)

    def work(self, foot: str, claw: str | None, act: str) -> Slip:
        """Work on a claw, or on the foot; said twice, it is taken away again."""
        lists = self._lists(foot)
        made = {"foot": foot, **({"claw": claw} if claw else {}), "act": act}
        if made in lists["work"]:
            lists["work"].remove(made)
        else:
            lists["work"].append(made)
        return self._saying(lists)

    def acts(self, foot: str) -> list[str]:
        """What is done on this foot or a claw of it, as far as it is said."""
        return [work["act"] for work in self.feet.get("work", ()) if work["foot"] == foot]

    def rewrap(self, foot: str, *, on: bool) -> Slip:
        """The wrap of this foot, in one key: where one is ``on`` by the book it comes off, and then
        a new one goes on; else one goes on, or (said already) none."""
        lists = self._lists(foot)
        said = self.acts(foot)
        acts = ["unwrap"] if "wrap" in said or "unwrap" not in said else ["unwrap", "wrap"]
        if not on:
            acts = [] if "wrap" in said else ["wrap"]
        rest = (w for w in lists["work"] if w["foot"] != foot or w["act"] not in WRAPS)
        lists["work"] = [*rest, *({"foot": foot, "act": act} for act in acts)]
        return self._saying(lists)

    def unwraps(self, foot: str, since: int) -> bool:
        """Whether a wrap that is on since this day (an ordinal) comes off by what is said: by a
        lift on a later day, or in so many words."""
        said = {"foot": foot, "act": "unwrap"}
        words = any(_says(w, said) for f in self.all_of(_FEET) for w in f.get("work", ()))
        return words or (foot in self.lifted and since < self.on.toordinal())

    def trim(self, *feet: str) -> Slip:
        """These feet were lifted and trimmed."""
        lists = self._lists(*feet)
        made = [{"foot": foot, "act": "trim"} for foot in feet]
        lists["work"] += [work for work in made if work not in lists["work"]]
        return self._saying(lists)

    def measure(self, foot: str, claw: str, key: str, mm: float) -> Slip:
        """A measure in mm: ``key`` is wall_mm, sole_mm or groove_mm."""
        lists = self._lists(foot)
        _renew(lists["measures"], {"foot": foot, "claw": claw}, {key: mm})
        return self._saying(lists)

    def speaks_of(self, foot: str, claw: str, code: str) -> bool:
        """Whether this finding is listed, as found, healed or under another name."""
        return any(
            item["foot"] == foot
            and claw in claws_of(item["claw"])
            and code in (item["code"], item.get("was"))
            for said in self.all_of(_FEET)
            for item in (*said.get("findings", ()), *said.get("healed", ()))
        )

    # ---- within --------------------------------------------------------------------------------

    def _lists(self, *lifted: str) -> dict[str, list[Any]]:
        """The lists of the feet entry, to be changed; these feet are lifted in it."""
        lists = {key: list(self.feet.get(key, ())) for key in ("lifted", "refused", *FEET_LISTS)}
        lists["lifted"] += [foot for foot in lifted if foot not in lists["lifted"]]
        lists["refused"] = [foot for foot in lists["refused"] if foot not in lifted]
        return lists

    def _saying(self, lists: dict[str, list[Any]]) -> Slip:
        """With these lists in the feet entry; it goes where nothing is left in it."""
        at = self._place(_FEET, len(self.contents))
        old = self.last(_FEET) or self._content(_FEET, {})
        made = {key: value for key, value in old.items() if key not in lists}
        made |= {key: items for key, items in lists.items() if items or key == "lifted"}
        if not made["lifted"] and "refused" not in made:
            return replace(self, contents=(*self.contents[:at], *self.contents[at + 1 :]))
        return self._with(at, made)

    def _place(self, kind: str, otherwise: int) -> int:
        """Where the last entry of this kind stands."""
        places = [at for at, content in enumerate(self.contents) if content["kind"] == kind]
        return places[-1] if places else otherwise

    def _content(self, kind: str, said: Mapping[str, Any]) -> Content:
        common = {"kind": kind, "on": self.on.isoformat(), "bull": self.bull}
        by = {"by": self.by} if self.by else {}
        return {**common, **by, **{k: v for k, v in said.items() if v is not None}}

    def _with(self, at: int, content: Content) -> Slip:
        made = (*self.contents[:at], content, *self.contents[at + 1 :])
        return replace(self, contents=made)


def _work_words(work: Content) -> str:
    return f"{spot_words(work['foot'], work.get('claw'))} {ACT_DONE[work['act']]}."


def _says(item: Content, said: Content) -> bool:
    return all(item.get(key) == value for key, value in said.items())


def _apart(items: Iterable[Content], made: Content) -> list[Content]:
    """The items without what ``made`` replaces; one that is on both claws stays on the other."""
    kept: list[Content] = []
    for item in items:
        same = (item["foot"], item["code"]) == (made["foot"], made["code"])
        if not same or not claws_overlap(item["claw"], made["claw"]):
            kept.append(item)
        elif item["claw"] == "both" and made["claw"] != "both":
            kept.append({**item, "claw": partner(made["claw"])})
    return kept


def _still_so_called(items: Iterable[Content], made: Content) -> list[Content]:
    """The items, none of them called ``made`` before: it is there itself, found or healed."""
    kept: list[Content] = []
    for item in items:
        there = (item["foot"], item.get("was")) == (made["foot"], made["code"])
        again = there and claws_overlap(item["claw"], made["claw"])
        kept.append({k: v for k, v in item.items() if k != "was"} if again else item)
    return kept


def _renew(items: list[Any], place: Content, more: Content) -> Content:
    """The item of this place with ``more`` said of it, put in the place of the one before."""
    before = next((item for item in items if _says(item, place)), place)
    made = {key: value for key, value in {**before, **more}.items() if value is not None}
    if before in items:
        items[items.index(before)] = made
    else:
        items.append(made)
    return made
