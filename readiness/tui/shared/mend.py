"""What was said of his feet, mended by keys on the feet as they are drawn."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date
from functools import partial
from typing import ClassVar, Literal

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Static

from readiness.crush.lift import Item, Lift, Mended
from readiness.crush.modes_finding import FAR_ZONES, TEN
from readiness.crush.pad import CLAW_KEYS, FOOT_KEYS, is_digit
from readiness.entries.validate import validate
from readiness.system.errors import DataError
from readiness.trade.feet import ZONES
from readiness.trade.words import full_day_words
from readiness.tui.shared.keyed import AskCode, AskDay, Keyed
from readiness.tui.shared.lifts import At, drawing, stops
from readiness.tui.shared.looks import painted

ZONE_KEYS = {
    "zone": f"0-{TEN - 1}, or . for {TEN}-{max(ZONES)}",
    "far zone": ", ".join(f"{key} for {zone}" for key, zone in FAR_ZONES.items()),
}
"""What is asked → the keys that answer it."""
LOW = 19
"""Rows without what is read back."""


class Mend(Keyed[Mended | None]):
    """The lifts of one bull, the last one first: which foot, claw, how bad, which day. Returns what
    is said instead; None: left as it is.

    ``began``: what stood there before, where it could not be written.
    """

    TOPIC = "mend"
    KIND = "mend"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "the thing before", show=False),
        Binding("down", "step(1)", "the next thing said", show=False),
        Binding("left", "turn(1)", "the lift before", show=False),
        Binding("right", "turn(-1)", "the next lift", show=False),
        Binding("enter", "save", "say this instead", show=False),
        Binding("backspace", "take_back", "take back the last change", show=False),
    ]
    KEYS = (
        "Enter saves, Esc leaves it.  1-4, arrows choose.  f other foot.  o i j , other claw.  "
        "x claws mixed up.  c code.  z zone.  + - how bad.  d day"
    )

    def __init__(
        self, bull: str, lifts: Sequence[Lift], today: date, began: Mended | None = None
    ) -> None:
        super().__init__(f"Mend what was said of {bull}'s feet")
        self._today = today
        self._lifts = list(lifts)
        self._at = self._lifts.index(began.was) if began else 0
        self._steps: list[Lift] = [self._lifts[self._at]]
        if began:
            self._steps.append(began.now)
        self._here: At = stops(self._now)[0]
        self._asked: Literal["", "foot", "zone", "far zone"] = ""

    @property
    def _now(self) -> Lift:
        return self._steps[-1]

    @property
    def _item(self) -> Item | None:
        spot = self._here[1]
        return self._now.item(spot) if spot is not None else None

    def body(self) -> ComposeResult:
        yield Static(id="when", markup=False)
        with Horizontal(id="feet-drawn"):
            yield Static(id="drawn", markup=False)
            yield Static(id="listed", markup=False)
        yield Static(id="read", markup=False)
        yield Static(id="said", markup=False)

    def on_mount(self) -> None:
        self.say("")
        self._paint()

    def on_resize(self, event: events.Resize) -> None:
        self._paint()

    # ---- keys ----------------------------------------------------------------------------------

    def press(self, key: str) -> bool:
        """Whether it means something."""
        foot, item = self._here[0], self._item
        if self._asked:
            return self._foot_was(key) if self._asked == "foot" else self._zone_was(key)
        self.say("")
        if item is None and (key in CLAW_KEYS or key in "+-cz"):
            item = self._only(("findings",) if key in "+-z" else ("findings", "healed"))
        if key in FOOT_KEYS:
            self._go((FOOT_KEYS[key], None))
        elif key == "f":
            self._asked = "foot"
            what = "This alone" if item else f"All that was said of {foot}"
            self.say(f"{what}: which foot was it? 1 LF, 2 RF, 3 LH, 4 RH")
        elif key == "x":
            self._mend(partial(self._now.other_claws, foot))
        elif key == "c":
            self._ask_code()
        elif key == "z":
            self._ask_zone("zone" if item and item.key == "findings" else "")
        elif key == "d":
            self.app.push_screen(AskDay(self._now.on, self._today), self._dated)
        elif key in CLAW_KEYS or key in "+-":
            self._placed_or_graded(key, item)
        else:
            return False
        return True

    def _placed_or_graded(self, key: str, item: Item | None) -> None:
        if item is None:
            self.refuse("Of which thing? Up and down choose one that was said of the foot.")
        elif key in CLAW_KEYS:
            self._mend(partial(self._now.moved, item, claw=CLAW_KEYS[key]))
        else:
            self._mend(partial(self._now.graded, item, 1 if key == "+" else -1))

    def _only(self, keys: Collection[str]) -> Item | None:
        """Of the foot in the hand as a whole the one thing that stands in these lists, which is
        meant where there is no other: it is chosen."""
        foot = self._here[0]
        found = [item for item in self._now.items() if item.foot == foot and item.key in keys]
        if len(found) != 1:
            return None
        self._go((foot, found[0].spot))
        return found[0]

    def _foot_was(self, key: str) -> bool:
        """Another foot, for what is in the hand; any other key leaves it."""
        self._asked = ""
        to, (foot, item) = FOOT_KEYS.get(key), (self._here[0], self._item)
        if to is None:
            return False
        self.say("")
        if to != foot:
            whole = partial(self._now.other_foot, foot, to)
            swapped = whole()
            swaps = any(at == to for at, _ in stops(self._now))
            change = partial(self._now.moved, item, foot=to) if item else None
            if self._mend(change or whole):
                self._go((to, self._here[1]))
                if swaps and self._now == swapped:
                    self.say(f"{foot}'s goes to {to}, and {to}'s to {foot}. Backspace takes back.")
                elif any(each.foot == foot for each in self._now.items()):
                    self.say(f"This alone; {foot} keeps what else was said of it (f of {foot}).")
                elif any(said.get("limb") == foot for said in self._now.contents):
                    self.say(f"That he is lame {foot} stays said: e on his own screen corrects it.")
        return True

    def _ask_zone(self, asked: Literal["", "zone", "far zone"]) -> None:
        self._asked = asked
        if not asked:
            self.refuse("Of which finding? Up and down choose one.")
        else:
            self.say(f"In which zone was it? {ZONE_KEYS[asked]}")

    def _zone_was(self, key: str) -> bool:
        """Another zone, as in the crush: one digit, or a point and the last of two."""
        asked, self._asked = self._asked, ""
        self.say("")
        if asked == "zone" and key == ".":
            self._ask_zone("far zone")
            return True
        zone = FAR_ZONES.get(key) if asked == "far zone" else int(key) if is_digit(key) else None
        if zone is None or self._item is None:
            return False
        self._mend(partial(self._now.zoned, self._item, zone))
        return True

    def _dated(self, day: date | None) -> None:
        if day is not None:
            self._mend(partial(self._now.dated, day))

    def _ask_code(self) -> None:
        item = self._item
        if item is None or "code" not in item.said:
            self.refuse("Of which finding? Up and down choose one.")
        else:
            self.app.push_screen(AskCode(item.words, str(item.said["claw"])), self._coded)

    def _coded(self, found: tuple[str, str] | None) -> None:
        if found is not None and self._item is not None:
            self._mend(partial(self._now.coded, self._item, *found))

    def _mend(self, change: partial[Lift]) -> bool:
        """Change it, where what comes of that can be said."""
        try:
            now = change()
            for content in now.contents:
                if problems := validate(content)[1]:
                    raise DataError(f"{problems[0].text}.")
        except DataError as problem:
            self.refuse(problem)
            return False
        if now != self._now:
            self._steps.append(now)
        self._paint()
        return True

    def action_step(self, by: int) -> None:
        there = stops(self._now)
        self._go(there[(there.index(self._here) + by) % len(there)])

    def action_turn(self, by: int) -> None:
        """To the lift before or after; not away from what is not saved. Where there is one lift
        only, to the thing before or after."""
        if len(self._lifts) == 1:
            self.action_step(-by)
        elif len(self._steps) > 1:
            self.refuse("This lift is mended and not saved: Enter saves it, Backspace takes back.")
        elif 0 <= self._at + by < len(self._lifts):
            self._at += by
            self._steps = [self._lifts[self._at]]
            self._go(stops(self._now)[0])
        else:
            which = "later" if by < 0 else "earlier"
            self.refuse(f"There is no {which} lift. Up and down choose what was said.")

    def action_take_back(self) -> None:
        if len(self._steps) > 1:
            self._steps.pop()
            self.say("")
            if self._here not in stops(self._now):
                self._here = (self._here[0], None)
            self._paint()

    def would_lose(self) -> bool:
        return self._now != self._lifts[self._at]

    def action_save(self) -> None:
        was = self._lifts[self._at]
        self.dismiss(Mended(was, self._now) if self._now != was else None)

    def _go(self, here: At) -> None:
        self._here = here
        self._asked = ""
        self.say("")
        self._paint()

    # ---- painting ------------------------------------------------------------------------------

    def _paint(self) -> None:
        width, height = self.app.size
        glyphs, was, now = self.tui.glyphs, self._lifts[self._at], self._now
        drawn = drawing(now, self._here, width, height, glyphs)
        self._put("drawn", drawn.feet)
        self._put("listed", drawn.listed)
        self.query_one("#drawn").styles.width = drawn.width
        self.query_one("#feet-drawn").styles.height = drawn.rows
        count = len(self._lifts)
        by = glyphs.text(f", {now.contents[0]['by']}" if now.contents[0].get("by") else "")
        which = f"   lift {count - self._at} of {count}: left, right" if count > 1 else ""
        self._put("when", painted((f"{full_day_words(now.on)}{by}", "strong"), (which, "quiet")))
        item = self._item
        if now != was:
            read = painted(("instead: ", "quiet"), (glyphs.text(now.words()), ""))
        else:
            read = painted((glyphs.text(item.words if item else now.words()), "quiet"))
        self._put("read", read)
        self.query_one("#read").styles.max_height = max(min(height - LOW, 4), 1)

    def _put(self, name: str, content: Content) -> None:
        self.query_one(f"#{name}", Static).update(content)
