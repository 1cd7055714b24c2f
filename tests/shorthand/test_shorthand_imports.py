"""What only shows entries must not pay for validation: pydantic costs more than a board."""

from __future__ import annotations

import subprocess
import sys

import pytest

QUICK = (
    "readiness.shorthand",
    "readiness.system.plain",
    "readiness.entries.ids",
    "readiness.entries.tables",
    "readiness.forms",
    "readiness.trade.tags",
)


@pytest.mark.parametrize("module", QUICK)
def test_is_imported_without_pydantic_duckdb_and_textual(module: str) -> None:
    code = (
        f"import sys, {module}; "
        "print(sorted({'pydantic', 'duckdb', 'textual'} & sys.modules.keys()), end='')"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout == "[]"
