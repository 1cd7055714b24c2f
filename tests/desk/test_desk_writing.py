"""Writing at the desk: check and writing are one step; given ids; correct; what was handled."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from readiness.desk.desk import Desk
from readiness.desk.writing import TRIES
from readiness.entries.entry import NewEntry
from readiness.entries.ids import again_id
from readiness.herd.done import Done
from readiness.system.errors import BookBusy, CannotWrite, DataError, NotFound, ReadinessError
from tests.desk.desks import CORRAN, DAY, TARN, booked, desk_at, new_id, said, standing, walk


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "bulls.duckdb"
    desk_at(path).add([booked(name="Corran"), booked(TARN)])
    return path


@pytest.fixture
def desk(path: Path) -> Desk:
    return desk_at(path)


def before_writing(desk: Desk, monkeypatch: pytest.MonkeyPatch, do: Callable[[], object]) -> None:
    """Between this desk's next check and its writing, ``do`` happens, once."""
    append = desk.book.append
    done: list[object] = []

    def late(*arguments: Any, **named: Any) -> Any:
        if not done:
            done.append(do())
        return append(*arguments, **named)

    monkeypatch.setattr(desk.book, "append", late)


def id_of(desk: Desk, tag: str, kind: str) -> str:
    return next(entry.id for entry in desk.card(tag).entries if entry.kind == kind)


# ---- check and writing -----------------------------------------------------------------------


