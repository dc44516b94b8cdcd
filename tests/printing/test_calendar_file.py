"""The calendar file, read back by two independent libraries."""

from __future__ import annotations

import warnings
from datetime import date, timedelta

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.printing.calendar_file import Event, calendar_bytes, sequence_of, uid_of

TODAY = date(2027, 2, 20)
BREW = Event("27A/amber/brew", date(2027, 3, 6), None, "27A: brew", "12 L; bring water, ice\nlid on", True)


def _written(*events: Event, today: date = TODAY) -> bytes:
    return calendar_bytes("27A Copper Lane", events, today, "en-GB")


def _read(data: bytes) -> list[icalendar.Component]:
    return list(icalendar.Calendar.from_ical(data).walk("VEVENT"))


def _vobject(data: bytes):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import vobject

        return vobject.readOne(data.decode())


def test_a_day_is_a_date_and_its_end_is_the_day_after():
    (event,) = _read(_written(BREW))
    assert event["dtstart"].to_ical() == b"20270306"
    assert event["dtstart"].params["VALUE"] == "DATE"
    assert event["dtend"].dt == date(2027, 3, 7)


def test_several_days_end_after_the_last():
    (event,) = _read(_written(Event("k", date(2027, 3, 6), date(2027, 3, 9), "s", "d", False)))
    assert event["dtend"].dt == date(2027, 3, 10)


def test_the_alarm_rings_at_six_in_the_evening_before():
    (event,) = _read(_written(BREW))
    (alarm,) = event.walk("VALARM")
    assert alarm["trigger"].dt == timedelta(hours=-6)
    assert b"TRIGGER:-PT6H\r\n" in _written(BREW)
    assert {"ACTION", "TRIGGER", "DESCRIPTION"} <= set(alarm)


def test_no_alarm_unless_asked_for():
    assert b"VALARM" not in _written(Event("k", date(2027, 3, 6), None, "s", "d", False))


def test_a_second_library_reads_and_accepts_it():
    calendar = _vobject(_written(BREW))
    assert calendar.validate(raiseException=True)
    assert calendar.vevent.summary.value == "27A: brew"
    assert calendar.vevent.description.value == "12 L; bring water, ice\nlid on"
    assert calendar.vevent.dtstart.value == date(2027, 3, 6)


def test_line_ends_and_folding():
    long = Event("k", date(2027, 3, 6), None, "Žluťoučký kůň 🍺 " * 20, "½ " * 200, True)
    data = _written(long)
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(len(line) for line in data.split(b"\r\n")) <= 75
    for line in data.split(b"\r\n"):
        line.decode()
    assert str(_read(data)[0]["summary"]) == " ".join(long.summary.split())


def test_the_same_key_is_the_same_event_whatever_else_changes():
    moved = Event(BREW.uid_key, date(2027, 3, 13), None, "27A: brew, moved", "", False)
    first, second = _read(_written(BREW))[0], _read(_written(moved, today=date(2027, 3, 1)))[0]
    assert first["uid"] == second["uid"] == uid_of("27A/amber/brew")
    assert second["sequence"] > first["sequence"]
    assert uid_of("27A/amber/brew") == "ec730ac0-76bb-5f4b-95dc-53dd63094400@sheetgen"


def test_importing_twice_makes_no_doubles():
    calendar: dict[str, tuple[int, str]] = {}
    for data in (_written(BREW), _written(BREW), _written(BREW, today=date(2027, 3, 1))):
        for event in _read(data):
            calendar[str(event["uid"])] = (event["sequence"], str(event["summary"]))
    assert list(calendar.values()) == [(sequence_of(date(2027, 3, 1)), "27A: brew")]


@pytest.mark.parametrize(
    ("today", "expected"), [(date(2020, 1, 1), 0), (date(2027, 2, 20), 2607), (date(2019, 5, 1), 0)]
)
def test_sequence_counts_days(today: date, expected: int):
    assert sequence_of(today) == expected


def test_the_stamp_comes_from_the_day_of_printing_alone():
    assert b"DTSTAMP:20270220T000000Z\r\n" in _written(BREW)
    assert _written(BREW) == _written(BREW)


@pytest.mark.parametrize("sign", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\u2028", "\ud800", "\t", "\x0b"])
def test_control_characters_leave_the_file_readable(sign: str):
    event = Event("k", date(2027, 3, 6), None, f"brew{sign}day", f"one{sign}two", True)
    data = _written(event)
    assert not set(data.decode()) & {
        chr(code) for code in (*range(10), 11, 12, *range(14, 32), 127, 133, 0x2028)
    }
    assert str(_read(data)[0]["summary"]) == "brew day"


def test_no_text_can_add_a_line_of_its_own():
    event = Event(
        "k", date(2027, 3, 6), None, "brew\r\nEND:VEVENT", "x\r\nATTACH:file:///etc/passwd\rY", False
    )
    data = _written(event)
    assert data.count(b"\r\nEND:VEVENT") == 1
    assert b"\r\nATTACH" not in data
    assert _vobject(data).vevent.description.value == "x\nATTACH:file:///etc/passwd\nY"


_TEXTS = st.text(
    st.characters(exclude_categories=["Cs", "Cc", "Cn"], exclude_characters="\u2028\u2029\ufffe"),
    max_size=200,
)


@settings(max_examples=60, deadline=None)
@given(_TEXTS, _TEXTS)
def test_any_text_comes_back_unchanged(summary: str, description: str):
    event = Event("k", date(2027, 3, 6), None, summary, description, True)
    data = _written(event)
    assert max(len(line) for line in data.split(b"\r\n")) <= 75
    (read,) = _read(data)
    assert str(read["summary"]) == " ".join(summary.split())
    assert str(read["description"]) == description.strip()
