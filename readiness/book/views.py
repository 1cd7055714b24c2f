"""Typed views, one or more for each kind of entry.

For anyone with DuckDB: each shows the entries that stand (struck ones left out), with the fields
of its kind as columns. `bull` is the tag for look-up (no spaces, capitals), `tag` as written.
"""

from __future__ import annotations

from typing import NamedTuple

# Structs compare field by field: the least is the earliest, the same one in every copy of the book.
_FIRST_RECEIPT = """
    SELECT id, first.* FROM (
        SELECT id, min(struct_pack(recorded, position, batch, device, who)) AS first
        FROM receipt GROUP BY id
    )
"""

_EFFECTIVE = """
    SELECT
        entry.id, entry.kind, entry.day, entry.bull, entry.body->>'$.bull' AS tag,
        entry.body->>'$.by' AS said_by, entry.body->>'$.note' AS note,
        receipt.recorded, receipt.position, receipt.batch, receipt.device, receipt.who, entry.body
    FROM entry JOIN first_receipt AS receipt USING (id)
    WHERE entry.kind <> 'strike' AND NOT EXISTS (
        FROM entry AS said WHERE said.kind = 'strike' AND said.body->>'$.entry' = entry.id
    )
"""

_STRIKE = """
    SELECT
        entry.id, entry.day, entry.body->>'$.entry' AS entry, entry.body->>'$.why' AS why,
        entry.body->>'$.by' AS said_by, receipt.recorded
    FROM entry JOIN first_receipt AS receipt USING (id) WHERE entry.kind = 'strike'
"""

# A group as all that is said of it makes it: of each field what was last said, which may be null.
_GROUPS = """
    SELECT
        body->>'$.group' AS "group", body->>'$.farm' AS farm,
        CAST(arg_max(body->>'$.turnout', place) AS DATE) AS turnout,
        CAST(arg_max(body->'$.weeks', place)->>'$' AS INTEGER) AS weeks,
        CAST(arg_max(body->'$.females', place)->>'$' AS INTEGER) AS females,
        coalesce(arg_max(body->'$.class', place)->>'$', 'cows') AS "class",
        max(recorded) AS changed
    FROM (SELECT *, struct_pack(day, recorded, position, id) AS place FROM effective)
    WHERE kind = 'group' GROUP BY ALL
"""

_COMMON = "id, day, bull, tag, said_by, note, recorded"

# What is null is NULL, as what is not said: so that it is taken away is told by name.
_GROUP_SAID = f"""
    SELECT
        {_COMMON}, body->>'$.group' AS "group", body->>'$.farm' AS farm,
        CAST(body->>'$.turnout' AS DATE) AS turnout, CAST(body->>'$.weeks' AS INTEGER) AS weeks,
        CAST(body->>'$.females' AS INTEGER) AS females, body->>'$.class' AS "class",
        nullif(concat_ws(' ',
            CASE json_type(body, '$.weeks') WHEN 'NULL' THEN 'weeks' END,
            CASE json_type(body, '$.females') WHEN 'NULL' THEN 'females' END,
            CASE json_type(body, '$.class') WHEN 'NULL' THEN 'class' END
        ), '') AS taken_away
    FROM effective WHERE kind = 'group'
"""


class _View(NamedTuple):
    """What a view shows: fields of the body, or of each item of one list in it."""

    kinds: tuple[str, ...]
    fields: dict[str, str]
    items: str = ""


