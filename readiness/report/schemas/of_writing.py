"""Results that tell what was written, and of the book and the program: their JSON Schemas."""

from __future__ import annotations

from collections.abc import Mapping

from readiness.desk.merging import Merging
from readiness.report.schemas.shapes import (
    DAY,
    FLAG,
    ID,
    NUMBER,
    TAG,
    TEXT,
    WHOLE,
    Schema,
    Sometimes,
    many,
    may,
    of,
    plain,
    record,
    told,
    with_keys,
    words,
)
from readiness.roster.changes import Lacking
from readiness.roster.row_entries import NEW, UNCHANGED, UPDATED
from readiness.trade.females import FEMALES

# ---- what is written -----------------------------------------------------------------------------

_WRITTEN: Mapping[str, Schema | Sometimes] = {
    "written": many(ID),
    "skipped": of(many(ID), "there already"),
    "warnings": many(record({"entry": of(TEXT, "its id; empty: of none"), "text": TEXT})),
}


def written() -> Schema:
    return record({**_WRITTEN, "words": of(TEXT, "the same for people")})


def written_group() -> Schema:
    group = {
        "farm": may(TEXT),
        "group": TEXT,
        "turnout": DAY,
        "weeks": may(WHOLE),
        "females": may(WHOLE),
        "class": words(*FEMALES),
        "last_day": DAY,
    }
    return with_keys(written(), {"group": record(group)})


def taken_in() -> Schema:
    column = {"column": TEXT, "heading": TEXT, "field": may(TEXT), "how": may(TEXT)}
    row = {
        "row": WHOLE,
        "bull": TAG,
        "status": words(NEW, UPDATED, UNCHANGED),
        "changes": of({"type": "object", "additionalProperties": many({})}, "[before, after]"),
    }
    group = {"group": TEXT, "farm": may(TEXT), "turnout": DAY, "class": words(*FEMALES)}
    roster = {
        "file": TEXT,
        "sort": words("roster", "vet"),
        "sheet": may(TEXT),
        "heading_row": WHOLE,
        "columns": many(record(column)),
        "notes": many(TEXT),
        "new_farms": many(TEXT),
        "new_groups": many(record(group)),
        "not_in_file": many(plain(Lacking)),
        **dict.fromkeys((NEW, UPDATED, UNCHANGED), WHOLE),
        "rows": many(record(row)),
    }
    return record(
        {
            **_WRITTEN,
            "rosters": Sometimes(many(record(roster))),
            "would_write": Sometimes(of(many(ID), "with --check")),
        }
    )


def undo() -> Schema:
    return record(
        {
            "struck": many(ID),
            "again": of(many(ID), "said again: their strike is undone"),
            "put_out": of(many(ID), "came in out of another copy, and are no more in this one"),
        }
    )


def merged() -> Schema:
    return told(Merging)


# ---- the book and the program --------------------------------------------------------------------


def exported() -> Schema:
    file = {"path": TEXT, "bytes": WHOLE, "sha256": TEXT, "rows": may(WHOLE)}
    return record({"folder": TEXT, "files": many(record(file))})


def verified() -> Schema:
    counts = {"type": "object", "additionalProperties": WHOLE}
    remarks = {"problems": many(TEXT), "counts": counts, "remarks": many(TEXT)}
    return record({"ok": FLAG, **remarks})


def salvaged() -> Schema:
    came = {
        "what": words("book", "journal", "backup"),
        "file": TEXT,
        "entries": of(WHOLE, "that none before it had"),
        "whole": of(FLAG, "all of it could be read"),
    }
    lost = dict.fromkeys(
        ("id", "bull", "day", "kind", "recorded", "batch", "who", "said"), may(TEXT)
    )
    return record(
        {
            "book": TEXT,
            "entries": WHOLE,
            "receipts": WHOLE,
            "all_there": of(FLAG, "nothing is lost"),
            "sure": of(FLAG, "nothing is lost but what is told"),
            "came": many(record(came)),
            "lost": many(record({**lost, "said": of(may(DAY), "as its id tells")})),
            "lost_unknown": of(WHOLE, "entries of which nothing is known"),
            "without_receipt": of(many(ID), "who wrote it down, and when, is lost"),
            "clashing": of(many(ID), "stood for two entries each"),
            "damaged_lines": of(many(record({"file": TEXT, "line": WHOLE})), "of the journal"),
            "remarks": many(TEXT),
        }
    )


def settings() -> Schema:
    table = {"type": "object", "additionalProperties": TEXT}
    return record(
        {
            "file": TEXT,
            "made": of(FLAG, "there was none before"),
            "who": may(TEXT),
            "farm": may(TEXT),
            "theme": TEXT,
            "scales": table,
            "visits": {"type": "object"},
            "keys": {"type": "object", "additionalProperties": table},
        }
    )


def fleet() -> Schema:
    farm = {"farm": TEXT, "path": of(TEXT, "what it was read of")}
    done = {
        "entries": WHOLE,
        "bulls": of(WHOLE, "on the board; 0 where only entries are written"),
        "go": WHOLE,
        "skipped": of(FLAG, "it was done before, from the same"),
    }
    failed = {"why": TEXT, "code": of(WHOLE, "what its own command would exit with")}
    process = {"process": of(WHOLE, "its id"), "farms": WHOLE, "peak_mb": NUMBER}
    return record(
        {
            "out": TEXT,
            "farms": many(record({**farm, **done})),
            "failed": many(record({**farm, **failed})),
            "processes": of(
                many(record(process)), "that did a farm, with the most memory each had"
            ),
        }
    )


def guide() -> Schema:
    named = {"topic": TEXT, "title": TEXT}
    return record(
        {
            "topics": Sometimes(of(many(record(named)), "where none is named")),
            "topic": Sometimes(TEXT),
            "title": Sometimes(TEXT),
            "text": Sometimes(of(TEXT, "Markdown")),
        }
    )
