"""A file that a person gave us, and what to say where something in it is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from readiness.errors import DataError, NotFound

PROBLEMS_SHOWN = 8


def bytes_of(path: Path) -> bytes:
    """What a file holds; ``NotFound`` where it cannot be read, ``DataError`` for a folder, and for
    a device, which might never end."""
    try:
        if path.is_char_device() or path.is_block_device():
            raise DataError(f"{path}: this is a device. Give a file of entries.")
        return path.read_bytes()
    except FileNotFoundError as problem:
        raise NotFound(f"{path}: there is no such file. Give the right path.") from problem
    except IsADirectoryError as problem:
        raise DataError(f"{path}: this is a folder. Give a file of entries in it.") from problem
    except OSError as problem:
        why = problem.strerror or str(problem)
        raise NotFound(
            f"{path}: the file cannot be read: {why}. Give the right path, or see to "
            "its permission."
        ) from problem


def paragraph(source: str, problems: Sequence[object]) -> str:
    """All that is wrong, as one paragraph; the first few where there are very many."""
    shown = "; ".join(str(problem).rstrip(".") for problem in problems[:PROBLEMS_SHOWN])
    more = len(problems) - PROBLEMS_SHOWN
    and_more = f"; and {more} more" if more > 0 else ""
    where = f"{source}: " if source else ""
    end = "Nothing was written; mend it and import it again." if source else "Nothing was written."
    said = f"{where}{shown}{and_more}"
    return f"{said}{'' if said.endswith('?') else '.'} {end}"
