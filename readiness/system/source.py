"""A file that a person gave us, and what to say where something in it is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from readiness.system.errors import DataError, NotFound

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
    said = [str(problem) for problem in problems[:PROBLEMS_SHOWN]]
    more = len(problems) - PROBLEMS_SHOWN
    if more > 0:
        said.append(f"and {more} more")
    where = f"{source}: " if source else ""
    end = "Nothing was written; mend it and import it again." if source else "Nothing was written."
    return f"{where}{_in_a_row(said)} {end}"


def _in_a_row(texts: Sequence[str]) -> str:
    """The texts parted by semicolons, with a full stop; one that asks keeps its question mark and
    nothing else."""
    ended = [text.rstrip(".") for text in texts]
    marks = [";"] * (len(ended) - 1) + ["."]
    return " ".join(
        text if text.endswith("?") else text + mark for text, mark in zip(ended, marks, strict=True)
    )
