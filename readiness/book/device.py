"""Which device this is: an id of its own in the user's data directory."""

from __future__ import annotations

import uuid
from pathlib import Path

from readiness.system.errors import CannotWrite
from readiness.system.files import make_room, write_whole


def device_id(file: Path) -> str:
    """The id in ``file``, made on first use; CannotWrite where it can be neither read nor made."""
    try:
        return str(uuid.UUID(file.read_text("ascii").strip()))
    except (FileNotFoundError, ValueError):
        made = str(uuid.uuid4())
        make_room(file.parent)
        write_whole(file, f"{made}\n".encode("ascii"))
        return made
    except OSError as error:
        raise CannotWrite(f"This device's id, {file}, cannot be read: {error.strerror}.") from error
