"""What is seen on a screen, as pages beside the book: to be read on a phone, or printed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from textual.worker import get_current_worker

from readiness.system.background import Background, GivenUp
from readiness.system.errors import ReadinessError
from readiness.trade.words import list_words

if TYPE_CHECKING:
    from readiness.herd.team import Team
    from readiness.tui.shared.live import LiveScreen

GROUP = "paper"
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
    screen.run_worker(partial(_written, screen, write), group=GROUP, exclusive=True, thread=True)


def _written(screen: LiveScreen[What], write: Callable[[], list[Path]]) -> None:
    """Written aside: the visits of a large herd take seconds, and whoever quits does not wait."""
    worker, tell = get_current_worker(), screen.tui.tell
    try:
        files = Background(write, may_be_left=True).result(lambda _: not worker.is_cancelled)
    except GivenUp:
        return
    except ReadinessError as problem:
        screen.app.call_from_thread(tell, str(problem), wrong=True)
    else:
        names = list_words(file.name for file in files)
        where = files[0].parent
        screen.app.call_from_thread(tell, f"On paper: {names} in {where}. Open it in a browser.")
