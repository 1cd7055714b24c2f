"""Which device this is: an id of its own in the user's data directory."""

from __future__ import annotations

import os
import uuid
from pathlib import Path

from readiness.book.session import make_room
from readiness.system.errors import CannotWrite


def device_id(file: Path) -> str:
    """The id in ``file``, made on first use; CannotWrite where it can be neither read nor made."""
    try:
        return str(uuid.UUID(file.read_text("ascii").strip()))
    except (FileNotFoundError, ValueError):
        return _new(file)
    except OSError as error:
        raise CannotWrite(f"This device's id, {file}, cannot be read: {error.strerror}.") from error


def _new(file: Path) -> str:
    """A new id, in place all at once: a file cut short would be another device each time."""
    made = str(uuid.uuid4())
    make_room(file.parent)
    draft = file.with_name(f".{file.name}.{os.getpid()}.part")
    try:
        draft.write_text(made + "\n", "ascii")
        os.replace(draft, file)
    except OSError as error:
        raise CannotWrite(f"This device's id, {file}, cannot be kept: {error.strerror}.") from error
    return made
