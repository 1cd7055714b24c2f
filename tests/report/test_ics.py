"""The calendar of planned visits, read back with vobject (a reader that is not the writer) and, for
octets, byte by byte. References: RFC 5545 (iCalendar) and RFC 7986; the section stands beside each
test."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from itertools import count
from typing import Any

import pytest
import vobject
from hypothesis import example, given
from hypothesis import strategies as st

from readiness.report.ics import Counted, Span, Written, calendar
from readiness.report.ics_event import DIARY, VISITS, Appointment, NotOurs, uid_of
from readiness.system.plain import plain

NOW = datetime(2026, 4, 1, 7, 30, 15, 123456, tzinfo=UTC)
LATER = NOW + timedelta(days=1)
DAY = date(2026, 4, 9)
ALL = Span(date(2026, 4, 1), date(2026, 6, 30), None)
SAND = Appointment(
    "Low Sandwath", DAY, "Feet at Low Sandwath: 6 bulls", "Gorse: LH\nYarrow", "CONFIRMED"
)
KELD = Appointment("Keld", date(2026, 4, 20), "Feet at Keld: 1 bull", "Rowan: look", "TENTATIVE")
NAMELESS = Appointment("", DAY, "Feet: 2 bulls", "Bracken", "TENTATIVE")

# The properties of an event that a change of it must move: 3.8.7.2, 3.8.7.3, 3.8.7.4.
STAMPS = ("dtstamp", "last_modified", "sequence")


def made(
    *visits: Appointment, before: bytes | None = None, now: datetime = NOW, span: Span = ALL
) -> Written:
    return calendar(visits, span=span, now=now, before=before)


def read(data: bytes) -> dict[str, Any]:
    """vobject's events by UID; the whole file is valid by its reckoning."""
    found = list(vobject.readComponents(data.decode()))
    assert len(found) == 1
    found[0].validate(raiseException=True)
    events = found[0].contents.get("vevent", [])
    by_uid = {event.uid.value: event for event in events}
    assert len(by_uid) == len(events)
    return by_uid


def visit_uid(farm: str, day: date) -> str:
    return uid_of((day, farm, ""), VISITS)


def event_of(data: bytes, visit: Appointment) -> Any:
    return read(data)[visit_uid(visit.farm, visit.day)]


def block(data: bytes, visit: Appointment) -> bytes:
    """The bytes of one visit's event."""
    blocks: list[bytes] = re.findall(rb"BEGIN:VEVENT\r\n.*?END:VEVENT\r\n", data, re.DOTALL)
    uid = visit_uid(visit.farm, visit.day).encode()
    (found,) = [each for each in blocks if b"\r\nUID:" + uid + b"\r\n" in each]
    return found


# ---- what it says -------------------------------------------------------------------------------


def test_an_all_day_visit_as_another_reader_sees_it() -> None:
    """RFC 5545, 3.6.1: DTEND of an all-day event is the day after, not included; 3.8.1.11 STATUS;
    3.8.2.7 TRANSP; 3.8.1.7 LOCATION; 3.8.1.2 CATEGORIES."""
    event = event_of(made(SAND).data, SAND)
    assert (event.dtstart.value, event.dtend.value) == (DAY, date(2026, 4, 10))
    assert type(event.dtstart.value) is type(event.dtend.value) is date
    assert event.summary.value == "Feet at Low Sandwath: 6 bulls"
    assert event.description.value == "Gorse: LH\nYarrow"
    assert event.location.value == "Low Sandwath"
    assert event.status.value == "CONFIRMED"
    assert event.transp.value == "TRANSPARENT"
    assert event.categories.value == ["Return visit"]
    assert event.dtstamp.value == event.created.value == datetime(2026, 4, 1, 7, 30, 15, tzinfo=UTC)
    assert event.sequence.value == "0"


def test_the_dates_are_dates_and_the_stamps_utc() -> None:
    """RFC 5545, 3.3.4 and 3.2.20: a DATE says so; 3.8.7.2: DTSTAMP is in UTC, form 2 of 3.3.5.
    A moment given in another zone is the same moment."""
    there = NOW.astimezone(datetime.strptime("+0200", "%z").tzinfo)
    data = made(SAND, now=there).data
    assert data == made(SAND).data
    lines = data.split(b"\r\n")
    assert b"DTSTART;VALUE=DATE:20260409" in lines
    assert b"DTEND;VALUE=DATE:20260410" in lines
    assert b"DTSTAMP:20260401T073015Z" in lines


