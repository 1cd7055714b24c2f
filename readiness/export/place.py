"""The folder an export is written to: made whole beside it, and put in its place in one step.

Whatever happens on the way, kill and full disk included, the old export or the new one is there,
never half of one. (Killed, it leaves a hidden folder beside, whose name ends in ``.part``.)
"""

from __future__ import annotations

import errno
import json
import os
import secrets
import shutil
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from readiness.export.exchange import exchange
from readiness.export.package import FORMAT, MANIFEST, OURS
from readiness.system.errors import CannotWrite, DataError

_SHOWN = 3


@contextmanager
def new_in_place_of(target: Path) -> Iterator[Path]:
    """An empty folder that becomes ``target`` when the block ends well.

    Raises CannotWrite for a place that cannot be written or holds what an export would lose,
    DataError for a folder that is none of ours; then nothing is touched.
    """
    place = Path(os.path.realpath(target))  # a link stays a link
    _look(target, place)
    draft = place.with_name(f".{place.name}.{secrets.token_hex(6)}.part")
    try:
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            draft.mkdir()
            yield draft
            _settle(draft, place, target)
        except OSError as problem:
            raise CannotWrite(
                f"{target} cannot be written: {_why(problem)}. What was there before is whole: "
                "name another folder, or see to the disk or the permission."
            ) from problem
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _why(problem: OSError) -> str:
    if problem.errno == errno.EBUSY:
        return "it is a disk's own folder, name a new one in it"
    if problem.errno in (errno.ENOTEMPTY, errno.EEXIST):
        return "another export took that place meanwhile"
    return problem.strerror or str(problem)


def _look(target: Path, place: Path) -> None:
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


def _settle(draft: Path, place: Path, target: Path) -> None:
    """Give the finished draft its place; what stood there is gone after it, unless somebody put
    something of his own in it meanwhile: then it is given its place back, and refused."""
    _sync_folder(draft)
    if place.exists():
        draft.chmod(stat.S_IMODE(place.stat().st_mode))  # who might look in may look in still
        exchange(draft, place)
        try:
            _look(target, draft)
        except (CannotWrite, DataError):
            exchange(draft, place)
            raise
    else:
        os.rename(draft, place)
    _sync_folder(place.parent)


def _sync_folder(folder: Path) -> None:
    """What a folder names is on the disk (where the system can say so)."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
