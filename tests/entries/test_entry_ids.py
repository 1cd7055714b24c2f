"""Ids: typed ones tell their moment, imported ones come from the line."""

from __future__ import annotations

import uuid
from datetime import UTC, datetime

from readiness.entries.ids import _uuid5, line_id, typed_id

MOMENT = datetime(2026, 4, 3, 10, 44, 0, 123456, tzinfo=UTC)


def test_a_typed_id_is_a_uuid_7_of_its_moment() -> None:
    """RFC 9562, 5.7: 48 bits of milliseconds, version 7, variant 10."""
    made = uuid.UUID(typed_id(MOMENT))
    assert made.version == 7
    assert made.variant == uuid.RFC_4122
    assert made.int >> 80 == int(MOMENT.timestamp() * 1000)
    assert typed_id(MOMENT) != typed_id(MOMENT)


def test_a_line_s_id_is_a_uuid_5_of_its_content_and_count() -> None:
    line = {"kind": "weight", "on": "2026-04-03", "bull": "00417", "kg": 980}
    assert uuid.UUID(line_id(line, 1)).version == 5
    assert line_id(line, 1) == line_id(dict(reversed(line.items())), 1)
    assert len({line_id(line, 1), line_id(line, 2), line_id(line | {"kg": 981}, 1)}) == 3


def test_an_id_made_by_hand_is_what_the_standard_says() -> None:
    for name in ("", "1 {}", "2 " + '{"bull":"½ 牛"}'):
        assert _uuid5(uuid.NAMESPACE_URL, name) == str(uuid.uuid5(uuid.NAMESPACE_URL, name))