def test_what_is_not_promised_is_tentative() -> None:
    """RFC 5545, 3.8.1.11."""
    assert event_of(made(KELD).data, KELD).status.value == "TENTATIVE"


def test_the_calendars_own_lines() -> None:
    """RFC 5545, 3.4 (the first and last line), 3.6 and 3.7 (PRODID, VERSION, CALSCALE, METHOD each
    once); RFC 7986, 5.1 (NAME)."""
    lines = made(SAND).data.split(b"\r\n")
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert lines[-2:] == [b"END:VCALENDAR", b""]
    for line in (b"VERSION:2.0", b"PRODID:-//readiness//return visits//EN", b"METHOD:PUBLISH",
                 b"CALSCALE:GREGORIAN", b"NAME:Return visits"):  # fmt: skip
        assert lines.count(line) == 1


def test_a_farm_without_a_name_has_no_place() -> None:
    event = event_of(made(NAMELESS).data, NAMELESS)
    assert "location" not in event.contents
    assert event.x_readiness_farm.value == ""


def test_an_empty_plan_is_a_calendar_without_visits() -> None:
    empty = made()
    assert read(empty.data) == {}
    assert made(SAND, before=empty.data).data == made(SAND).data
    assert made(before=empty.data, now=LATER).data == empty.data


def test_the_order_is_by_day_and_farm_whatever_is_given() -> None:
    data = made(KELD, SAND, NAMELESS).data
    assert data == made(NAMELESS, SAND, KELD).data
    places = [data.index(block(data, visit)) for visit in (NAMELESS, SAND, KELD)]
    assert places == sorted(places)


def test_two_visits_to_one_farm_on_one_day_are_a_fault_of_the_caller() -> None:
    with pytest.raises(ValueError, match="two events"):
        made(SAND, SAND._replace(summary="again"))


# ---- octets -------------------------------------------------------------------------------------

LONG = Appointment("Ö", DAY, "x" * 300, "é牛🐂" * 100, "CONFIRMED")


def test_lines_are_folded_at_75_octets_and_split_no_character() -> None:
    """RFC 5545, 3.1: lines SHOULD NOT be longer than 75 octets, excluding the line break; a fold is
    CRLF and one space. Splitting a multi-octet character is to be avoided: each physical line
    decodes alone."""
    data = made(LONG).data
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) in (74, 75)
    assert sum(line.startswith(b" ") for line in lines) > 15
    assert [line.decode("utf-8") for line in lines]
    assert b"\r\nSUMMARY:" + b"x" * 300 + b"\r\n" in data.replace(b"\r\n ", b"")
    assert event_of(data, LONG).description.value == "é牛🐂" * 100


def test_every_line_ends_in_cr_lf() -> None:
    """RFC 5545, 3.1."""
    data = made(LONG, SAND, KELD).data
    assert data.endswith(b"\r\n")
    assert data.count(b"\n") == data.count(b"\r") == data.count(b"\r\n")


@pytest.mark.parametrize(
    ("text", "octets"),
    [
        ("a,b", rb"a\,b"),
        ("a;b", rb"a\;b"),
        ("a\\b", rb"a\\b"),
        ("a\nb", rb"a\nb"),
        ("a\r\nb", rb"a\nb"),
        ("a\rb", rb"a\nb"),
        ("a:b", rb"a:b"),
        ('a"b', rb'a"b'),
        (r"a\nb", rb"a\\nb"),
        (r"a\Nb", rb"a\\Nb"),
        (r"a\\N\N,", rb"a\\\\N\\N\,"),
    ],
)
def test_text_is_escaped(text: str, octets: bytes) -> None:
    r"""RFC 5545, 3.3.11: backslash, semicolon, comma are escaped, a line break is \n, a colon and a
    double quote are not escaped."""
    data = made(SAND._replace(description=text)).data
    assert b"\r\nDESCRIPTION:" + octets + b"\r\n" in data
    expected = text.replace("\r\n", "\n").replace("\r", "\n")
    assert event_of(data, SAND).description.value == expected


