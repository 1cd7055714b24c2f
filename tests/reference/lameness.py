"""Lameness, read off the whole list of a bull's walks and lame events once it has been told.

Nothing is kept while it is told but the list: runs are cut out of it, and of every event the part
of its run that lies before it says from which day it asks. Days are ordinals.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .state import Ask, Run, Step, Story


@dataclass
class Cut:
    """The steps of one run of lameness in their order, the first of them lame."""

    steps: list[Step]
    rules: dict[str, Any]

    @property
    def lame(self) -> list[Step]:
        return [step for step in self.steps if step.lame]

    def milds(self) -> list[int]:
        """Where in the run its mild days stand: the first after each lame event, if any."""
        places, waiting, last = [], False, 0
        for place, step in enumerate(self.steps):
            if step.lame:
                waiting, last = True, step.day
            elif waiting and self.says_something(step, last):
                places.append(place)
                waiting = False
        return places

    def says_something(self, step: Step, last: int) -> bool:
        # nothing hid a lameness, and the last lame event lies long enough before
        return not step.hidden and step.day >= last + int(self.rules["mobility.again"])

    def mild(self) -> int | None:
        """The mild day that no lame event has taken away."""
        milds = self.milds()
        if not milds or any(step.lame for step in self.steps[milds[-1] :]):
            return None
        return self.steps[milds[-1]].day

    def ended_by(self, walk: Step) -> bool:
        """Whether this sound walk, the next step, is the end of the run."""
        if not self.says_something(walk, self.lame[-1].day):
            return False
        mild = self.mild()
        return walk.best or (mild is not None and walk.day >= mild + self.rules["mobility.again"])

    def start_for(self, place: int) -> int:
        """The day from which the lame event at this place in the run may ask."""
        after = max((mild for mild in self.milds() if mild < place), default=-1)
        return next(step.day for step in self.steps[after + 1 :] if step.lame)

    def new_limb(self, place: int) -> bool:
        # no lame event of this run has asked for that limb so far
        event = self.steps[place]
        asked = {foot for step in self.steps[:place] if step.lame for foot in step.feet}
        return event.limb is not None and event.limb not in asked

    def asks(self) -> list[Ask]:
        asks = []
        for place, event in enumerate(self.steps):
            if not event.lame:
                continue
            # what happened on a day asks from that day; what merely goes on is answered by a lift
            # since it began, but not by one of long ago
            since = max(self.start_for(place), event.day - int(self.rules["lame.long"]))
            if event.own_day or self.new_limb(place):
                since = event.day
            asks += [Ask(foot, since, event.day + event.within, event.day) for foot in event.feet]
        return asks

    def run(self) -> Run:
        asked = [(step.day, foot) for step in self.lame for foot in step.feet]
        last = max(self.lame[-1].day, self.mild() or 0)
        return Run(self.steps[0].day, last, asked)


def cuts(story: Story) -> tuple[list[Cut], Cut | None]:
    """Every run of lameness there was, and which of them is still open."""
    told: list[Cut] = []
    now: Cut | None = None
    for step in story.steps:
        if now is None:
            # sound, and not lame: nothing begins
            if step.lame:
                now = Cut([step], story.rules)
                told.append(now)
            continue
        if not step.lame and now.ended_by(step):
            story.meets(f"sound: {'the best' if step.best else 'mild twice'} ends the run")
            now = None
            continue
        if not step.lame:
            _why_not(story, now, step)
        now.steps.append(step)
    return told, now


def _why_not(story: Story, run: Cut, walk: Step) -> None:
    """Name the corner in which a sound walk did not end the run."""
    late = walk.day >= run.lame[-1].day + story.rules["mobility.again"]
    story.meets("sound too soon", not walk.hidden and not late)
    story.meets("sound, but masked", walk.masked and late)
    story.meets("mild day", not walk.hidden and late and run.mild() is None)
    story.meets("mild again too soon", not walk.hidden and late and run.mild() is not None)


def read_lameness(story: Story) -> None:
    """Say of a story that has been told which run is open and which feet were asked for."""
    told, now = cuts(story)
    for cut in told:
        run, asks = cut.run(), cut.asks()
        story.asks += asks
        story.worst_scores += [(step, run) for step in cut.lame if step.worst]
        if cut is now:
            story.run = run
        _corners(story, cut, asks)


def _corners(story: Story, cut: Cut, asks: list[Ask]) -> None:
    for ask in asks:
        back = ask.made - ask.since
        story.meets("lame event that asks from an earlier day", back > 0)
        begun = cut.steps[0].day
        far = back == story.rules["lame.long"] and begun < ask.since
        story.meets("lame event that asks no further back", far)
    for place, step in enumerate(cut.steps):
        story.meets("lame of another limb", step.lame and place > 0 and cut.new_limb(place))
        again = step.lame and cut.start_for(place) > cut.steps[0].day
        story.meets("lame again after a mild day", again)
