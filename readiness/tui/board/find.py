"""The line into which one types a tag or a name to find a bull. It is made when it is first wanted:
the board is on the screen sooner without it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.widgets import Input

if TYPE_CHECKING:
    from readiness.tui.board.screen import BoardScreen


class Find(Input):
    """What is typed narrows the board at once; Enter goes to the bulls, Esc gives it up."""

    def __init__(self) -> None:
        super().__init__(id="find", placeholder="tag or name", compact=True)

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        self._board.find(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self._board.found()

    @property
    def _board(self) -> BoardScreen:
        from readiness.tui.board.screen import BoardScreen

        assert isinstance(self.screen, BoardScreen)
        return self.screen