def test_a_name_puts_in_no_line_of_its_own() -> None:
    """RFC 5545, 3.1: a content line ends at CRLF, so none may come out of a value."""
    evil = "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:evil\r\nATTACH:file:///etc/passwd\r\n"
    visit = Appointment(evil, DAY, evil, evil, "CONFIRMED")
    data = made(visit).data
    names = [re.split(rb"[:;]", line)[0] for line in data.split(b"\r\n") if line[:1] != b" "]
    assert names.count(b"BEGIN") == names.count(b"END") == 2
    assert names.count(b"UID") == 1
    assert b"ATTACH" not in names
    event = event_of(data, visit)
    assert event.summary.value == event.location.value == plain(evil)
    assert event.description.value == evil.replace("\r\n", "\n")
    assert made(visit, before=data, now=LATER).data == data


def test_controls_and_turned_text_do_not_reach_the_calendar() -> None:
    """RFC 5545, 3.1: CONTROL is no VALUE-CHAR. Direction overrides would show another farm's
    name."""
    visit = Appointment(
        "Ke\x1b[2Jld\u202e", DAY, "\x00a\x07\u2028b", "c\x85d\u2066\ne\tf", "CONFIRMED"
    )
    data = made(visit).data
    assert not re.search(rb"[\x00-\x09\x0b\x0c\x0e-\x1f\x7f]", data)
    event = event_of(data, visit)
    assert event.location.value == "Ke[2Jld"
    assert event.summary.value == "a b"
    assert event.description.value == "c d\ne f"


def test_half_a_surrogate_pair_is_written_and_found_again() -> None:
    visit = SAND._replace(farm="a\ud800", summary="b\udfff")
    data = made(visit).data
    assert event_of(data, visit).summary.value == "b"
    assert made(visit, before=data, now=LATER) == Written(data, Counted(0, 0, 0, 1))


Events = st.SearchStrategy[Appointment]

HOSTILE = st.one_of(
    st.text(max_size=40),
    st.text(alphabet='\\nN,;:"\r\n \t^%=é牛🐂\u202eא\u0301', max_size=300),
    st.sampled_from(["x\r\nEND:VEVENT", "🐂" * 75, "שלום, \u202eעולם", "é" * 150, "\\N\\n\\\\N"]),
)


def events(
    last: st.SearchStrategy[date | None],
    what: st.SearchStrategy[str],
    every: st.SearchStrategy[int | None],
) -> Events:
    """Appointments whose words drive what reads them; only one with a last day comes again."""
    found = st.builds(
        Appointment,
        farm=HOSTILE,
        day=st.dates(ALL.first, ALL.last),
        summary=HOSTILE,
        description=HOSTILE,
        status=st.sampled_from(["CONFIRMED", "TENTATIVE"]),
        last=last,
        what=what,
        every=every,
    )
    return found.map(lambda event: event if event.last else event._replace(every=None))


VISIT_EVENTS = events(st.none(), st.just(""), st.none())
PLANS = st.lists(VISIT_EVENTS, max_size=4, unique_by=lambda visit: (visit.farm, visit.day))
LAST_DAYS = st.none() | st.dates(date(2026, 7, 1), date(2026, 7, 9))
DIARY_EVENTS = events(LAST_DAYS, HOSTILE, st.none() | st.integers(1, 60))


@given(st.lists(DIARY_EVENTS, max_size=4, unique_by=lambda event: event.key))
def test_a_diary_written_again_is_the_same_whatever_its_events_are_named(
    plan: list[Appointment],
) -> None:
    """DTEND is the day after the last (RFC 5545, 3.6.1); one event each, none that is a visit's."""
    data = calendar(plan, span=ALL, now=NOW, before=None, sort=DIARY).data
    again = calendar(plan, span=ALL, now=LATER, before=data, sort=DIARY)
    assert (again.data, again.counted) == (data, Counted(0, 0, 0, len(plan)))
    events = read(data)
    assert set(events) == {uid_of(each.key, DIARY) for each in plan}
    assert not set(events) & {visit_uid(each.farm, each.day) for each in plan}
    for each in plan:
        event = events[uid_of(each.key, DIARY)]
        last = each.day if each.every else each.last or each.day
        assert event.dtend.value - timedelta(days=1) == last
        assert ("rrule" in event.contents) is bool(each.every)


