"""Dialogs over the Crush screen in which one of a list is chosen; each choice is a step."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, NamedTuple

from readiness.crush.by_form import answered
from readiness.crush.effects import AskFarm, Batch, Go
from readiness.crush.giving import given_words, may_be_given
from readiness.crush.session import Session, Step, stay
from readiness.crush.typed import give_words
from readiness.herd.team import EVERY_FARM, Team
from readiness.history.groups import Key, farms_with, spelt
from readiness.trade.females import with_class
from readiness.trade.words import list_words
from readiness.tui.shared.view import team_words, teams


class Offer(NamedTuple):
    """``steps``: the step of each choice, by its words; ``none``: that of none chosen; ``letters``:
    as ``Choose`` takes them."""

    title: str
    steps: dict[str, Step]
    none: Step
    letters: str = ""


def ask_farm(ask: AskFarm) -> Offer:
    """At which farm one is; where none is chosen, at any."""

    def at(team: Team) -> Step:
        return lambda session: session.lined_up(team, ask.kept)

    farms = {team_words(Team(farm)): at(Team(farm)) for farm in ask.farms}
    return Offer("At which farm are you?", farms | {"every farm": at(EVERY_FARM)}, at(EVERY_FARM))


def ask_team(session: Session) -> Offer:
    """Which group or farm is let in."""

    def let_in(team: Team) -> Step:
        return lambda session: session.let_in(team)

    found = teams(session.board) if session.board else []
    choices = {"every bull": let_in(EVERY_FARM)} | {team_words(t): let_in(t) for t in found}
    return Offer("Whom to let in?", choices, stay)


def ask_give(session: Session) -> Offer:
    """What was not of its bull: what is half said of the one in the crush, or what was saved."""

    def of(batch: Batch | None) -> Step:
        return lambda session: give_words(session, batch)

    which = may_be_given(session)
    steps = {given_words(session, batch): of(batch) for batch in which.values()}
    # The tag of the right bull is typed by heart, and would choose by its first digit.
    return Offer("What was said of the wrong bull?", steps, stay, "".join(which))


ASKED = {Go.TEAMS: ask_team, Go.GIVE: ask_give}
"""What a session asks by a list to choose from."""


def ask_whose(said: Mapping[str, Any], groups: Collection[Key]) -> Offer | Step:
    """What a form says of a group: under the name that its farm has for it. Where only others have
    one of that name, which is meant: a second one is not made in passing."""
    name = said["group"]
    farm = spelt(said.get("farm", ""), {of for of, _ in groups})
    others = farms_with(name, groups)

    def of(whose: str) -> Step:
        known = [known for at, known in groups if at == whose]
        so = {**said, "group": spelt(name, known), "farm": whose}
        so = so if so["group"] in known else with_class(so)
        content = so if whose else {k: v for k, v in so.items() if k != "farm"}
        return lambda session: answered(session, "group", content)

    if not others or farm in others:
        return of(farm)
    named = [team_words(Team(other)) for other in others]
    steps = {f"{name} at {words}": of(other) for words, other in zip(named, others, strict=True)}
    steps[f"a second {name}, at {team_words(Team(farm))}"] = of(farm)
    title = f"{list_words(named)} {'have' if len(others) > 1 else 'has'} a {name}."
    return Offer(title, steps, lambda session: session.say(f"Nothing is saved of {name}."))
