"""A second group of a name that another farm has is asked about, not made in passing."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from readiness.history.groups import farms_with, spelt
from readiness.trade.words import list_words
from readiness.tui.shared.dialogs import Choice, Choose

if TYPE_CHECKING:
    from readiness.tui.crush.screen import CrushScreen


def ask_whose(
    screen: CrushScreen, said: dict[str, Any], then: Callable[[dict[str, Any]], None]
) -> None:
    """What a form says of a group to ``then``: under the name that its farm has for it, and where
    only others have one of that name, of the one that is chosen."""
    groups = screen.desk.groups()
    name, farm = said["group"], said.get("farm", "")
    farm = spelt(farm, {of for of, _ in groups})
    others = farms_with(name, groups)

    def of(whose: str) -> None:
        known = [known for at, known in groups if at == whose]
        said_so = {**said, "group": spelt(name, known), "farm": whose}
        then(said_so if whose else {k: v for k, v in said_so.items() if k != "farm"})

    if not others or farm in others:
        of(farm)
        return

    def chosen(at: int | None) -> None:
        if at is None:
            screen.say(f"Nothing is saved of {name}.")
        else:
            of([*others, farm][at])

    title = f"{list_words(map(_named, others))} {'have' if len(others) > 1 else 'has'} a {name}."
    choices = [Choice(f"{name} at {_named(other)}") for other in others]
    choices.append(Choice(f"a second {name}, at {_named(farm)}"))
    glyphs = screen.tui.glyphs
    screen.app.push_screen(Choose(glyphs.text(title), choices, glyphs), chosen)


def _named(farm: str) -> str:
    return farm or "the farm without a name"