def test_what_comes_again_every_other_day_does_so_up_to_its_last_day() -> None:
    """RFC 5545, 3.3.10: UNTIL is a day where DTSTART is one, and the last that there may be."""
    look = SAND._replace(last=DAY + timedelta(days=5), what="look of Hill", every=2)
    data = calendar([look], span=ALL, now=NOW, before=None, sort=DIARY).data
    assert b"RRULE:FREQ=DAILY;UNTIL=20260414;INTERVAL=2\r\n" in data
    event = read(data)[uid_of(look.key, DIARY)]
    days = [at.date() for at in event.getrruleset()]
    assert days == [DAY, DAY + timedelta(days=2), DAY + timedelta(days=4)]
    assert event.dtend.value == DAY + timedelta(days=1)
    longer = look._replace(last=DAY + timedelta(days=9))
    after, counted = calendar([longer], span=ALL, now=LATER, before=data, sort=DIARY)
    assert (counted.changed, b"UNTIL=20260418" in after) == (1, True)
    off = calendar([], span=ALL, now=LATER, before=data, sort=DIARY)
    assert (off.counted.cancelled, b"UNTIL=20260414" in off.data) == (1, True)


@pytest.mark.parametrize(
    "wrong", [b"FREQ=WEEKLY;UNTIL=20260414;INTERVAL=2", b"FREQ=DAILY;INTERVAL=2",
              b"FREQ=DAILY;UNTIL=20260414T080000Z;INTERVAL=2", b"FREQ=DAILY;UNTIL=20260414",
              b"FREQ=DAILY;UNTIL=20260414;INTERVAL=0", b"FREQ=DAILY;UNTIL=20260414;INTERVAL=x",
              b"nothing"],
)  # fmt: skip
def test_what_comes_again_otherwise_is_none_of_ours(wrong: bytes) -> None:
    look = SAND._replace(last=DAY + timedelta(days=5), what="look of Hill", every=2)
    data = calendar([look], span=ALL, now=NOW, before=None, sort=DIARY).data
    hurt = data.replace(b"FREQ=DAILY;UNTIL=20260414;INTERVAL=2", wrong)
    with pytest.raises(NotOurs):
        calendar([look], span=ALL, now=NOW, before=hurt, sort=DIARY)


def test_an_event_that_ends_before_it_begins_is_none_of_ours() -> None:
    data = calendar([SAND], span=ALL, now=NOW, before=None, sort=DIARY).data
    hurt = data.replace(b"DTEND;VALUE=DATE:20260410", b"DTEND;VALUE=DATE:20260409")
    with pytest.raises(NotOurs, match="ends before it begins"):
        calendar([SAND], span=ALL, now=NOW, before=hurt, sort=DIARY)


def plain_lines(text: str) -> str:
    return "\n".join(map(plain, text.replace("\r\n", "\n").replace("\r", "\n").split("\n")))


@given(PLANS)
@example([Appointment("x\r\nEND:VEVENT", DAY, " , ", "\\N\n", "CONFIRMED")])
def test_hostile_text_comes_back_as_it_was_meant(plan: list[Appointment]) -> None:
    """RFC 5545, 3.1 and 3.3.11, over random text; and the same plan again gives the same bytes."""
    data = made(*plan).data
    assert max(map(len, data.split(b"\r\n"))) <= 75
    events = read(data)
    assert set(events) == {visit_uid(visit.farm, visit.day) for visit in plan}
    for visit in plan:
        event = events[visit_uid(visit.farm, visit.day)]
        assert event.summary.value == plain(visit.summary)
        assert event.getChildValue("location", "") == plain(visit.farm)
        assert event.getChildValue("description", "") == plain_lines(visit.description)
    assert made(*plan, before=data, now=LATER) == Written(data, Counted(0, 0, 0, len(plan)))


@given(PLANS, PLANS, PLANS)
def test_plans_that_follow_one_another(
    first: list[Appointment], second: list[Appointment], third: list[Appointment]
) -> None:
    """RFC 5545, 3.8.7.4: SEQUENCE never falls. Nothing that was ever shown is lost, what is planned
    shows as planned, all else as cancelled, and each writing again changes nothing."""
    data: bytes | None = None
    sequences: dict[str, int] = {}
    for number, plan in enumerate((first, second, third, second)):
        data, _ = made(*plan, before=data, now=NOW + timedelta(days=number))
        assert made(*plan, before=data, now=NOW + timedelta(days=9)).data == data
        events = read(data)
        planned = {visit_uid(visit.farm, visit.day) for visit in plan}
        assert set(events) == set(sequences) | planned
        for uid, event in events.items():
            assert (event.status.value == "CANCELLED") == (uid not in planned)
            assert int(event.sequence.value) >= sequences.get(uid, 0)
            sequences[uid] = int(event.sequence.value)


