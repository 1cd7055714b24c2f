"""What may stand next where free text stands: a group's name, who gave what."""

from __future__ import annotations

import re
from collections.abc import Sequence

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import quote
from readiness.shorthand.write import write

_QUOTED = r'"(?:[^"]|"")*"'
_JOIN = re.compile(r'(?:\A|;)\s*join\s+([^";]*|"(?:[^"]|"")*)\Z', re.IGNORECASE | re.ASCII)
_JOINED = re.compile(rf'(?:\A|;)\s*join\s+{_QUOTED}\s+[^\s,;"]*\Z', re.IGNORECASE | re.ASCII)
_GIVEN = re.compile(rf'given\s+(?:{_QUOTED}|[^:"]+):', re.IGNORECASE | re.ASCII)
_WORD = re.compile(rf'{_QUOTED}|[^\s,"]+')


def after_join(text: str, begun: str, groups: Sequence[str]) -> list[str]:
    """Lines with a group's name, in quotes where it needs them; after a name, with a role."""
    kept = text[: len(text) - len(begun)]
    roles = [kept + role for role in lex.ROLES if role.startswith(begun.lower())]
    if _JOINED.search(text):
        return roles
    match = _JOIN.search(text)
    if match is None:
        return []
    name = match[1]
    before = text[: match.start(1)]
    if name.startswith('"'):
        return [before + quote(each) for each in groups if _begins(quote(each), name)]
    named = name[: len(name) - len(begun)].lower().split()
    if set(named) & set(lex.ROLES):
        return []
    found = [
        before + written
        for each in groups
        if _begins(written := _as_written(each), name) or (not named and _begins(each, name))
    ]
    if _begins(lex.NO_GROUP, name):
        found.append(before + lex.NO_GROUP)
    return found + roles if named else found


def _begins(word: str, begun: str) -> bool:
    return word.casefold().startswith(begun.casefold())


def _as_written(group: str) -> str:
    return write([{"kind": "join", "group": group}]).removeprefix("join ")


def after_given(done: str) -> list[str]:
    """The words that may stand after who gave it and the product, both free text."""
    match = _GIVEN.match(done)
    words = _WORD.findall(done[match.end() :]) if match else []
    if not words:
        return []
    given = [word.lower() for word in words[1:]]
    if given and given[-1] in ("until", "for"):
        return []
    if given and given[-1] in ("no", "not"):
        return ["pain"]
    left = [word for word in ("pain", "until", "for") if word not in given]
    return [*left, "no"] if "pain" in left else left
