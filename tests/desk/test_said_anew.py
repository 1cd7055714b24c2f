"""What is taken back and said anew counts where it counted before: behind what was said until then,
before what was said since. Else whoever mends the morning's slip would have it said after what was
seen wrong in the afternoon, and it would clear that."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from readiness.book import Book, stream
from readiness.book.anew import CORRECTED, MENDED, WRONG_BULL
from readiness.book.shelf import Shelf, effective
from readiness.desk.desk import Desk
from readiness.desk.retagging import retag
from readiness.system.clock import FixedClock
from readiness.system.errors import NotFound
from tests.book.builders import ask
from tests.build import booked, condition, exam, group, join, lift, said, walk

Said = dict[str, Any]
ON = "2026-04-01"
LATER = "2026-04-02"
SOUND = (
    booked(born="2022-03-01"),
    booked("B 2", born="2022-03-01"),
    group("2026-04-09"),
    join(),
    join("B 2"),
    *(lift("2026-03-20", tag=tag) for tag in ("B 1", "B 2")),
    *(condition(LATER, 3.25, tag=tag) for tag in ("B 1", "B 2")),
    *(walk(LATER, 0, tag=tag) for tag in ("B 1", "B 2")),
)
OK = exam(ON, scrotum_cm=36)
WRONG = said("body", ON, part="penis", state="wrong")


class Yard:
    """A book in which each writing is an hour after the one before."""

    def __init__(self, path: Path, device: str = "shed") -> None:
        self.path, self.device = path, device
        self.now = datetime(2026, 4, 2, 6, tzinfo=UTC)

    def desk(self) -> Desk:
        self.now += timedelta(hours=1)
        clock = FixedClock(self.now)
        return Desk(Book(self.path, clock, self.device), None, clock, on=date(2026, 4, 2))

    def say(self, *contents: Said) -> str:
        """The id of the first."""
        return self.desk().add(contents).written[0]

    def copy(self, name: str) -> Yard:
        other = Yard(self.path.with_name(f"{name}.duckdb"), name)
        other.now = self.now
        shutil.copy(self.path, other.path)
        return other

    def status(self, tag: str = "B 1") -> str:
        return self.desk().card(tag).assessment.status

    def order(self, tag: str = "B 1") -> list[str]:
        """The ids of all that stands of him, as it counts."""
        shelf = self.desk().reading().shelf
        return [entry.id for entry in shelf.of(tag.replace(" ", ""))]


@pytest.fixture
def yard(tmp_path: Path) -> Yard:
    made = Yard(tmp_path / "b.duckdb")
    made.say(*SOUND)
    made.say(exam("2026-03-30", tag="B 2"))
    return made


def test_an_hour_later_it_goes(yard: Yard) -> None:
    # Without this, what follows would pass on a program that holds every bull.
    yard.say(WRONG)
    yard.say(OK)
    assert yard.status() == "GO"


# ---- each way in which something is said anew ----------------------------------------------------


def undone(yard: Yard, id_: str) -> None:
    yard.desk().strike(id_, "a slip")
    yard.desk().undo()


def noted(yard: Yard, id_: str) -> None:
    yard.desk().correct(id_, [{**OK, "note": "at the mart"}])


def mended(yard: Yard, id_: str) -> None:
    yard.desk().instead([id_], [{**OK, "note": "at the mart"}], MENDED)


def mended_and_taken_back(yard: Yard, id_: str) -> None:
    mended(yard, id_)
    yard.desk().undo()


def mended_often(yard: Yard, id_: str) -> None:
    for note in ("one", "two", "three"):
        id_ = yard.desk().correct(id_, [{**OK, "note": note}]).written[1]
    undone(yard, id_)


def retagged(yard: Yard, id_: str) -> None:
    retag(yard.desk(), "B 1", "B 3")
    retag(yard.desk(), "B 3", "B 1")


@pytest.mark.parametrize(
    "anew", [undone, noted, mended, mended_and_taken_back, mended_often, retagged]
)
def test_the_mornings_examination_said_anew_clears_what_was_seen_in_the_afternoon(
    yard: Yard, anew: Callable[[Yard, str], None]
) -> None:
    morning = yard.say(OK)
    yard.say(WRONG)
    assert yard.status() == "HOLD"
    anew(yard, morning)
    assert yard.status() == "HOLD"


def test_an_examination_given_to_the_bull_it_was_of_clears_what_was_seen_of_him_since(
    yard: Yard,
) -> None:
    morning = yard.say({**OK, "bull": "B 2"})
    yard.say(WRONG)
    yard.desk().instead([morning], [OK], WRONG_BULL)
    assert yard.status() == "HOLD"


def test_one_animal_under_two_tags_loses_the_order_of_his_day(yard: Yard) -> None:
    yard.say(OK)
    yard.say({**WRONG, "bull": "B 2"})
    retag(yard.desk(), "B 1", "B 2", same=True)
    assert yard.status("B 2") == "HOLD"


def test_a_new_block_counts_as_off_once_how_the_old_one_came_off_is_corrected(yard: Yard) -> None:
    off = said("block-off", "2026-03-20", foot="LH", claw="inner")
    on = said("block-on", "2026-03-20", foot="LH", claw="inner")
    done = yard.desk().add([OK, off, on])
    assert yard.status() == "HOLD"
    yard.desk().correct(done.written[1], [{**off, "lost": True}])
    assert yard.status() == "HOLD"


def test_the_mornings_word_on_heifers_counts_again_once_his_pen_is_corrected(yard: Yard) -> None:
    yard.say(group("2026-04-09", **{"class": "heifers"}), OK)
    morning = yard.say(booked(on=ON, heifer_safe=True, pen="3"))
    yard.say(booked(on=ON, heifer_safe=False))
    yard.desk().correct(morning, [booked(on=ON, heifer_safe=True, pen="4")])
    assert yard.status() == "HOLD"


def test_a_groups_first_day_counts_again_once_its_females_are_corrected(yard: Yard) -> None:
    morning = yard.say(group("2026-04-20", on=ON, females=30))
    yard.say(group("2026-05-20", on=ON))
    yard.desk().correct(morning, [group("2026-04-20", on=ON, females=33)])
    (there,) = yard.desk().groups().values()
    assert (date.fromordinal(there.turnout), there.females) == (date(2026, 5, 20), 33)
    assert ask(yard.path, "SELECT turnout, females FROM groups") == [(date(2026, 5, 20), 33)]


def test_what_stands_for_one_entry_keeps_the_order_in_which_it_is_said(yard: Yard) -> None:
    before, of, after = (yard.say({**OK, "note": note}) for note in ("before", "of", "after"))
    done = yard.desk().correct(of, [{**OK, "note": "one"}, {**OK, "note": "two"}])
    one, two = done.written[1:]
    again = yard.desk().correct(one, [{**OK, "note": "1a"}, {**OK, "note": "1b"}]).written[1:]
    told = [id_ for id_ in yard.order() if id_ in {before, *again, two, after}]
    assert told == [before, *again, two, after]


# ---- and what is not said anew -------------------------------------------------------------------


def test_what_is_said_of_the_same_day_later_on_purpose_stays_later(yard: Yard) -> None:
    slip = yard.say(OK)
    yard.say(WRONG)
    yard.desk().strike(slip, "not looked at yet")
    yard.say(OK)  # the vet came in the evening
    assert yard.status() == "GO"


def test_a_file_that_begins_with_a_strike_puts_what_follows_before_what_was_said_since(
    yard: Yard, tmp_path: Path
) -> None:
    # In a file, what stands behind a strike need not stand for what it takes back.

    slip = yard.say(said("weight", ON, kg=900))
    yard.say(WRONG)
    lines = [{"kind": "strike", "on": ON, "entry": slip, "why": "a slip"}, OK]
    (tmp_path / "f.jsonl").write_text("".join(f"{json.dumps(line)}\n" for line in lines))
    yard.desk().import_file(tmp_path / "f.jsonl")
    assert yard.status() == "GO"


def test_as_known_before_it_was_corrected_it_says_what_it_said(yard: Yard) -> None:
    morning = yard.say(OK)
    moment = yard.now.isoformat(timespec="microseconds").replace("+00:00", "Z")
    noted(yard, morning)
    known = yard.desk().reading(moment).shelf.of("B1")
    assert morning in {entry.id for entry in known}


# ---- the same order everywhere -------------------------------------------------------------------


def random_doings(rng: random.Random, yards: Sequence[Yard]) -> None:
    for _ in range(25):
        yard = rng.choice(yards)
        desk = yard.desk()
        ids = [entry.id for entry in desk.standing() if entry.kind in ("vet-exam", "body")]
        doing = rng.randrange(6) if ids else 0
        if doing < 2:
            desk.add([rng.choice([OK, WRONG])])
        elif doing == 2:
            desk.strike(rng.choice(ids), "a slip")
        elif doing == 3:
            with suppress(NotFound):  # on this device there may be nothing
                desk.undo()
        elif doing == 4:
            desk.correct(rng.choice(ids), [{**OK, "note": str(rng.random())}] * rng.choice([1, 2]))
        else:
            some = rng.sample(ids, min(2, len(ids)))
            desk.instead(some, [{**OK, "bull": rng.choice(["B 1", "B 2"])} for _ in some], MENDED)


@pytest.mark.parametrize("seed", range(3))
def test_copies_put_together_count_in_different_orders(yard: Yard, seed: int) -> None:
    rng = random.Random(seed)
    yards = [yard, yard.copy("two")]
    random_doings(rng, yards)
    one, two = yards
    for here, there in ((one, two), (two, one)):
        here.desk().merge(there.path)
    shelf, other = (each.desk().reading().shelf for each in yards)
    assert shelf.standing == other.standing
    in_sql = "SELECT id FROM effective ORDER BY place"
    assert ask(one.path, in_sql) == [(entry.id,) for entry in shelf.standing]
    for tag in ("B1", "B2"):
        assert shelf.of(tag) == [entry for entry in shelf.standing if entry.bull == tag]


@pytest.mark.parametrize("seed", range(3))
def test_a_desk_that_goes_on_a_stream_and_a_reading_anew_differ(
    yard: Yard, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stream, "_ROWS", 3)  # a bull's entries come in several pieces
    rng = random.Random(seed)
    random_doings(rng, [yard])
    kept = yard.desk()
    kept.reading()
    for _ in range(4):
        kept.add([{**WRONG, "state": "watch"}])
        shelf = kept.reading(last=True).shelf
        anew = Shelf(kept.book.snapshot().entries)
        assert shelf.standing == anew.standing
        assert shelf.by_bull == anew.by_bull
        with kept.book.streamed() as told:
            assert {own[0].bull: own for own in told.bulls} == anew.by_bull
            assert told.groups == anew.groups
        kept.undo()
        kept.reading()


def test_two_entries_that_stand_for_each_other_stop_no_reading(yard: Yard, tmp_path: Path) -> None:
    # No program writes that; a file of entries can say it, each with its receipt.

    ids = [f"00000000-0000-7000-8000-00000000000{n}" for n in range(4)]
    lines = []
    for at, (strike, entry, aim) in enumerate(((0, 1, 3), (2, 3, 1))):
        batch = {"recorded": f"2026-04-01T0{at}:00:00.000000Z", "batch": f"b{at}", "device": "d"}
        lines.append(
            {"kind": "strike", "on": ON, "id": ids[strike], "entry": ids[aim], "why": CORRECTED,
             "position": 0, **batch}
        )  # fmt: skip
        lines.append({**OK, "id": ids[entry], "position": 1, **batch})
    (tmp_path / "f.jsonl").write_text("".join(f"{json.dumps(line)}\n" for line in lines))
    yard.desk().import_file(tmp_path / "f.jsonl")
    assert effective(yard.desk().book.snapshot().entries)
