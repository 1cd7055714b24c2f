"""Keys in the order in which they were pressed: each to the screen that stands when its turn comes,
and none to a screen that is still being read."""

from __future__ import annotations

from bisect import insort
from collections import Counter, deque
from typing import TYPE_CHECKING, Any, NamedTuple

from textual.app import App
from textual.events import Event, Key

if TYPE_CHECKING:
    from textual.screen import Screen

MOST = 60
"""Keys that are remembered at most; whoever presses more leans on the keyboard."""
ALWAYS = ("q", "ctrl+q", "ctrl+c")
NOT_TAKEN = "What was typed meanwhile was not taken."


class Held(NamedTuple):
    """A key that waits; ``time``: when it was pressed."""

    time: float
    key: str
    character: str | None


class HoldsKeys(App[None]):
    """A program whose screens may still have to be read (``unread``), or wait for an errand that
    leads on to something one has to see first (``await_errand``)."""

    def __init__(self, **how: Any) -> None:
        super().__init__(**how)
        self._held: list[Held] = []
        self._aimed: deque[tuple[Event, Screen[Any], Held]] = deque(maxlen=MOST)
        self._errands: Counter[Screen[Any]] = Counter()
        self.last_key = ""
        """The one that last went to a screen."""

    # ---- whether keys wait -----------------------------------------------------------------------

    def _waits(self) -> bool:
        """Whether the screen that stands can take no key yet."""
        return bool(getattr(self.screen, "unread", False)) or self._errands[self.screen] > 0

    def await_errand(self, screen: Screen[Any]) -> None:
        """What is done for this screen now leads on to something that is to be seen first."""
        self._errands[screen] += 1

    def errand_done(self, screen: Screen[Any]) -> None:
        """It is there: what was typed meanwhile was meant for what stood before."""
        self._errands[screen] -= 1
        self.drop_keys()

    def ready(self) -> None:
        """The screen that stands can take keys: those that waited come now."""
        self.call_later(self._release)

    def drop_keys(self) -> None:
        """Refuse, aloud, the keys that waited."""
        if self._held:
            self._held.clear()
            self.notify(NOT_TAKEN, severity="warning", markup=False)

    # ---- keys on their way -----------------------------------------------------------------------

    async def on_event(self, event: Event) -> None:
        if isinstance(event, Key) and not event.is_forwarded and self._screen_stack:
            await self._aim(Held(event.time, event.key, event.character), event)
        else:
            await super().on_event(event)

    async def _aim(self, key: Held, event: Key | None = None) -> None:
        """To the screen that stands, or among those that wait."""
        if key.key == "escape" and self._waits():
            self._held.clear()
        elif (self._held or self._waits()) and not (key.key in ALWAYS and not self._held):
            if len(self._held) < MOST:
                insort(self._held, key)
            return
        await self._deliver(key, event or Key(key.key, key.character))

    async def _deliver(self, key: Held, event: Key) -> None:
        """To the screen that stands, as what it means there."""
        self.last_key = key.key
        if meant := self.meant(event):
            self._aimed.append((meant, self.screen, key))
            await super().on_event(meant)

    def meant(self, event: Key) -> Key | None:
        """The key that this one stands for on the screen that stands; None where it is refused."""
        return event

    async def _release(self) -> None:
        while self._held and not self._waits():
            key = self._held.pop(0)
            await self._deliver(key, Key(key.key, key.character))

    async def _on_key(self, event: Key) -> None:
        """A key that no widget took. On its way here another one may have opened another screen, or
        had this one read anew: then it is for that."""
        aimed = next(((at, key) for each, at, key in self._aimed if each is event), None)
        waits = self._waits() and event.key not in (*ALWAYS, "escape")
        if aimed is not None and (aimed[0] is not self.screen or waits):
            event.prevent_default()  # the program's own answer to it
            await self._aim(aimed[1])
