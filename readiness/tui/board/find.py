"""The line into which one types a tag or a name to find a bull. It is made when it is first wanted:
the board is on the screen sooner without it."""

from __future__ import annotations

from collections.abc import Callable

from textual.widgets import Input


class Find(Input):
    """What is typed narrows the board at once (``typed``); Enter goes to the bulls (``done``)."""

    def __init__(self, typed: Callable[[str], None], done: Callable[[], None]) -> None:
        super().__init__(id="find", placeholder="tag or name", compact=True)
        self._typed, self._done = typed, done

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        self._typed(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self._done()
