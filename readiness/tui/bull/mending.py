"""A bull's feet mended as they are drawn: one batch, which one undo takes back."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from readiness.book.anew import MENDED
from readiness.crush.lift import Mended, lifts_of
from readiness.system.errors import BookBusy, CannotWrite, ReadinessError
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.mend import Mend

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen
    from readiness.tui.shared.reading import BullSheet


def mend_feet(screen: LiveScreen[BullSheet], sheet: BullSheet, began: Mended | None = None) -> None:
    """Ask what of his lifts was another foot, worse, or another day. ``began``: what was said so
    before, where it could not be written."""
    lifts = lifts_of(sheet.card.entries)
    if screen.desk.readonly:
        screen.tui.tell("Nothing is corrected: the book was opened to be read only.", wrong=True)
        return
    if not lifts:
        screen.say("No lift of his is written down yet.")
        return

    def answered(mended: Mended | None) -> None:
        if mended is not None:
            again = partial(_again, screen, sheet, mended)
            job = partial(_written, screen, mended)
            in_thread(screen, job, again, group="write", exit_on_error=False)

    asked = Mend(sheet.card.assessment.bull, lifts, screen.desk.on, began)
    screen.app.push_screen(asked, answered)


def _written(screen: LiveScreen[BullSheet], mended: Mended) -> Callable[[], None]:
    """Write it; then say what is said now."""
    done = screen.desk.instead(mended.was.ids, mended.now.contents, MENDED)
    odd = "".join(f" {warning.text}." for warning in done.warnings)
    told = f"Taken back: {mended.was.words()} Said instead: {mended.now.words()}{odd}"

    def then() -> None:
        screen.tui.tell(told)
        screen.action_reread()

    return then


def _again(
    screen: LiveScreen[BullSheet], sheet: BullSheet, mended: Mended, problem: ReadinessError
) -> None:
    """Say why it was not written; where the book takes nothing just now, it stands there again."""
    screen.refuse(problem)
    if isinstance(problem, BookBusy | CannotWrite) and screen.is_current:
        mend_feet(screen, sheet, mended)
