"""Work in a thread: its result, its fault, and what becomes of it when nobody waits any more."""

from __future__ import annotations

from threading import Event

import pytest

from readiness.system.background import Background, GivenUp


def test_what_the_work_returns_or_raises_reaches_who_waits() -> None:
    assert Background(lambda: 7).result() == 7
    assert Background(lambda: 7).result(lambda seconds: seconds >= 0) == 7
    with pytest.raises(ZeroDivisionError):
        Background(lambda: 1 // 0).result()


def test_the_work_goes_on_while_its_caller_does_something_else() -> None:
    begun, go = Event(), Event()

    def work() -> bool:
        begun.set()
        return go.wait(60)

    background = Background(work)
    assert begun.wait(60)
    go.set()
    assert background.result()


def test_nobody_waits_for_what_is_given_up() -> None:
    go = Event()
    background = Background(lambda: go.wait(60), may_be_left=True)
    with pytest.raises(GivenUp):
        background.result(lambda seconds: False)
    go.set()
    assert background.result()