# ---- the same visit, next time ------------------------------------------------------------------


def test_a_visits_id_hangs_on_its_farm_and_day_alone() -> None:
    """RFC 5545, 3.8.4.7: the UID is globally unique and stays. These are fixed for ever: another
    value would double every visit in every calendar that holds it."""
    assert visit_uid("Low Sandwath", DAY) == "6db342ff-307e-5804-b3b4-79e874897bf2@readiness"
    assert visit_uid("", DAY) == "56ba4575-6dd1-5113-b7b9-510a3dc52a37@readiness"
    other = SAND._replace(summary="other", description="other", status="TENTATIVE")
    assert set(read(made(other).data)) == set(read(made(SAND, now=LATER).data))
    days = [DAY + timedelta(days=number) for number in range(100)]
    farms = ["", "Keld", "keld", "Keld ", "Low Sandwath"]
    assert len({visit_uid(farm, day) for farm in farms for day in days}) == 500


def test_the_same_plan_again_is_the_same_file() -> None:
    """RFC 5545, 3.8.7.2 to 3.8.7.4: no change, no new stamp."""
    data = made(SAND, KELD, NAMELESS).data
    again = made(NAMELESS, KELD, SAND, before=data, now=LATER)
    assert again == Written(data, Counted(new=0, changed=0, cancelled=0, same=3))


@pytest.mark.parametrize(
    "other",
    [
        SAND._replace(summary="Feet at Low Sandwath: 7 bulls"),
        SAND._replace(description="Gorse: LH"),
        SAND._replace(status="TENTATIVE"),
    ],
)
def test_a_change_moves_the_stamps_of_that_visit_only(other: Appointment) -> None:
    """RFC 5545, 3.8.7.4 (SEQUENCE goes up by one), 3.8.7.2 and 3.8.7.3; CREATED (3.8.7.1) stays."""
    before = made(SAND, KELD).data
    after, counted = made(other, KELD, before=before, now=LATER)
    assert counted == Counted(new=0, changed=1, cancelled=0, same=1)
    event = event_of(after, SAND)
    later = LATER.replace(microsecond=0)
    assert event.sequence.value == "1"
    assert event.dtstamp.value == event.last_modified.value == later
    assert event.created.value == NOW.replace(microsecond=0)
    assert block(after, KELD) == block(before, KELD)


def test_a_visit_off_the_plan_is_cancelled_once() -> None:
    """RFC 5545, 3.8.1.11: CANCELLED; 3.8.7.4: one more in SEQUENCE, and then no more."""
    first = made(SAND, KELD).data
    second, counted = made(KELD, before=first, now=LATER)
    assert counted == Counted(new=0, changed=0, cancelled=1, same=1)
    event = event_of(second, SAND)
    assert event.status.value == "CANCELLED"
    assert event.sequence.value == "1"
    assert event.dtstamp.value == event.last_modified.value == LATER.replace(microsecond=0)
    assert event.summary.value == "Cancelled: Feet at Low Sandwath: 6 bulls"
    assert event.description.value == SAND.description
    assert (event.dtstart.value, event.location.value) == (DAY, "Low Sandwath")
    third, counted = made(KELD, before=second, now=LATER + timedelta(days=1))
    assert (third, counted) == (second, Counted(new=0, changed=0, cancelled=0, same=1))


def test_a_visit_planned_again_comes_back() -> None:
    """RFC 5545, 3.8.7.4: with a higher SEQUENCE, else calendars would leave it cancelled."""
    off = made(before=made(SAND).data, now=LATER).data
    back, counted = made(SAND, before=off, now=LATER + timedelta(days=1))
    assert counted == Counted(new=0, changed=1, cancelled=0, same=0)
    event = event_of(back, SAND)
    assert event.status.value == "CONFIRMED"
    assert event.sequence.value == "2"
    assert event.summary.value == SAND.summary
    assert event.created.value == NOW.replace(microsecond=0)


def test_a_moved_visit_is_cancelled_and_new() -> None:
    moved = SAND._replace(day=DAY + timedelta(days=1))
    data, counted = made(moved, before=made(SAND).data, now=LATER)
    assert counted == Counted(new=1, changed=0, cancelled=1, same=0)
    assert event_of(data, SAND).status.value == "CANCELLED"
    assert event_of(data, moved).status.value == "CONFIRMED"


