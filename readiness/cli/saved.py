"""How the commands that write say what they wrote."""

from __future__ import annotations

from typing import TYPE_CHECKING

from readiness.cli.output import Output
from readiness.entries.entry import Entry
from readiness.system.plain import plain

if TYPE_CHECKING:
    from readiness.desk.writing import Outcome


def entry_words(entry: Entry) -> str:
    """An entry in words, with its bull, day and id."""
    from readiness.shorthand import words

    whose = f"{entry.body['bull']}, " if entry.bull else ""
    return plain(f"{whose}{entry.body['on']}: {words(entry.body)} ({entry.id})")


def report(outcome: Outcome, output: Output, *, as_json: bool, words: str, **more: object) -> None:
    """The outcome: what was saved, in words and by id, on stdout; what is odd on stderr, without
    the id, which a person who wrote one line knows nothing by.

    ``more``: what else programs are told."""
    output.warn(dict.fromkeys(warning.text for warning in outcome.warnings))
    if as_json:
        from readiness.report.as_json import outcome_json

        output.json({**outcome_json(outcome), "words": words, **more})
        return
    output.say(plain(words))
    for entry in outcome.written:
        output.say(f"saved {entry}")
