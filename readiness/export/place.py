"""The folder an export is written to: made whole beside it, and put in its place in one step.

Whatever happens on the way, kill and full disk included, the old export or the new one is there,
never half of one.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import AbstractContextManager
from functools import partial
from pathlib import Path

from readiness.export.package import FORMAT, MANIFEST, OURS
from readiness.system.errors import CannotWrite, DataError
from readiness.system.files import replaced_folder

_SHOWN = 3


def new_in_place_of(target: Path) -> AbstractContextManager[Path]:
    """An empty folder that becomes ``target`` when the block ends well.

    Raises CannotWrite for a place that cannot be written or holds what an export would lose,
    DataError for a folder that is none of ours; then nothing is touched.
    """
    return replaced_folder(target, partial(_refuse_loss, target))


def _refuse_loss(target: Path, place: Path) -> None:
    """Refuse a place whose content would be lost."""
    try:
        if not os.path.lexists(place):
            return
        if not place.is_dir():
            raise CannotWrite(f"{target} is no folder. Name a new folder for the export.")
        if place.samefile(Path.cwd()):
            raise CannotWrite(
                f"{target} is the folder you stand in, and an export takes its folder's whole "
                "place. Name a new folder in it."
            )
        there = sorted(_files(place))
    except OSError as problem:
        raise CannotWrite(
            f"{target} cannot be looked into, so it is not written over: "
            f"{problem.strerror or problem}. Name another folder."
        ) from problem
    if not there:
        return
    ours = _of_earlier_export(place)
    if ours is None:
        raise DataError(
            f"{target} holds something that is no export of readiness. Nothing was written, so "
            "that nothing is lost: name a new folder, or an empty one."
        )
    if strangers := [path for path in there if path not in ours]:
        more = f" and {len(strangers) - _SHOWN} more" if len(strangers) > _SHOWN else ""
        raise DataError(
            f"{target} holds files that no export wrote: {', '.join(strangers[:_SHOWN])}{more}. "
            "Nothing was written, so that they are not lost: move them away, or name a new folder."
        )


def _files(place: Path) -> Iterator[str]:
    """Everything in the folder that is no folder, and every folder with nothing in it."""

    def fails(problem: OSError) -> None:
        raise problem

    for folder, folders, names in os.walk(place, onerror=fails):
        inside = Path(folder)
        linked = [name for name in folders if (inside / name).is_symlink()]
        for name in (*names, *linked):
            yield (inside / name).relative_to(place).as_posix()
        if inside != place and not (names or folders):
            yield inside.relative_to(place).as_posix()


def _of_earlier_export(place: Path) -> frozenset[str] | None:
    """The paths that an earlier export wrote here; None where its manifest is none of ours."""
    try:
        found = json.loads((place / MANIFEST).read_bytes())
        ours = found[OURS]
        if ours["format"] != FORMAT:
            return None
        return frozenset((MANIFEST, *(str(written["path"]) for written in ours["files"])))
    except (OSError, ValueError, LookupError, TypeError, RecursionError):
        return None