def test_a_bull_whose_booking_is_struck_meanwhile_gets_no_entry(
    path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = desk_at(path, "yard")
    before_writing(desk, monkeypatch, lambda: other.strike(id_of(other, CORRAN, "bull"), "sold"))
    with pytest.raises(DataError, match=f"no bull {CORRAN} is booked"):
        desk.add([walk(0)])
    assert standing(path) == [booked(TARN)]


def test_a_booking_is_not_struck_where_an_entry_comes_in_meanwhile(
    path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    before_writing(desk, monkeypatch, lambda: desk_at(path, "yard").add([walk(0)]))
    with pytest.raises(DataError, match="only entry that books"):
        desk.strike(id_of(desk, CORRAN, "bull"), "sold")
    assert walk(0) in standing(path)


def test_what_another_writes_meanwhile_neither_loses_nor_doubles_an_entry(
    path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    before_writing(desk, monkeypatch, lambda: desk_at(path, "yard").add([walk(1, TARN)]))
    assert len(desk.add([walk(2)]).written) == 1
    assert standing(path)[2:] == [walk(1, TARN), walk(2)]
    assert len(desk.board().bulls) == 2


def test_the_check_and_the_book_itself_refuse_in_the_same_words(path: Path, desk: Desk) -> None:
    [id_] = desk.add([walk(0)]).written
    [strike] = desk.strike(id_, "slip").written
    desk.add([walk(1)])
    for target in (strike, id_of(desk, CORRAN, "bull")):
        with pytest.raises(DataError) as checked:
            desk.strike(target, "")
        content = {"kind": "strike", "on": "2026-04-03", "entry": target}
        with pytest.raises(DataError) as written:
            desk_at(path).book.append([NewEntry(new_id(), content)], "")
        assert str(written.value) == str(checked.value)


def test_a_book_begun_by_another_meanwhile_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "new.duckdb"
    desk = desk_at(path)
    before_writing(desk, monkeypatch, lambda: desk_at(path, "yard").add([booked(TARN)]))
    desk.add([booked(), walk(0)])
    assert len(standing(path)) == 3


def test_where_others_never_stop_it_says_so(
    path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    append = desk.book.append
    other = desk_at(path, "yard")
    tried: list[int] = []

    def always_late(*arguments: Any, **named: Any) -> Any:
        tried.append(1)
        other.add([walk(1, TARN)])
        return append(*arguments, **named)

    monkeypatch.setattr(desk.book, "append", always_late)
    with pytest.raises(BookBusy, match="Nothing was written"):
        desk.add([walk(2)])
    assert len(tried) == TRIES
    assert walk(2) not in standing(path)


# ---- given ids -------------------------------------------------------------------------------


def test_given_ids_are_those_of_the_entries_and_saving_again_doubles_nothing(
    path: Path, desk: Desk
) -> None:
    ids = [new_id(), new_id()]
    contents = [walk(0), said("weight", kg=900)]
    assert not desk.holds(ids)
    assert desk.add(contents, ids).written == tuple(ids)
    assert desk.holds(ids)
    assert desk.holds([ids[1].upper(), new_id()])
    again = desk_at(path).add(contents, ids)
    assert (again.written, again.skipped) == ((), tuple(ids))
    assert len(standing(path)) == 4


def test_given_ids_of_something_else_are_refused(path: Path, desk: Desk) -> None:
    ids = [new_id()]
    desk.add([walk(0)], ids)
    with pytest.raises(DataError, match="id of another entry"):
        desk.add([walk(2)], ids)
    with pytest.raises(ValueError, match="argument 2 is longer"):
        desk.add([walk(2), walk(3)], [new_id()])
    assert standing(path)[2:] == [walk(0)]


def test_the_desk_holds_what_was_struck(desk: Desk) -> None:
    [id_] = desk.add([walk(0)]).written
    desk.undo()
    assert desk.holds([id_])
    assert not desk.holds([])


# ---- correct ---------------------------------------------------------------------------------


def test_a_correction_withdraws_and_says_anew_in_one_batch(path: Path, desk: Desk) -> None:
    [old] = desk.add([walk(3)]).written
    done = desk.correct(old, [walk(1), said("weight", kg=900)])
    assert standing(path)[2:] == [walk(1), said("weight", kg=900)]
    strike, *new = desk.entries(done.written)
    assert dict(strike.body) == {
        "kind": "strike",
        "on": "2026-04-03",
        "entry": old,
        "why": "corrected",
        "by": "M. Oakes",
    }
    assert {entry.batch for entry in (strike, *new)} == {strike.batch}
    assert desk.book.verify().ok


def test_one_undo_takes_the_whole_correction_back_and_the_next_what_was_before(path: Path) -> None:
    """Across desks opened anew each time."""
    [old] = desk_at(path).add([walk(3)]).written
    strike, new = desk_at(path).correct(old, [walk(1)]).written
    assert {entry.id for entry in desk_at(path).undo()} == {strike, new}
    assert standing(path)[2:] == [walk(3)]
    again = again_id(strike)
    assert [entry.id for entry in desk_at(path).card(CORRAN).entries[:1]] == [again]
    desk_at(path).correct(again, [walk(2)])
    assert standing(path)[2:] == [walk(2)]
    for left in ([walk(3)], []):
        desk_at(path).undo()
        assert standing(path)[2:] == left


def test_the_only_booking_of_a_bull_may_be_corrected_and_taken_back(path: Path) -> None:
    desk_at(path).add([walk(0)])
    old = id_of(desk_at(path), CORRAN, "bull")
    desk_at(path).correct(old, [booked(name="Corran Beg")])
    assert desk_at(path).card(CORRAN).state.profile["name"] == "Corran Beg"
    desk_at(path).undo()
    assert desk_at(path).card(CORRAN).state.profile["name"] == "Corran"
    assert desk_at(path).book.verify().ok


def test_the_only_booking_is_not_corrected_into_another_bulls(path: Path, desk: Desk) -> None:
    desk.add([walk(0)])
    before = desk.book.snapshot()
    with pytest.raises(DataError, match="only entry that books"):
        desk.correct(id_of(desk, CORRAN, "bull"), [booked("00999")])
    assert desk.book.snapshot() == before


def refusals(desk: Desk) -> dict[str, tuple[str, list[dict[str, Any]], type[ReadinessError]]]:
    [old, struck] = desk.add([walk(3), walk(2)]).written
    [strike] = desk.strike(struck, "slip").written
    return {
        "nothing is changed": (old, [dict(reversed(walk(3).items()))], DataError),
        "Nothing is said instead": (old, [], DataError),
        "There is no entry": (new_id(), [walk(0)], NotFound),
        "takes another entry back, and stays itself": (strike, [walk(0)], DataError),
        "was taken back already": (struck, [walk(0)], DataError),
        "score": (old, [walk(0), walk(9)], DataError),
        "no bull 00999 is booked": (old, [walk(0), walk(0, "00999")], DataError),
    }


@pytest.mark.parametrize(
    "words",
    [
        "nothing is changed",
        "Nothing is said instead",
        "There is no entry",
        "takes another entry back, and stays itself",
        "was taken back already",
        "score",
        "no bull 00999 is booked",
    ],
)
def test_a_correction_that_cannot_stand_writes_nothing(desk: Desk, words: str) -> None:
    entry_id, contents, error = refusals(desk)[words]
    before = desk.book.snapshot()
    with pytest.raises(error, match=words):
        desk.correct(entry_id, contents)
    assert desk.book.snapshot() == before


def test_two_who_correct_one_entry_at_once_do_not_both_say_it(
    path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    [old] = desk.add([walk(3)]).written
    before_writing(desk, monkeypatch, lambda: desk_at(path, "yard").correct(old, [walk(1)]))
    with pytest.raises(DataError, match="taken back already"):
        desk.correct(old, [walk(2)])
    assert standing(path)[2:] == [walk(1)]


# ---- what was handled ------------------------------------------------------------------------


def test_handled_are_who_was_lifted_walked_or_had_a_block_and_not_who_was_only_weighed(
    desk: Desk,
) -> None:
    tags = [f"B{number}" for number in range(9)]
    desk.add([booked(tag) for tag in tags])
    block = {"foot": "LH", "claw": "outer"}
    contents = [
        said("feet", tags[0], lifted=["LF"]),
        walk(0, tags[1]),
        said("condition", tags[2], scale="five", score=3),
        said("weight", tags[3], kg=900),
        said("block-on", tags[4], **block),
        said("block-off", tags[4], **block),
        said("moved", tags[5], act="in"),
        walk(0, tags[6], on="2026-04-02"),
        said("treatment", tags[7], given_by="vet", product="Hoof gel"),
    ]
    desk.add(contents)
    desk.add([walk(0, tags[8])])
    assert list(desk.handled_on(DAY)) == [tags[0], tags[1], tags[4], tags[8]]
    assert desk.handled_on(DAY)[tags[0]] == Done(("feet",), frozenset(("LF",)))
    desk.undo()
    assert list(desk.handled_on(DAY)) == [tags[0], tags[1], tags[4]]
    assert list(desk.handled_on(date(2026, 4, 2))) == [tags[6]]


def test_without_a_book_nothing_was_handled(tmp_path: Path) -> None:
    assert desk_at(tmp_path / "none.duckdb").handled_on(DAY) == {}


# ---- read only -------------------------------------------------------------------------------


def test_a_readonly_desk_refuses_every_writing(path: Path) -> None:
    entry_id = id_of(desk_at(path), CORRAN, "bull")
    desk = desk_at(path, readonly=True)
    before = path.read_bytes()
    writings: list[Callable[[], object]] = [
        lambda: desk.add([walk(0)]),
        lambda: desk.add([walk(0)], [new_id()]),
        lambda: desk.log(CORRAN, "walk 0"),
        lambda: desk.strike(entry_id, ""),
        lambda: desk.correct(entry_id, [booked(name="Other")]),
        desk.undo,
    ]
    for write in writings:
        with pytest.raises(CannotWrite):
            write()
    assert path.read_bytes() == before


SEEN = (
    said("feet", on="2026-04-04", lifted=["LF"]),
    walk(on="2026-04-04"),
    said("condition", on="2026-04-04", scale="five", score=3),
    said("vet-exam", on="2026-04-04", outcome="satisfactory"),
    said("vet-look", on="2026-04-04", about="lame", outcome="fit"),
    said("block-off", on="2026-04-04", foot="LF", claw="outer"),
    said("check", on="2026-04-04", check="ring", result="pass"),
)


@pytest.mark.parametrize("content", SEEN, ids=lambda content: content["kind"])
def test_a_look_of_tomorrow_clears_nobody_when_that_day_comes(
    tmp_path: Path, content: dict[str, Any]
) -> None:
    # A month mistyped, or a look that was planned: when its day comes nobody has looked.
    desk = desk_at(tmp_path / "bulls.duckdb")
    desk.add([booked()])
    with pytest.raises(DataError, match="2026-04-04 is still to come"):
        desk.add([content])
    assert len(standing(tmp_path / "bulls.duckdb")) == 1


def test_what_is_meant_to_be_done_may_be_written_ahead_of_its_day(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb")
    assert len(desk.add([booked(), said("moved", on="2026-04-04", act="out")]).written) == 2