@pytest.mark.parametrize(
    ("span", "stays"),
    [
        (Span(DAY + timedelta(days=1), ALL.last, None), True),
        (Span(DAY, ALL.last, None), False),
        (Span(ALL.first, DAY - timedelta(days=1), None), True),
        (Span(ALL.first, DAY, None), False),
        (Span(ALL.first, ALL.last, frozenset({"Keld", ""})), True),
        (Span(ALL.first, ALL.last, frozenset({"Low Sandwath"})), False),
        (Span(ALL.first, ALL.last, frozenset()), True),
    ],
)
def test_what_the_plan_does_not_speak_of_stays(span: Span, stays: bool) -> None:
    """Earlier and later days and other farms: byte for byte."""
    before = made(SAND).data
    after, counted = made(before=before, now=LATER, span=span)
    assert (block(after, SAND) == block(before, SAND)) is stays
    assert counted.cancelled == (not stays)
    assert event_of(after, SAND).status.value == ("CONFIRMED" if stays else "CANCELLED")


def test_the_farm_without_a_name_can_be_what_the_plan_speaks_of() -> None:
    span = Span(ALL.first, ALL.last, frozenset({""}))
    after, counted = made(before=made(SAND, NAMELESS).data, now=LATER, span=span)
    assert counted.cancelled == 1
    assert event_of(after, NAMELESS).status.value == "CANCELLED"
    assert event_of(after, SAND).status.value == "CONFIRMED"


def test_bytes_outside_the_span_stay_however_they_are_folded() -> None:
    """RFC 5545, 3.1: where a line is folded says nothing, here as in an unchanged visit within."""
    before = made(SAND).data.replace(b"SUMMARY:Feet at", b"SUMMARY:Fe\r\n et at")
    outside = Span(DAY + timedelta(days=1), ALL.last, None)
    assert made(before=before, now=LATER, span=outside).data == before
    assert made(SAND, before=before, now=LATER) == Written(before, Counted(0, 0, 0, 1))


# ---- files that are not ours --------------------------------------------------------------------

OURS = made(SAND, KELD).data
TODO = b"BEGIN:VTODO\r\nUID:1\r\nDTSTAMP:20260401T073015Z\r\nSUMMARY:Milk\r\nEND:VTODO\r\n"
ALARM = b"BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT1H\r\nDESCRIPTION:x\r\nEND:VALARM\r\n"
UID = visit_uid(SAND.farm, SAND.day).encode()
SAND_BLOCK = block(OURS, SAND)


def swapped(old: bytes, new: bytes) -> bytes:
    assert old in OURS
    return OURS.replace(old, new, 1)


