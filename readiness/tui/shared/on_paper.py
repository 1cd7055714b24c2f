"""What is seen on a screen, as pages beside the book: to be read on a phone, or printed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from readiness.trade.words import list_words
from readiness.tui.shared.errands import in_thread, left_alone

if TYPE_CHECKING:
    from readiness.herd.team import Team
    from readiness.tui.shared.live import LiveScreen

What = TypeVar("What")


def board_on_paper(screen: LiveScreen[What], team: Team) -> None:
    """The board of the farm or group in view, and the sheets of the day where there are any."""

    def write() -> list[Path]:
        from readiness.report.paper import write_beside

        return write_beside(screen.desk, farm=team.farm, group=team.group or None)

    _run(screen, write)


def bull_on_paper(screen: LiveScreen[What], key: str) -> None:
    """One bull's page."""

    def write() -> list[Path]:
        from readiness.report.paper import write_bull

        return [write_bull(screen.desk, key)]

    _run(screen, write)


def _run(screen: LiveScreen[What], write: Callable[[], list[Path]]) -> None:
    """Written aside: the visits of a large herd take seconds, and whoever quits does not wait."""

    def job() -> Callable[[], None]:
        files = left_alone(write)
        names = list_words(file.name for file in files)
        said = f"On paper: {names} in {files[0].parent}. Open it in a browser."
        return partial(screen.tui.tell, said)

    in_thread(screen, job, screen.refuse, group="paper", exclusive=True)
