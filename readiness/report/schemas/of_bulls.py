"""Results that tell of bulls, one by one, and of what is to be done on them: their JSON Schemas."""

from __future__ import annotations

from readiness.cover.what_if import Calving
from readiness.engine.results import Assessment, Check, GroupLine
from readiness.herd.changes import Cause
from readiness.report.as_json import STANDING
from readiness.report.schemas.shapes import (
    CLAW,
    DAY,
    FLAG,
    FOOT,
    ID,
    KNOWN_WORDS,
    LINE,
    NAMED,
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
from readiness.visits.bring import Bring


def board() -> Schema:
    return record(
        {
            "on": DAY,
            "rules": record({"name": TEXT, "digest": of(TEXT, "the same: the same answers")}),
            "groups": many(told(GroupLine)),
            "bulls": many(told(Assessment)),
            "changes": Sometimes(of(many(_change()), "of a what-if")),
            "sum": Sometimes(_sum()),
        }
    )


def _change() -> Schema:
    stands = told(Assessment, *STANDING)
    return record(
        {
            "bull": TAG,
            "before": stands,
            "after": stands,
            "missed": of(many(TEXT), "ids of checks that have no day before turnout any more"),
            "open_end": of(FLAG, "the day is no more than one before which he is not ready"),
            "why": many(told(Cause)),
        }
    )


def _sum() -> Schema:
    return record(
        {
            "ready": of(many(TEXT), "tags of those who are ready in time then, and are not now"),
            "lost": of(many(TEXT), "the other way round"),
            "jobs_added": WHOLE,
            "jobs_gone": WHOLE,
            "calving": many(told(Calving)),
        }
    )


# ---- one bull ------------------------------------------------------------------------------------


def bull() -> Schema:
    return with_keys(
        told(Assessment),
        {
            "left": of(FLAG, "he has left the farm"),
            "rests_on": of(
                many(record({"words": TEXT, "rules": many(TEXT)})),
                "what his GO rests on, and the rules by which each counts; empty where he is not",
            ),
            "history": of(many(LINE), "newest first; `import` takes each as a line"),
            "open_findings": many(_finding()),
            "blocks": many(record({**_place(), "off_from": DAY, "off_by": DAY, "entry": ID})),
            "wraps": many(record({"foot": FOOT, "on": DAY, "off_by": DAY, "entry": ID})),
            "body": many(
                record({"part": TEXT, "limb": may(TEXT), "state": words("wrong", "watch"),
                        "since": DAY, "entry": ID})
            ),
            "scores": _scores(),
            "tests": many(
                record({"check": TEXT, "on": DAY, "result": words("pass", "fail"),
                        "holds_until": may(DAY), "entry": ID})
            ),
        },
    )  # fmt: skip


def _place() -> dict[str, Schema]:
    return {"foot": FOOT, "claw": CLAW, "on": DAY}


def _finding() -> Schema:
    return record(
        {
            "foot": FOOT,
            "claw": CLAW,
            "code": words(*KNOWN_WORDS["code"]),
            "severity": may(WHOLE),
            "stage": may(TEXT),
            "zone": may(WHOLE),
            "size_mm": may(NUMBER),
            "holds": FLAG,
            "first": of(DAY, "found first"),
            "seen": of(may(DAY), "found holding last"),
            "looked": of(DAY, "a lift listed it last"),
            "plausible": of(may(DAY), "the first day on which healed is likely"),
            "entries": many(ID),
        }
    )


def _scores() -> Schema:
    score = {"on": DAY, "scale": TEXT, "score": NUMBER}
    walk = {"limb": may(TEXT), "lame": FLAG, "counts": FLAG, "entry": ID}
    return record(
        {
            "mobility": many(record({**score, **walk})),
            "condition": many(record({**score, "outside": FLAG, "entry": ID})),
            "weight": may(record({"on": DAY, "kg": NUMBER})),
        }
    )


# ---- what is to come -----------------------------------------------------------------------------


def _due() -> Schema:
    return with_keys(
        told(Check), {"bull": TAG, "farm": may(TEXT), "group": may(TEXT)}
    )  # fmt: skip


def events() -> Schema:
    days = {"first": DAY, "last": DAY, "every": of(may(WHOLE), "only each so many days")}
    return many(record({"farm": may(TEXT), "group": may(TEXT), **days, "text": TEXT}))


def diary() -> Schema:
    check = record({"bull": TAG, "id": of(TEXT, "the check's")})
    return record(
        {
            "on": DAY,
            "overdue": many(_due()),
            "days": many(record({"on": DAY, "due": many(_due())})),
            "turnouts": many(record({"on": DAY, "farm": may(TEXT), "group": TEXT})),
            "season": events(),
            "vet_days": many(record({"on": DAY, "farm": may(TEXT), "checks": many(check)})),
            "vet_without_day": many(
                record({"bull": TAG, "farm": may(TEXT), "id": TEXT, "why": TEXT})
            ),
            "visits": Sometimes(of(many(_visit()), "with --visits")),
        }
    )


def _visit() -> Schema:
    names = ("id", "check", "foot", "claw", "code", "feet", "not_before", "not_after", "due")
    late = {"bull": TAG, "late": of(WHOLE, "days")}
    stop = record({"bull": TAG, "pen": may(TEXT), "temper": may(words(*KNOWN_WORDS["temper"]))})
    return record(
        {
            "on": DAY,
            "farm": may(TEXT),
            "minutes": WHOLE,
            "promised": FLAG,
            "bring": plain(Bring),
            "pen": of(many(stop), "in the order in which to take them"),
            "checks": many(with_keys(told(Check, *names), late)),
        }
    )


def visits() -> Schema:
    left = {"bull": TAG, "farm": may(TEXT), "check": TEXT, "why": TEXT, "rule": may(TEXT)}
    return record(
        {
            "on": DAY,
            "from": DAY,
            "to": DAY,
            "exact": of(FLAG, "no plan is better"),
            "bound": of(WHOLE, "there are no fewer visits than that"),
            "least_unplaced": of(WHOLE, "no fewer checks are left without a day"),
            "visits": many(_visit()),
            "unplaced": many(record(left)),
            "changes": Sometimes(of(many(_change()), "of a what-if")),
        }
    )


def sheet() -> Schema:
    work = {"what": TEXT, "bulls": WHOLE, "count": WHOLE, "unit": words("feet", "blocks")}
    bull = {
        **NAMED,
        "entries": many(LINE),
        "stands": of(may(told(Assessment, *STANDING, "outstanding")), "after them; null: he left"),
    }
    sheet = {
        "farm": of(may(TEXT), "null: the one without a name"),
        "by": many(TEXT),
        "bulls": many(record(bull)),
        "work": many(record(work)),
    }
    return record({"on": DAY, "sheets": many(record(sheet)), "visits": many(_visit())})