@pytest.mark.parametrize(
    ("before", "said"),
    [
        (b"", "no calendar"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "no calendar"),
        (b"Milk, bread\r\n", "no calendar"),
        (b"\xef\xbb\xbf" + OURS, "no calendar"),
        (OURS[:-1], "its end is missing"),
        (OURS[: len(OURS) // 2], "its end is missing"),
        (OURS + b"more", "its end is missing"),
        (OURS + b"X-MORE:1\r\nEND:VCALENDAR\r\n", "changed by something"),
        (OURS + OURS, "changed by something"),
        (OURS.replace(b"\r\n", b"\n"), "no calendar"),
        (swapped(b"Yarrow\r\n", b"Yarrow\n"), "CR LF"),
        (swapped(b"Yarrow", b"Yarrow\x00"), "CR LF"),
        (swapped(b"Yarrow", b"Yarrow\xe9"), "UTF-8"),
        (swapped(b"PRODID:-//readiness//return visits//EN", b"PRODID:-//Own//Diary\x1b[2J//EN"),
         r"something else \(-//Own//Diary\[2J//EN\)"),
        (swapped(b"PRODID:-//readiness//return visits//EN\r\n", b""), "does not say what"),
        (swapped(b"METHOD:PUBLISH", b"METHOD:REQUEST"), "changed by"),
        (swapped(b"METHOD:PUBLISH\r\n", b"METHOD:PUBLISH\r\nX-MINE:1\r\n"), "changed by"),
        (swapped(b"METHOD:PUBLISH\r\n", b"METHOD:PUBLISH\r\njunk\r\n"), "changed by"),
        (swapped(b"END:VCALENDAR", TODO + b"END:VCALENDAR"), "did not write: VTODO"),
        (swapped(b"BEGIN:VEVENT", TODO + b"BEGIN:VEVENT"), "did not write: VTODO"),
        (swapped(b"BEGIN:VEVENT", b"begin:vevent"), "did not write: vevent"),
        (swapped(UID, b"4088E990AD89CB3DBB484909"), "UID"),
        (swapped(UID, UID.upper()), "UID"),
        (swapped(UID, visit_uid("Keld", DAY).encode()), "UID"),
        (swapped(b"DTSTART;VALUE=DATE:20260409", b"DTSTART;VALUE=DATE:20260410"), "UID"),
        (swapped(b"DTSTART;VALUE=DATE:20260409", b"DTSTART:20260409T080000Z"), "did not write"),
        (swapped(b"DTSTART;VALUE=DATE:20260409", b"DTSTART;VALUE=DATE:2026040"), "cannot be read"),
        (swapped(b"X-READINESS-FARM:Low%20", b"X-READINESS-FARM:High%20"), "UID"),
        (swapped(b"X-READINESS-FARM:Low%20", b"X-READINESS-FARM:%FF"), "names no farm"),
        (swapped(b"STATUS:CONFIRMED\r\n", b"STATUS:CONFIRMED\r\nATTENDEE:mailto:a@b\r\n"),
         "did not write"),
        (swapped(b"STATUS:CONFIRMED\r\n", b""), "did not write"),
        (swapped(b"STATUS:CONFIRMED\r\n", b"STATUS:CONFIRMED\r\nSTATUS:CONFIRMED\r\n"),
         "did not write"),
        (swapped(b"SEQUENCE:0", b"SEQUENCE:-1"), "how often"),
        (swapped(b"SEQUENCE:0", b"SEQUENCE:x"), "cannot be read"),
        (swapped(b"DTSTAMP:20260401T073015Z", b"DTSTAMP:20260401T073015"), "when it was changed"),
        (swapped(b"CREATED:20260401T073015Z", b"CREATED:20260401"), "when it was"),
        (swapped(b"END:VEVENT", ALARM + b"END:VEVENT"), "did not write"),
        (swapped(b"END:VEVENT\r\n", b""), "did not write"),
        (swapped(SAND_BLOCK, SAND_BLOCK * 2), "twice"),
    ],
    ids=count(),
)  # fmt: skip
def test_a_file_that_is_not_ours_is_refused(before: bytes, said: str) -> None:
    with pytest.raises(NotOurs, match=said) as refused:
        made(SAND, before=before)
    assert refused.value.exit_code == 65
    assert plain(str(refused.value)) == str(refused.value)


def test_another_programs_event_is_refused() -> None:
    """The example event of RFC 5545, 3.6.1, in a calendar that calls itself ours and in another."""
    event = (
        b"BEGIN:VEVENT\r\nUID:19970901T130000Z-123402@example.com\r\nDTSTAMP:19970901T130000Z\r\n"
        b"DTSTART;VALUE=DATE:19971102\r\nSUMMARY:Our Blissful Anniversary\r\n"
        b"TRANSP:TRANSPARENT\r\nCLASS:CONFIDENTIAL\r\nCATEGORIES:ANNIVERSARY\r\nEND:VEVENT\r\n"
    )
    with pytest.raises(NotOurs, match="did not write"):
        made(before=swapped(b"END:VCALENDAR", event + b"END:VCALENDAR"))
    other = b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//hacksw/handcal//NONSGML v1.0//EN\r\n"
    with pytest.raises(NotOurs, match="handcal"):
        made(before=other + event + b"END:VCALENDAR\r\n")


@given(st.data())
def test_a_damaged_file_is_refused_or_read_never_a_fault(data: st.DataObject) -> None:
    """Bytes taken out, put in or changed anywhere: NotOurs, or a calendar that can be read."""
    start = data.draw(st.integers(0, len(OURS)))
    cut = data.draw(st.integers(0, 40))
    pieces = [b"", b"\r\n", b" ", b":", b";", b"=", b'"', b"BEGIN:VEVENT\r\n", b"END:VEVENT\r\n",
              b";X=\x00", b"\xff", b";VALUE=PERIOD", b";TZID=Nowhere", b"99999999"]  # fmt: skip
    new = data.draw(st.sampled_from(pieces) | st.binary(max_size=8))
    try:
        after = made(SAND, before=OURS[:start] + new + OURS[start + cut :], now=LATER).data
    except NotOurs:
        return
    assert event_of(after, SAND).summary.value == SAND.summary
