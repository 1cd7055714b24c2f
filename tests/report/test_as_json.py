"""Results as JSON: every day is a date, every field is told of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from readiness.herd.diary import diary
from readiness.report.as_json import as_json, board_json, card_json, diary_json, stats_json
from tests.herd.lifted import figures_of
from tests.herd.test_figures import HERD
from tests.report.awkward import DAY, board, card, named


def numbers(value: Any) -> Iterator[int]:
    """Every whole number in a JSON value."""
    if isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            yield from numbers(each)
    elif isinstance(value, int):
        yield value


def test_no_day_goes_out_as_a_number() -> None:
    said = [
        board_json(board()),
        *(card_json(card(name), DAY) for name in ("Tarn", "Corran", "Brock")),
        diary_json(diary(board()), board().groups),
        stats_json(figures_of(*HERD)),
    ]
    assert max(numbers(said)) < 100_000  # a day counts more than 700,000


def test_every_field_of_a_result_has_its_key_in_its_order() -> None:
    others = {"frm": "from", "lags": "after"}
    bull = named("Corran")
    for result in (bull, bull.outstanding[0], bull.reasons[0], bull.chain[0], board().groups[0]):
        names = [name for name in type(result).__annotations__ if name != "key"]
        assert list(as_json(result)) == [others.get(name, name) for name in names]
    assert as_json(bull, "hold", "status") == {"status": "HOLD", "hold": "reason"}
