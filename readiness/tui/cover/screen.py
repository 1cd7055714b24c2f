"""The Cover screen: are the bulls of each group enough, how sure is that, and what mends it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from pathlib import Path
from typing import ClassVar, NamedTuple

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import Static

from readiness.cover.moves import joins
from readiness.cover.put_off import later_turnout
from readiness.cover.results import GroupCover
from readiness.cover.whole import Cover
from readiness.herd.team import Team
from readiness.report.cover_words import LASTS, move_words, put_off_words
from readiness.trade.words import day_words
from readiness.tui.cover import views
from readiness.tui.cover.plot import Capacity
from readiness.tui.shared.dialogs import Choice
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.live import ScrolledScreen
from readiness.tui.shared.looks import QUIET

NO_LATER = "No later turnout is proposed here."
FEW, TALL = 5, 34
"""How many females more or less a key asks about; the lines from which every group has all its
bars."""


class Read(NamedTuple):
    """The cover as it is, and that of the chosen group as it would be."""

    cover: Cover
    asked: Cover | None


def _places(cover: Cover) -> int:
    """Where the cursor can stand: on each group, then on those whose season is over."""
    return len(cover.groups) + bool(views.told_after(cover))


class CoverScreen(ScrolledScreen[Read]):
    """Groups as bars; the chosen one in full, with what it carries day by day."""

    TOPIC = "cover"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("j,down", "choose_group(1)", "group", key_display="↑↓", tooltip="next group"),
        Binding("k,up", "choose_group(-1)", "group before", show=False),
        Binding("space,pagedown", "page(1)", "more", key_display="space", tooltip="a page down"),
        Binding("m", "mend", "mend", tooltip="write the moves that mend a shortage"),
        Binding("plus,equals_sign", "females(1)", "females", key_display="+-",
                tooltip=f"what if there were {FEW} females more"),
        Binding("minus", "females(-1)", f"what if there were {FEW} fewer", show=False),
        Binding("right", "turnout(1)", "turnout", key_display="←→",
                tooltip="what if turnout were a day later"),
        Binding("left", "turnout(-1)", "what if turnout were a day earlier", show=False),
        Binding("l", "put_off", "the later turnout that would do", show=False),
        Binding("w", "write_put_off", "write the later turnout that would do", show=False),
        Binding("0", "as_it_is", "as it is", tooltip="no what-if: as it is"),
        Binding("t", "gate", "out", tooltip="turnout: who of this group goes out today, who stays"),
        Binding("o", "paper", "paper", tooltip="the cover of every group as a page"),
        Binding("u", "undo", "take back what was last written", show=False),
        Binding("pageup", "page(-1)", "a page up", show=False),
        Binding("escape,b", "leave", "back", tooltip="back to where one came from"),
    ]  # fmt: skip

    def __init__(self, team: Team | None = None) -> None:
        """``team``: the group to show first."""
        super().__init__()
        self._wanted, self._found = team, False
        self.seen: Read | None = None
        self.at = 0
        self.more_females = 0
        self.later = 0

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        yield Static(id="asked", markup=False)
        with VerticalScroll(id="body", can_focus=False):
            yield Static(id="groups", markup=False)
            yield Static(id="shown", markup=False)
            yield Capacity()
        yield Static(id="line", markup=False)
        yield Static(Content.styled(f" {LASTS.split('. ')[0]}.", QUIET), id="legend", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    # ---- reading ---------------------------------------------------------------------------------

    def read(self) -> Read:
        reading = self.desk.reading()
        cover = reading.cover()
        self._find(cover)
        group = self._chosen(cover)
        if group is None or not (self.more_females or self.later):
            return Read(cover, None)
        females = None if group.females is None else max(0, group.females + self.more_females)
        turnout = date.fromordinal(group.turnout + self.later) if self.later else None
        asked = reading.cover(farm=group.farm, group=group.group, turnout=turnout, females=females)
        return Read(cover, asked if asked.groups else None)

    def _find(self, cover: Cover) -> None:
        """At first: the group that was asked for, else the first that is short."""
        if self._found:
            return
        wanted = [Team(group.farm or "", group.group) == self._wanted for group in cover.groups]
        short = [bool(group.counts.short) for group in cover.groups]
        self.at = next((each.index(True) for each in (wanted, short) if any(each)), 0)
        self._found = bool(cover.groups)

    def _chosen(self, cover: Cover) -> GroupCover | None:
        """The group shown in full; None: those whose season is over, or there is none."""
        self.at = min(self.at, max(0, _places(cover) - 1))
        return cover.groups[self.at] if self.at < len(cover.groups) else None

    @property
    def _group(self) -> GroupCover | None:
        return self._chosen(self.seen.cover) if self.seen is not None else None

    def show(self, seen: Read) -> None:
        self.seen = seen
        self._paint()

    def _paint(self) -> None:
        if self.seen is None:
            return
        cover, asked = self.seen
        glyphs = self.tui.glyphs
        room = self.query_one("#body").scrollable_content_region.width
        groups = list(cover.groups)
        chosen = self._chosen(cover)
        shown = asked.groups[0] if asked else chosen
        if shown is not None:
            groups[self.at] = shown
        few_lines = self.size.height < TALL
        self.put(
            top=views.top_line(cover, self.head_width, glyphs),
            asked=views.what_if(chosen, shown, cover.on, glyphs) if asked else Content(""),
            groups=views.overview(cover, groups, self.at, room, glyphs, few_lines=few_lines),
            shown=views.in_full(asked or cover, shown, room, glyphs)
            if shown
            else views.after_in_full(cover, room, glyphs),
        )
        plot = self.query_one(Capacity)
        plot.display = shown is not None and not glyphs.ascii_only
        if shown is not None:
            plot.show_group(shown, cover.on)

    def on_resize(self, event: Resize) -> None:
        self.call_after_refresh(self._paint)

    # ---- keys ------------------------------------------------------------------------------------

    def action_choose_group(self, step: int) -> None:
        if self.seen is not None and (places := _places(self.seen.cover)):
            self.at = (self.at + step) % places
            self.action_as_it_is()

    def action_females(self, step: int) -> None:
        self.more_females += step * FEW
        self.action_reread()

    def action_turnout(self, step: int) -> None:
        self.later += step
        self.action_reread()

    def action_put_off(self) -> None:
        """What if turnout were put off to the day that is proposed."""
        if self.seen is None or self._group is None:
            return
        found = views.put_off_of(self.seen.cover, self._group)
        if found is None:
            self.tui.tell(NO_LATER)
        else:
            self.later = found.days
            self.action_reread()

    def action_as_it_is(self) -> None:
        self.more_females = self.later = 0
        self.action_reread()

    def action_gate(self) -> None:
        """The day of turnout of the chosen group."""
        if (group := self._group) is not None:
            self.tui.open("turnout", Team(group.farm or "", group.group))

    def action_paper(self) -> None:
        """The cover of every group, as it is, as a page beside the book."""

        def write() -> list[Path]:
            from readiness.report.paper import write_cover

            return [write_cover(self.desk, farm=None, group=None)]

        self.put_on_paper(write)

    def action_mend(self) -> None:
        """Show the moves of the chosen group's farm, and write them where they are wanted."""
        if self.seen is None or self._group is None:
            return
        farm = self._group.farm
        moves = [move for move in self.seen.cover.moves if move.farm == farm]
        if not moves:
            self.tui.tell(views.unmended(self._group))
            return
        entries = joins(moves, self.desk.on, self.desk.who)
        what = " ".join(f"{move_words(m)}." for m in moves)
        self._write("These moves mend it:", "write them", what, entries, f"{len(entries)} moved")

    def action_write_put_off(self) -> None:
        """Show the later turnout that is proposed, and write it where it is wanted."""
        if self.seen is None or self._group is None:
            return
        cover, desk = self.seen.cover, self.desk
        found = views.put_off_of(cover, self._group)
        if found is None:
            self.tui.tell(NO_LATER)
            return
        entries = later_turnout(found, cover.moves, desk.on, desk.who)
        named = f"turnout of {found.after.group} on {day_words(found.after.turnout, cover.on)}"
        moved = f", {len(entries) - 1} moved" if len(entries) > 1 else ""
        what = f"{put_off_words(found, cover.on)}."
        self._write("A later turnout would do:", "write it", what, entries, named + moved)

    def _write(
        self, title: str, choice: str, what: str, entries: Sequence[dict[str, object]], done: str
    ) -> None:
        """Write these entries once that is chosen; ``what`` they are, ``done`` as it is told."""

        def write() -> Callable[[], None]:
            self.desk.add(entries)
            return partial(self.tui.tell, f"Written: {done}. u takes it back.")

        self.decide(
            title,
            {"y": Choice(choice, write, what)},
            lambda job: in_thread(self, job, self.refuse, group="write", exit_on_error=False),
        )