# column: type. A column is named as its field in the body.
_KINDS: dict[str, _View] = {
    "bull": _View(
        ("bull",),
        {
            "name": "VARCHAR",
            "breed": "VARCHAR",
            "born": "DATE",
            "origin": "VARCHAR",
            "arrived": "DATE",
            "temper": "VARCHAR",
            "heifer_safe": "BOOLEAN",
            "pen": "VARCHAR",
            "farm": "VARCHAR",
        },
    ),
    "weight": _View(("weight",), {"kg": "DOUBLE"}),
    "membership": _View(("join",), {"group": "VARCHAR", "role": "VARCHAR"}),
    "feet_lifted": _View(("feet",), {"foot": "VARCHAR"}, "lifted"),
    "feet_refused": _View(("feet",), {"foot": "VARCHAR"}, "refused"),
    "feet_finding": _View(
        ("feet",),
        {
            "foot": "VARCHAR",
            "claw": "VARCHAR",
            "code": "VARCHAR",
            "zone": "INTEGER",
            "severity": "INTEGER",
            "stage": "VARCHAR",
            "size_mm": "DOUBLE",
            "was": "VARCHAR",
        },
        "findings",
    ),
    "feet_healed": _View(
        ("feet",),
        {"foot": "VARCHAR", "claw": "VARCHAR", "code": "VARCHAR", "stable": "BOOLEAN"},
        "healed",
    ),
    "feet_work": _View(("feet",), {"foot": "VARCHAR", "claw": "VARCHAR", "act": "VARCHAR"}, "work"),
    "feet_measure": _View(
        ("feet",),
        {
            "foot": "VARCHAR",
            "claw": "VARCHAR",
            "wall_mm": "DOUBLE",
            "sole_mm": "DOUBLE",
            "groove_mm": "DOUBLE",
        },
        "measures",
    ),
    "block": _View(
        ("block-on", "block-off"), {"foot": "VARCHAR", "claw": "VARCHAR", "lost": "BOOLEAN"}
    ),
    "mobility": _View(("mobility",), {"scale": "VARCHAR", "score": "INTEGER", "limb": "VARCHAR"}),
    "condition": _View(("condition",), {"scale": "VARCHAR", "score": "DOUBLE"}),
    "vet_exam": _View(
        ("vet-exam",),
        {
            "outcome": "VARCHAR",
            "again_on": "DATE",
            "scrotum_cm": "DOUBLE",
            "motility_pct": "DOUBLE",
            "normal_pct": "DOUBLE",
            "feet_seen": "BOOLEAN",
            "stands": "BOOLEAN",
        },
    ),
    "vet_look": _View(
        ("vet-look",),
        {
            "about": "VARCHAR",
            "outcome": "VARCHAR",
            "again_on": "DATE",
            "foot": "VARCHAR",
            "part": "VARCHAR",
            "limb": "VARCHAR",
        },
    ),
    "body": _View(("body",), {"part": "VARCHAR", "limb": "VARCHAR", "state": "VARCHAR"}),
    "incident": _View(
        ("incident",),
        {
            "cause": "VARCHAR",
            "lame": "BOOLEAN",
            "fever": "BOOLEAN",
            "limb": "VARCHAR",
            "suspect": "VARCHAR",
        },
    ),
    "treatment": _View(
        ("treatment",),
        {
            "given_by": "VARCHAR",
            "product": "VARCHAR",
            "reason": "VARCHAR",
            "pain_relief": "BOOLEAN",
            "withdrawal_until": "DATE",
        },
    ),
    "own_check": _View(("check",), {"check": "VARCHAR", "result": "VARCHAR"}),
    "moved": _View(("moved",), {"act": "VARCHAR", "reason": "VARCHAR"}),
}


def _query(view: _View) -> str:
    kinds = ", ".join(f"'{kind}'" for kind in view.kinds)
    which = f"kind IN ({kinds})"
    # Where one view shows two kinds, the kind is a column too.
    common = _COMMON if len(view.kinds) == 1 else f"{_COMMON}, kind"
    if not view.items:
        columns = ", ".join(
            _column("body", f"$.{name}", name, t) for name, t in view.fields.items()
        )
        return f"SELECT {common}, {columns} FROM effective WHERE {which}"
    # A list of plain words (lifted feet) has the word itself as its one column.
    plain = len(view.fields) == 1
    columns = ", ".join(
        _column("item", "$" if plain else f"$.{name}", name, t) for name, t in view.fields.items()
    )
    return (
        f"SELECT {common}, {columns} FROM (SELECT *, unnest(CAST(body->'$.{view.items}' AS JSON[]))"
        f" AS item FROM effective WHERE {which})"
    )


def _column(source: str, path: str, name: str, kind: str) -> str:
    return f"CAST({source}->>'{path}' AS {kind}) AS \"{name}\""


VIEWS_VERSION = 3
"""To be counted up whenever a view changes, so that the books of before get it too."""

# In the order in which they can be made; the version that a book has stands in one of them.
VIEWS: dict[str, str] = {
    "view_version": f"SELECT {VIEWS_VERSION} AS version",
    "first_receipt": _FIRST_RECEIPT,
    "effective": _EFFECTIVE,
    "strike": _STRIKE,
    **{name: _query(view) for name, view in _KINDS.items()},
    "groups": _GROUPS,
    "group_said": _GROUP_SAID,
    "team": "FROM group_said",  # as it was called before; others' questions go on working
}
