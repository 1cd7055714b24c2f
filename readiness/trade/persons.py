"""Who is a person, where one is named."""

from __future__ import annotations

NOBODY = "root"
"""An account, and no person: what he says, nobody said."""
NO_PERSON = f"{NOBODY} is an account and no person"


def is_person(name: str) -> bool:
    """Whether a name may be a person's; however it is spelt, an account's is not."""
    return name.strip().casefold() != NOBODY
