"""The terminal program. Only what is under here imports textual, and only once it is started."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.settings.settings import Settings


def run(open_desk: Callable[[], Desk], demo: Callable[[], Desk], settings: Settings) -> int:
    """Open the screen, which reads and writes at the desk that ``open_desk`` gives, and stay until
    it is left; its exit code. ``demo`` builds a throw-away book and gives its desk. Raises
    ``RulesError`` where the ``settings`` move a key to one that is taken."""
    from readiness.tui.shared.reading import start_early

    coming = start_early(open_desk)
    from readiness.tui.app import ReadinessApp, keymaps

    # It stays open all day. What is imported stays as long, and need not be looked through.
    gc.freeze()
    gc.enable()
    # The screen is written to stderr, so that is the encoding that counts.
    encoding = getattr(sys.__stderr__, "encoding", None)
    moved = keymaps(settings)
    app = ReadinessApp(
        open_desk, demo=demo, encoding=encoding, early=coming, theme=settings.theme, keymaps=moved
    )
    app.run()
    return app.return_code or 0
