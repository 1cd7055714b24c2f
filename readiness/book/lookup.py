"""What a person names must be there: a bull by his tag, a farm, a group."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from readiness.system.errors import NotFound

ALIKE = 0.75
"""Names at least so alike (``difflib``'s ratio) may be one name and a slip: Nether Skell, Nether
Skel; not Nether Skell, Over Skell."""


def known_name(what: str, name: str, named: Iterable[str], book: Path) -> None:
    """A farm or group nobody ever named is a slip: an empty board would look like all clear."""
    known = set(named)
    if name not in known:
        names = ", ".join(sorted(known - {""})) or "none"
        near = near_name(name, known - {""})
        meant = f" Did you mean {near}?" if near else ""
        raise NotFound(f"There is no {what} {name} in {book}; it has: {names}.{meant}")


def near_name(name: str, known: Iterable[str], alike: float = ALIKE) -> str | None:
    """The known name that is spelt nearly so, or None; ``alike``: how nearly, from 0 to 1."""
    from difflib import get_close_matches

    by_fold = {one.casefold(): one for one in known}
    near = get_close_matches(name.casefold(), by_fold, n=1, cutoff=alike)
    return by_fold[near[0]] if near else None


def find_bull(tag: str, written: Mapping[str, str], named: Mapping[str, str], book: Path) -> str:
    """The key of the bull that a typed tag means, among ``written`` (key → tag as written); where
    no tag fits, the one of that name, among ``named`` (key → name).

    Raises ``NotFound`` where none or more than one match.
    """
    from readiness.trade.tags import match_tag

    if not tag.strip():
        raise NotFound("No tag is given. Give his tag, or its last digits.")
    typed = tag.strip().casefold()
    matches = match_tag(tag, written) or sorted(
        key for key, name in named.items() if name.casefold() == typed and key in written
    )
    if len(matches) == 1:
        return matches[0]
    if not matches:
        raise NotFound(
            f"There is no bull {tag} in {book}. Give his tag as written in the book, "
            "its last digits, or his name; `readiness board` lists them."
        )
    names = ", ".join(written[key] for key in matches)
    raise NotFound(f"{tag} matches {len(matches)} bulls: {names}. Give more of the tag.")
