"""The house stays a house: rooms, no circles, nothing so long that nobody reads it to its end.

Which room may import which is held by the contracts in pyproject.toml (`lint-imports`).
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import grimp
import networkx as nx

HOUSE = Path(__file__).resolve().parents[1] / "readiness"
MODULE_MOST, FUNCTION_MOST = 350, 40


def test_no_module_stands_loose_beside_the_rooms() -> None:
    assert sorted(path.name for path in HOUSE.glob("*.py")) == ["__init__.py", "__main__.py"]


def test_no_module_imports_itself_by_a_way_round() -> None:
    # Imports within functions, and those for types alone, are counted too.
    graph = grimp.build_graph("readiness", cache_dir=None)
    arrows = nx.DiGraph(
        (module, other)
        for module in graph.modules
        for other in graph.find_modules_directly_imported_by(module)
    )
    assert [circle for circle in nx.strongly_connected_components(arrows) if len(circle) > 1] == []


def test_no_module_and_no_function_grows_too_long_to_be_read() -> None:
    assert list(_too_long()) == []


def _too_long() -> Iterator[str]:
    for path in sorted(HOUSE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if (lines := len(text.splitlines())) > MODULE_MOST:
            yield f"{path.relative_to(HOUSE)}: {lines} lines"
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                lines = (node.end_lineno or node.lineno) - node.lineno + 1
                if lines > FUNCTION_MOST:
                    yield f"{path.relative_to(HOUSE)}, {node.name}: {lines} lines"
