"""The boundary: every error becomes its exit code and one paragraph."""

from __future__ import annotations

import pytest

from readiness.cli import main as boundary
from readiness.cli.board import HOLD_FOUND
from readiness.system import errors
from tests.cli.conftest import Run
from tests.promises.stated import exit_codes

KINDS = [
    kind
    for kind in vars(errors).values()
    if isinstance(kind, type) and issubclass(kind, errors.ReadinessError)
]


@pytest.mark.parametrize("kind", KINDS)
def test_each_error_has_its_code(
    run: Run, monkeypatch: pytest.MonkeyPatch, kind: type[errors.ReadinessError]
) -> None:
    def fails(arguments: object) -> int:
        raise kind("a \x1b[31mbook\nis gone")

    monkeypatch.setattr(boundary, "_run", fails)
    ran = run("board")
    assert ran.code == kind.exit_code
    assert ran.err == "readiness: a [31mbook is gone\n"


def test_an_exit_code_keeps_its_meaning() -> None:
    assert {kind.__name__: kind.exit_code for kind in KINDS} == {
        "ReadinessError": errors.FAULT,
        "UsageError": 2,
        "DataError": 65,
        "NotFound": 66,
        "NoMemory": 71,
        "CannotWrite": 73,
        "NoRoom": 73,
        "BookBusy": 75,
        "RulesError": 78,
    }
    others = {0, HOLD_FOUND, errors.FAULT, boundary.INTERRUPTED}
    assert exit_codes() == others | {kind.exit_code for kind in KINDS}


def test_a_fault_of_ours_is_one_paragraph_that_says_where(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(arguments: object) -> int:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(boundary, "_run", fails)
    ran = run("board")
    assert ran.code == 70 and ran.err.count("\n") == 1
    assert "ZeroDivisionError" in ran.err and "test_main.py:" in ran.err
