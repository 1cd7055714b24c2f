"""The terminal program. Only what is under here imports textual, and only once it is started."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from readiness.desk.desk import Desk


def run(open_desk: Callable[[], Desk], demo: Callable[[], Desk]) -> int:
    """Open the screen, which reads and writes at the desk that ``open_desk`` gives, and stay until
    it is left; its exit code. ``demo`` builds a throw-away book and gives its desk."""
    from readiness.tui.shared.reading import start_early

    coming = start_early(open_desk)
    from readiness.tui.app import ReadinessApp

    # The screen is written to stderr, so that is the encoding that counts.
    encoding = getattr(sys.__stderr__, "encoding", None)
    app = ReadinessApp(open_desk, demo=demo, encoding=encoding, early=coming)
    app.run()
    return app.return_code or 0
